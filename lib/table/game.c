/* Whole games: whose turn it is, what the rules allow, and how it ends. */
#include "base/memory.h"
#include "base/question.h"
#include "base/status.h"
#include "table/remembered_rests.h"
#include "table/table.h"
#include "tiles/table_sets.h"
#include "tiles/tiles.h"

#include <string.h>

struct player {
    nh_play *pass;
    void *pass_context;
    nh_game_play *play;
    void *play_context;
    nh_shown shown;
    nh_workspace *workspace; /* of what the player's sets leave of the list */
};

struct nh_game {
    nh_allocator allocator;
    const nh_list *list;
    nh_table *table;
    struct remembered_rests *rests;
    nh_listener *listener;
    void *listener_context;
    struct player player[NH_SEATS];
    nh_tiles hand[NH_SEATS]; /* concealed tiles */
    nh_tiles wall;
    unsigned turn;
    bool running;
};

void nh_game_free(nh_game *game) {
    if (game == NULL)
        return;
    nh_allocator allocator = game->allocator;
    nh_table_free(game->table);
    rests_free(game->rests);
    memory_release(&allocator, game);
}

nh_status nh_game_new(const nh_list *list, const nh_allocator *allocator, nh_game **game) {
    nh_allocator own = memory_default(allocator);
    nh_game *made = memory_new(&own, 1, sizeof *made);
    *game = made;
    if (made == NULL)
        return NH_ERROR_MEMORY;
    made->allocator = own;
    made->list = list;
    nh_status status = nh_table_new(list, &own, &made->table);
    if (status == NH_OK)
        status = rests_new(list, &own, &made->rests);
    if (status == NH_OK)
        return NH_OK;
    nh_game_free(made);
    *game = NULL;
    return status;
}

void nh_game_seat(nh_game *game, int seat, nh_play *pass, void *pass_context, nh_game_play *play,
                  void *play_context) {
    if (!is_seat(seat))
        return;
    struct player *player = &game->player[seat];
    player->pass = pass;
    player->pass_context = pass_context;
    player->play = play;
    player->play_context = play_context;
}

void nh_game_listen(nh_game *game, nh_listener *listener, void *context) {
    game->listener = listener;
    game->listener_context = context;
}

const nh_shown *nh_game_shown(const nh_game *game, int seat) {
    return is_seat(seat) ? &game->player[seat].shown : NULL;
}

static int seat_after(int seat, int places) {
    return (seat + places) % NH_SEATS;
}

static void tell(const nh_game *game, nh_event event) {
    if (game->listener == NULL)
        return;
    event.turn = game->turn;
    event.wall = (unsigned)nh_tiles_total(&game->wall);
    event.hands = game->hand;
    game->listener(game->listener_context, &event);
}

/* ------------------------------------------------------ the Charleston --- */

static void tell_step(const nh_game *game, nh_step step) {
    nh_tiles gives[NH_SEATS];
    bool agrees[NH_SEATS];
    nh_event event = {.step = step, .gives = gives, .agrees = agrees};
    for (int seat = 0; seat < NH_SEATS; seat++) {
        gives[seat] = table_gave(game->table, seat);
        agrees[seat] = nh_table_move(game->table, seat)->agree;
    }
    event.type = step.stage == NH_STAGE_VOTE   ? NH_EVENT_VOTE
                 : step.stage == NH_STAGE_PASS ? NH_EVENT_PASS
                                               : NH_EVENT_COURTESY;
    if (step.stage != NH_STAGE_COURTESY) /* how many each wants is no event */
        tell(game, event);
}

static nh_status play_charleston(nh_game *game, nh_error *error) {
    nh_step step;
    while ((step = nh_table_step(game->table)).stage != NH_STAGE_OVER) {
        nh_status status = nh_table_play(game->table, error);
        if (status != NH_OK)
            return status;
        for (int seat = 0; seat < NH_SEATS; seat++)
            game->hand[seat] = nh_table_view(game->table, seat)->hand;
        tell_step(game, step);
    }
    return NH_OK;
}

/* ---------------------------------------------------- what players know --- */

static void add_set_tiles(const struct player *player, nh_tiles *tiles) {
    for (unsigned i = 0; i < player->shown.set_count; i++) {
        nh_tiles set;
        nh_set_tiles(&player->shown.sets[i], &set);
        *tiles = tiles_with(tiles, &set);
    }
}

/* What is certainly gone for a player who has these concealed tiles. A tile that was
 * passed may be one of those that all can see by now, so the larger number of the two is
 * certain. */
static nh_tiles gone_for(const nh_game *game, int seat, nh_tiles own) {
    nh_tiles seen = {{0}};
    for (int other = 0; other < NH_SEATS; other++) {
        seen = tiles_with(&seen, &game->player[other].shown.discards);
        add_set_tiles(&game->player[other], other == seat ? &own : &seen);
    }
    nh_tiles passed =
        nh_charleston_gone(nh_list_set(game->list), &own, table_passed(game->table, seat));
    for (int kind = 0; kind < NH_KINDS; kind++)
        if (passed.count[kind] > seen.count[kind])
            seen.count[kind] = passed.count[kind];
    return seen;
}

/* What a player knows: in turn, with `tile` drawn, or where a discard is offered. */
static nh_game_view view_of(const nh_game *game, int seat, bool in_turn, uint8_t tile) {
    nh_tiles own = game->hand[seat];
    nh_game_view view = {.game = game,
                         .workspace = game->player[seat].workspace,
                         .seat = seat,
                         .in_turn = in_turn,
                         .tile = tile,
                         .turn = game->turn,
                         .wall = (unsigned)nh_tiles_total(&game->wall),
                         .hand = game->hand[seat],
                         .situation = NH_SITUATION};
    if (!in_turn)
        own.count[tile]++; /* it may be one that the player passed */
    view.situation.seen = gone_for(game, seat, own);
    view.situation.prevailing = nh_table_dealt(game->table)->prevailing;
    view.situation.seat = nh_seat_wind(seat);
    return view;
}

nh_status nh_game_with_set(const nh_game_view *view, const nh_set *set, nh_workspace **workspace,
                           nh_error *error) {
    const nh_game *game = view->game;
    const nh_shown *shown = &game->player[view->seat].shown;
    if (shown->set_count == NH_SETS_MAX)
        return error_set(error, NH_ERROR_ARGUMENT, 0, "there are %d sets on the table already",
                         NH_SETS_MAX);
    nh_set sets[NH_SETS_MAX];
    memcpy(sets, shown->sets, sizeof sets);
    sets[shown->set_count] = *set;
    return rests_find(game->rests, sets, shown->set_count + 1u, workspace, error);
}

static nh_status read_move(nh_game_move *move, const nh_game_move *given, nh_error *error) {
    return question_read(move, sizeof *move, given, SIZE_PAST(nh_game_move, set), "NH_GAME_MOVE",
                         error);
}

static nh_status ask_player(const nh_game *game, const nh_game_view *view, nh_game_move *move,
                            nh_error *error) {
    const struct player *player = &game->player[view->seat];
    nh_game_move given = NH_GAME_MOVE;
    nh_status status = player->play(player->play_context, view, &given, error);
    return status == NH_OK ? read_move(move, &given, error) : status;
}

static nh_status refuse_move(const nh_game *game, int seat, nh_error *error, const char *why) {
    return error_set(error, NH_ERROR_ARGUMENT, 0, "turn %u: %s, who %s", game->turn,
                     nh_wind_name(nh_seat_wind(seat)), why);
}

/* ------------------------------------------------------------- winning --- */

/* The most points that a player's concealed tiles give. */
static nh_status check_win(const nh_game *game, const nh_game_view *view, const nh_tiles *hand,
                           nh_completed *won, nh_error *error) {
    nh_check_question question = NH_CHECK_QUESTION;
    nh_checking checking;
    question.situation = &view->situation;
    nh_status status = nh_check(view->workspace, hand, &question, won, 1, &checking, error);
    if (status == NH_OK && checking.completed == 0)
        return refuse_move(game, view->seat, error, "calls a win, has no complete hand");
    return status;
}

static void end_with_win(const nh_game *game, int seat, int from, uint8_t kind,
                         const nh_completed *won, nh_game_end *end) {
    *end = (nh_game_end){.won = true,
                         .seat = seat,
                         .from = from,
                         .turns = game->turn,
                         .wall = (unsigned)nh_tiles_total(&game->wall),
                         .pattern = *won};
    tell(game, (nh_event){.type = NH_EVENT_WIN,
                          .seat = seat,
                          .from = from,
                          .kind = kind,
                          .claimed = from != seat,
                          .shown = &game->player[seat].shown,
                          .won = won});
}

/* ------------------------------------------------------------- one turn --- */

static nh_status find_workspace(nh_game *game, int seat, nh_error *error) {
    struct player *player = &game->player[seat];
    return rests_find_for(game->rests, seat, player->shown.sets, player->shown.set_count,
                          &player->workspace, error);
}

/* A joker of a set on the table is taken for the tile that it stands for. */
static nh_status exchange(nh_game *game, int seat, const nh_game_move *move, nh_error *error) {
    if (!nh_list_play(game->list)->exchange || move->from >= NH_SEATS ||
        move->index >= game->player[move->from].shown.set_count)
        return refuse_move(game, seat, error, "takes a joker, may not");
    nh_set *set = &game->player[move->from].shown.sets[move->index];
    if (set->jokers == 0 || set->kind != move->kind || game->hand[seat].count[move->kind] == 0)
        return refuse_move(game, seat, error, "takes a joker, does not have the tile for it");
    game->hand[seat].count[move->kind]--;
    game->hand[seat].count[NH_JOKER]++;
    set->jokers--;
    tell(game, (nh_event){.type = NH_EVENT_EXCHANGE,
                          .seat = seat,
                          .kind = move->kind,
                          .from = move->from,
                          .set = *set});
    return find_workspace(game, move->from, error);
}

/* Asks the player in turn until a tile is discarded or the game won. */
static nh_status run_turn(nh_game *game, int seat, uint8_t drawn, uint8_t *discard,
                          nh_game_end *end, nh_error *error) {
    bool may_win = drawn != NH_KINDS || game->turn == 1;
    for (;;) {
        nh_game_view view = view_of(game, seat, true, drawn);
        nh_game_move move;
        view.may_win = may_win;
        nh_status status = ask_player(game, &view, &move, error);
        if (status != NH_OK)
            return status;
        if (move.act == NH_ACT_EXCHANGE) {
            status = exchange(game, seat, &move, error);
            may_win = true;
            if (status != NH_OK)
                return status;
        } else if (move.act == NH_ACT_WIN && may_win) {
            nh_completed won;
            status = check_win(game, &view, &view.hand, &won, error);
            if (status == NH_OK)
                end_with_win(game, seat, seat, drawn, &won, end);
            return status;
        } else if (move.act == NH_ACT_DISCARD && move.kind < NH_KINDS &&
                   view.hand.count[move.kind] > 0) {
            *discard = move.kind;
            game->hand[seat].count[move.kind]--;
            tell(game, (nh_event){.type = NH_EVENT_DISCARD, .seat = seat, .kind = move.kind});
            return NH_OK;
        } else {
            return refuse_move(game, seat, error, "discards, does not have the tile");
        }
    }
}

/* -------------------------------------------------------------- claims --- */

static bool may_claim(const nh_game *game, const nh_set *set, int seat, int from) {
    const nh_play_rules *rules = nh_list_play(game->list);
    return rules_allow(rules, set->shape) && (set->shape != NH_CHOW || rules->chow_from_any ||
                                              from == nh_seat_sender(seat, NH_RIGHT));
}

/* A set takes two tiles of the hand at least: with as many sets as there can be none are left. */
_Static_assert(NH_HAND_MAX <= NH_SETS_MAX * NH_PUNG, "a hand has no more sets than there can be");

/* The tiles of the hand that go into a set with the discard; false for a set that is not
 * one, or not with that tile. */
static bool tiles_for_set(const nh_set *set, uint8_t tile, nh_tiles *tiles) {
    if (check_set(set, NULL) != NH_OK)
        return false;
    nh_set_tiles(set, tiles);
    if (tiles->count[tile] == 0)
        return false;
    tiles->count[tile]--;
    return true;
}

static nh_status check_claim(const nh_game *game, const nh_game_view *view, const nh_set *set,
                             nh_error *error) {
    nh_tiles tiles;
    if (!may_claim(game, set, view->seat, view->from))
        return refuse_move(game, view->seat, error, "claims a set, may not claim such a one");
    if (!tiles_for_set(set, view->tile, &tiles))
        return refuse_move(game, view->seat, error, "claims a set, names none with the discard");
    for (int kind = 0; kind < NH_KINDS; kind++)
        if (tiles.count[kind] > view->hand.count[kind])
            return refuse_move(game, view->seat, error, "claims a set, does not have its tiles");
    return NH_OK;
}

/* What becomes of a discard. */
struct offer {
    int winner, claimer; /* -1: nobody */
    nh_completed won;
    nh_set set;
};

static nh_status offer_to(const nh_game *game, int seat, int from, uint8_t tile,
                          struct offer *offer, nh_error *error) {
    nh_game_view view = view_of(game, seat, false, tile);
    nh_game_move move;
    view.from = from;
    nh_status status = ask_player(game, &view, &move, error);
    if (status != NH_OK || move.act == NH_ACT_NONE)
        return status;
    if (move.act == NH_ACT_WIN) {
        nh_tiles hand = view.hand;
        hand.count[tile]++;
        status = check_win(game, &view, &hand, &offer->won, error);
        offer->winner = seat;
    } else if (move.act == NH_ACT_CLAIM) {
        status = check_claim(game, &view, &move.set, error);
        if (status == NH_OK && offer->claimer < 0) {
            offer->claimer = seat;
            offer->set = move.set;
        }
    } else {
        return refuse_move(game, seat, error, "is not in turn, does what only that one may");
    }
    return status;
}

/* The nearest in turn come first, and a win before every set. */
static nh_status offer_discard(const nh_game *game, int from, uint8_t tile, struct offer *offer,
                               nh_error *error) {
    *offer = (struct offer){.winner = -1, .claimer = -1};
    if (tile == NH_JOKER)
        return NH_OK;
    for (int places = 1; places < NH_SEATS && offer->winner < 0; places++) {
        nh_status status = offer_to(game, seat_after(from, places), from, tile, offer, error);
        if (status != NH_OK)
            return status;
    }
    return NH_OK;
}

static nh_status lay_set(nh_game *game, const struct offer *offer, int from, uint8_t tile,
                         nh_error *error) {
    struct player *player = &game->player[offer->claimer];
    nh_tiles tiles = {{0}};
    tiles_for_set(&offer->set, tile, &tiles);
    game->hand[offer->claimer] = tiles_without(&game->hand[offer->claimer], &tiles);
    player->shown.sets[player->shown.set_count++] = offer->set;
    tell(game, (nh_event){.type = NH_EVENT_CLAIM,
                          .seat = offer->claimer,
                          .from = from,
                          .kind = tile,
                          .set = offer->set});
    return find_workspace(game, offer->claimer, error);
}

/* ---------------------------------------------------------------- play --- */

/* False where the wall is used up, and the game with it. */
static bool draw_from_wall(nh_game *game, int seat, bool kong, uint8_t *drawn, nh_game_end *end) {
    nh_tiles one = {{0}};
    if (nh_tiles_total(&game->wall) == 0) {
        game->turn -= !kong; /* this one does not begin */
        *end = (nh_game_end){.turns = game->turn};
        tell(game, (nh_event){.type = NH_EVENT_WALL});
        return false;
    }
    nh_deal_draw(table_random(game->table), &game->wall, 1, &one);
    for (*drawn = 0; one.count[*drawn] == 0;)
        (*drawn)++;
    game->hand[seat] = tiles_with(&game->hand[seat], &one);
    tell(game, (nh_event){.type = NH_EVENT_DRAW, .seat = seat, .kind = *drawn, .kong = kong});
    return true;
}

static bool needs_tile(const nh_game *game, int seat) {
    const nh_list *rest = nh_workspace_list(game->player[seat].workspace);
    return nh_tiles_total(&game->hand[seat]) < nh_list_hand_size(rest);
}

/* From the dealer's first discard to the end, which `*ended` says has come. */
static nh_status play_turns(nh_game *game, nh_game_end *end, nh_error *error) {
    int seat = 0;
    bool claimed = false;
    for (;;) {
        uint8_t drawn = NH_KINDS, discard = NH_KINDS;
        struct offer offer;
        if (needs_tile(game, seat) && !draw_from_wall(game, seat, claimed, &drawn, end))
            return NH_OK;
        nh_status status = run_turn(game, seat, drawn, &discard, end, error);
        if (status != NH_OK || discard == NH_KINDS)
            return status;
        status = offer_discard(game, seat, discard, &offer, error);
        if (status != NH_OK)
            return status;
        if (offer.winner >= 0) {
            game->hand[offer.winner].count[discard]++;
            end_with_win(game, offer.winner, seat, discard, &offer.won, end);
            return NH_OK;
        }
        game->turn++;
        claimed = offer.claimer >= 0;
        if (!claimed) {
            game->player[seat].shown.discards.count[discard]++;
            seat = seat_after(seat, 1);
            continue;
        }
        status = lay_set(game, &offer, seat, discard, error);
        if (status != NH_OK)
            return status;
        seat = offer.claimer;
    }
}

static nh_status begin_game(nh_game *game, uint64_t seed, uint64_t number, nh_error *error) {
    for (int seat = 0; seat < NH_SEATS; seat++) {
        struct player *player = &game->player[seat];
        if (player->pass == NULL || player->play == NULL)
            return error_set(error, NH_ERROR_ARGUMENT, 0, "nobody plays %s",
                             nh_wind_name(nh_seat_wind(seat)));
        nh_table_seat(game->table, seat, player->pass, player->pass_context);
        player->shown = (nh_shown){.set_count = 0};
    }
    nh_status status = nh_table_deal(game->table, seed, number, error);
    for (int seat = 0; seat < NH_SEATS && status == NH_OK; seat++)
        status = find_workspace(game, seat, error);
    return status;
}

static nh_status run(nh_game *game, uint64_t seed, uint64_t number, nh_game_end *end,
                     nh_error *error) {
    nh_status status = begin_game(game, seed, number, error);
    if (status != NH_OK)
        return status;
    const nh_deal *deal = nh_table_dealt(game->table);
    game->turn = 0;
    game->wall = deal->wall;
    memcpy(game->hand, deal->hand, sizeof game->hand);
    tell(game, (nh_event){.type = NH_EVENT_DEAL, .deal = deal});
    status = play_charleston(game, error);
    if (status != NH_OK)
        return status;
    game->turn = 1;
    tell(game, (nh_event){.type = NH_EVENT_PLAY});
    return play_turns(game, end, error);
}

nh_status nh_game_run(nh_game *game, uint64_t seed, uint64_t number, nh_game_end *end,
                      size_t end_size, nh_error *error) {
    nh_game_end full = {0};
    if (game->running)
        return error_set(error, NH_ERROR_ARGUMENT, 0,
                         "this game is being played: a player cannot start it again");
    game->running = true;
    nh_status status = run(game, seed, number, &full, error);
    game->running = false;
    if (status == NH_OK)
        answer_write(end, end_size, &full, sizeof full);
    return status;
}
