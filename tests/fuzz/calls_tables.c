/* Tables, games and who plays them. See calls.h. */
#include "calls.h"

#include <string.h>

/* -------------------------------------------------------------- tables --- */

static nh_move any_move(struct world *world, const nh_view *view) {
    nh_move move = NH_MOVE;
    if (one_in(world, 16))
        move.size = (size_t)decide(world->decisions, (int)sizeof move + 1);
    nh_tiles passable = nh_charleston_passable(nh_list_charleston(view->list), &view->hand);
    if (view->step.blind)
        move.blind = (uint8_t)decide(world->decisions, view->count + 2);
    move.tiles = any_tiles(world, &passable, view->count - move.blind);
    move.count = (uint8_t)decide(world->decisions, view->count + 2);
    move.agree = one_in(world, 2);
    return move;
}

/* Plays at random, fails now and then, and asks the table for more while it is asked. */
static nh_status play_any(void *context, const nh_view *view, nh_move *move, nh_error *error) {
    struct world *world = context;
    *move = any_move(world, view);
    if (one_in(world, 8) && world->table != NULL) {
        nh_error inner;
        nh_status status = one_in(world, 2) ? nh_table_play(world->table, &inner)
                                            : nh_table_deal(world->table, 1, 1, &inner);
        MUST(status == NH_ERROR_ARGUMENT);
    }
    if (!one_in(world, 32))
        return NH_OK;
    if (error != NULL)
        *error = (nh_error){NH_ERROR_LIMIT, 0, "the player gives up"};
    return NH_ERROR_LIMIT;
}

/* All tiles of the set are somewhere, and nobody has more than they were dealt. */
static void table_holds(const nh_table *table, const nh_list *list) {
    nh_tiles all = *nh_table_wall(table);
    if (nh_tiles_total(&all) == 0 && nh_tiles_total(&nh_table_dealt(table)->hand[0]) == 0)
        return; /* nothing was dealt */
    for (int seat = 0; seat < NH_SEATS; seat++) {
        const nh_view *view = nh_table_view(table, seat);
        MUST(nh_tiles_add(&all, &view->hand));
        MUST(nh_tiles_total(&view->hand) == nh_tiles_total(&nh_table_dealt(table)->hand[seat]));
        MUST(view->step.stage == nh_table_step(table).stage);
    }
    MUST(nh_tiles_equal(&all, nh_list_set(list)));
}

static void make_table(struct world *world) {
    int list = pick_list(world);
    if (list == NOTHING || world->table != NULL)
        return;
    error_of(world);
    world->error_given = false;
    nh_status status = nh_table_new(world->lists[list], &world->allocator, &world->table);
    returned(world, status, MAY(NH_OK) | MAY(NH_ERROR_MEMORY));
    MUST((world->table != NULL) == (status == NH_OK));
    world->table_list = list;
}

/* Deals, now and then one of the caller's that is not right. */
static void deal(struct world *world) {
    const nh_list *list = world->lists[world->table_list];
    uint64_t seed = (uint64_t)decide(world->decisions, 256);
    if (!one_in(world, 4)) {
        returned(world, nh_table_deal(world->table, seed, 0, error_of(world)),
                 MAY(NH_OK) | MAY(NH_ERROR_ARGUMENT));
        return;
    }
    nh_deal given = {.prevailing = (nh_wind)any_int(world, 0, NH_WIND_NORTH)};
    nh_random random;
    memset(&random, decide(world->decisions, 256), sizeof random);
    if (one_in(world, 2))
        nh_random_start(&random, seed, seed);
    given.wall = *nh_list_set(list);
    for (int seat = 0; seat < NH_SEATS; seat++)
        nh_deal_draw(&random, &given.wall, any_int(world, 0, nh_list_hand_size(list)),
                     &given.hand[seat]);
    if (one_in(world, 4))
        given.wall = any_tiles(world, nh_list_set(list), 9);
    returned(world, nh_table_start(world->table, &given, &random, error_of(world)), MAY_REFUSE);
}

static void answer(struct world *world) {
    int seat = any_int(world, 0, NH_SEATS - 1);
    bool there = seat >= 0 && seat < NH_SEATS;
    const nh_view *view = nh_table_view(world->table, seat);
    MUST((view != NULL) == there && (nh_table_move(world->table, seat) != NULL) == there);
    nh_move move = any_move(world, nh_table_view(world->table, there ? seat : 0));
    nh_status status = nh_table_answer(world->table, seat, &move, error_of(world));
    returned(world, status, MAY_REFUSE);
    MUST(there || status == NH_ERROR_ARGUMENT);
}

/* Somebody in a seat: nobody, random moves, or the exact player, of whatever list. */
static void sit_down(struct world *world) {
    int seat = any_int(world, 0, NH_SEATS - 1), who = decide(world->decisions, 3);
    if (who == 0)
        nh_table_seat(world->table, seat, NULL, NULL);
    else if (who == 1)
        nh_table_seat(world->table, seat, play_any, world);
    else if (world->exact != NULL)
        nh_table_seat(world->table, seat, nh_exact_play, world->exact);
}

static void play_step(struct world *world) {
    nh_status status = nh_table_play(world->table, error_of(world));
    returned(world, status, MAY_REFUSE | MAY(NH_ERROR_LIMIT));
}

static void make_exact(struct world *world) {
    int workspace = pick_workspace(world);
    if (workspace == NOTHING || world->exact != NULL)
        return;
    error_of(world);
    world->error_given = false;
    nh_status status =
        nh_exact_player_new(world->workspaces[workspace], &world->allocator, &world->exact);
    returned(world, status, MAY(NH_OK) | MAY(NH_ERROR_MEMORY));
    world->exact_workspace = workspace;
}

void call_tables(struct world *world) {
    int call = decide(world->decisions, 8);
    if (call == 0)
        make_exact(world);
    if (call == 0 || world->table == NULL)
        make_table(world);
    if (world->table == NULL)
        return;
    if (call == 1)
        deal(world);
    else if (call == 2)
        answer(world);
    else if (call == 3)
        sit_down(world);
    else if (call > 3)
        play_step(world);
    table_holds(world->table, world->lists[world->table_list]);
}
