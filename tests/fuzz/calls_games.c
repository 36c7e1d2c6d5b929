/* Whole games, of players who follow a way and of others who do anything. See calls.h. */
#include "calls.h"

#include <string.h>

enum { ASKED_MOST = 200 }; /* in a game, after which a player gives up */

/* One player who does anything; every seat has it or one that follows a way. */
static struct {
    struct world *world;
    int asked;
} wild;

/* ------------------------------------------------------------- players --- */

static void run_again(struct world *world) {
    nh_game_end end;
    nh_error error;
    MUST(nh_game_run(world->game, 1, 1, &end, sizeof end, &error) == NH_ERROR_ARGUMENT);
}

static nh_status pass_wildly(void *context, const nh_view *view, nh_move *move, nh_error *error) {
    struct world *world = context;
    (void)error;
    nh_tiles passable = nh_charleston_passable(nh_list_charleston(view->list), &view->hand);
    nh_random random;
    nh_random_start(&random, (uint64_t)view->seat, view->step.pass);
    if (view->step.stage == NH_STAGE_PASS || view->step.stage == NH_STAGE_EXCHANGE)
        nh_deal_draw(&random, &passable, view->count, &move->tiles);
    move->agree = one_in(world, 2);
    if (one_in(world, 64))
        move->tiles.count[decide(world->decisions, NH_KINDS)]++;
    if (one_in(world, 64))
        run_again(world);
    return NH_OK;
}

static int kind_of(struct world *world, const nh_tiles *hand) {
    int kind = decide(world->decisions, NH_KINDS);
    while (hand->count[kind] == 0)
        kind = (kind + 1) % NH_KINDS;
    return kind;
}

/* What is left of the list with one more set, for a thought. */
static void think(struct world *world, const nh_game_view *view, const nh_set *set) {
    nh_workspace *workspace = NULL;
    nh_error error;
    nh_status status = nh_game_with_set(view, set, &workspace, &error);
    MUST(status == NH_OK || status == NH_ERROR_ARGUMENT || status == NH_ERROR_TILES ||
         status == NH_ERROR_LIMIT ||
         (status == NH_ERROR_MEMORY && atomic_load(&world->counted.failed)));
    MUST((workspace != NULL) == (status == NH_OK));
}

static nh_status play_wildly(void *context, const nh_game_view *view, nh_game_move *move,
                             nh_error *error) {
    struct world *world = context;
    nh_set set = any_set(world);
    if (++wild.asked > ASKED_MOST || one_in(world, 128)) {
        if (error != NULL)
            *error = (nh_error){NH_ERROR_CANCELLED, 0, "the player leaves"};
        world->cancelled = true;
        return NH_ERROR_CANCELLED;
    }
    if (one_in(world, 16))
        think(world, view, &set);
    if (!one_in(world, 16)) { /* what the rules allow */
        move->act = view->in_turn ? NH_ACT_DISCARD : NH_ACT_NONE;
        if (view->in_turn)
            move->kind = (uint8_t)kind_of(world, &view->hand);
        else if (view->tile < NH_JOKER && view->hand.count[view->tile] >= 2) {
            move->act = NH_ACT_CLAIM;
            move->set = (nh_set){NH_PUNG, view->tile, 3, 0};
        }
        return NH_OK;
    }
    move->size = any_size(world, sizeof *move);
    move->size = move->size > sizeof *move ? 0 : move->size;
    move->act = (nh_act)any_int(world, NH_ACT_NONE, NH_ACT_EXCHANGE);
    move->kind = (uint8_t)any_int(world, 0, NH_KINDS - 1);
    move->from = (uint8_t)any_int(world, 0, NH_SEATS - 1);
    move->index = (uint8_t)any_int(world, 0, 1);
    move->set = set;
    return NH_OK;
}

/* ------------------------------------------------------------- listener --- */

/* Nobody has tiles that the set does not hold. */
static void listen(void *context, const nh_event *event) {
    const struct world *world = context;
    const nh_list *list = world->lists[world->game_list];
    nh_tiles all = {{0}};
    if (event->type == NH_EVENT_DEAL || event->type == NH_EVENT_PASS)
        return;
    for (int seat = 0; seat < NH_SEATS; seat++) {
        const nh_shown *shown = nh_game_shown(world->game, seat);
        MUST(shown->set_count <= NH_SETS_MAX && nh_tiles_add(&all, &event->hands[seat]));
        MUST(nh_tiles_add(&all, &shown->discards));
        for (int i = 0; i < shown->set_count; i++) {
            nh_tiles tiles;
            nh_set_tiles(&shown->sets[i], &tiles);
            MUST(nh_tiles_add(&all, &tiles));
        }
    }
    nh_tiles set = *nh_list_set(list);
    if (event->type != NH_EVENT_WIN) /* whose tile is in the hand and called by name too */
        MUST(nh_tiles_take(&set, &all));
}

/* --------------------------------------------------------------- games --- */

static void make_game(struct world *world) {
    int list = pick_list(world);
    if (list == NOTHING || world->game != NULL)
        return;
    error_of(world);
    world->error_given = false;
    nh_status status = nh_game_new(world->lists[list], &world->allocator, &world->game);
    returned(world, status, MAY(NH_OK) | MAY(NH_ERROR_MEMORY));
    MUST((world->game != NULL) == (status == NH_OK));
    world->game_list = list;
}

static void make_way(struct world *world) {
    int workspace = pick_workspace(world);
    if (workspace == NOTHING || world->way != NULL)
        return;
    nh_way way = NH_WAY;
    way.pass = (nh_way_pass)any_int(world, NH_PASS_BEST, NH_PASS_SPARE);
    way.claim = (nh_way_claim)any_int(world, NH_CLAIM_WORTH, NH_CLAIM_NEVER);
    way.discard = (nh_discard_order)any_int(world, NH_DISCARD_AWAY, NH_DISCARD_WORTH);
    way.look = any_int(world, 1, 2);
    if (one_in(world, 16))
        way.size = (size_t)decide(world->decisions, (int)sizeof way + 1);
    nh_status status = nh_way_player_new(world->workspaces[workspace], &way, &world->allocator,
                                         &world->way, error_of(world));
    returned(world, status, MAY(NH_OK) | MAY(NH_ERROR_ARGUMENT) | MAY(NH_ERROR_MEMORY));
    MUST((world->way != NULL) == (status == NH_OK));
    world->way_workspace = workspace;
}

static void sit_down(struct world *world) {
    int seat = any_int(world, 0, NH_SEATS - 1);
    if (world->way != NULL && one_in(world, 4))
        nh_way_player_seat(world->way, world->game, seat);
    else if (one_in(world, 16))
        nh_game_seat(world->game, seat, NULL, NULL, NULL, NULL);
    else
        nh_game_seat(world->game, seat, pass_wildly, world, play_wildly, world);
}

static void take_all_seats(struct world *world) {
    for (int seat = 0; seat < NH_SEATS; seat++) {
        if (world->way != NULL && one_in(world, 8))
            nh_way_player_seat(world->way, world->game, seat);
        else
            nh_game_seat(world->game, seat, pass_wildly, world, play_wildly, world);
    }
}

static void run(struct world *world) {
    nh_game_end *end;
    size_t size = any_size(world, sizeof *end);
    end = room_for(1, size);
    wild.world = world;
    wild.asked = 0;
    if (!one_in(world, 8))
        take_all_seats(world);
    nh_game_listen(world->game, one_in(world, 2) ? listen : NULL, world);
    nh_status status = nh_game_run(world->game, (uint64_t)decide(world->decisions, 256), 0, end,
                                   size, error_of(world));
    returned(world, status,
             MAY_REFUSE | MAY(NH_ERROR_MEMORY) | MAY(NH_ERROR_LIMIT) | MAY(NH_ERROR_CANCELLED));
    if (status == NH_OK && size >= sizeof *end)
        MUST(!end->won || (end->seat >= 0 && end->seat < NH_SEATS && end->wall < 160));
    free(end);
}

void call_games(struct world *world) {
    int call = decide(world->decisions, 6);
    if (world->game == NULL)
        make_game(world);
    if (world->game == NULL)
        return;
    if (call == 0)
        make_way(world);
    else if (call < 3)
        sit_down(world);
    else
        run(world);
}
