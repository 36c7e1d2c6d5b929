/* A player who follows a way, asked with views that are made for it: what it passes, claims,
 * takes and discards. Claims and exchanges are worked out plainly beside it. NEARHAND_SEED
 * chooses the hands, NEARHAND_TRIES how many. */
#define _POSIX_C_SOURCE 200809L
#include "../lib/table/way_player.h"
#include "api.h"
#include "random_list.h"
#include "sharing.h"

enum { SEED = 4711, HANDS = 6000 };

#define DOORS(claims)                                                                              \
    "{'format': 1, 'title': 'Doors', 'hand': 8, 'tiles': {'jokers': 4}, 'charleston': {'rounds': " \
    "[['right', 'left'], ['across']], 'courtesy': 3},"                                             \
    " 'play': {'claims': [" claims "}, 'patterns': ["                                              \
    "{'name': 'Hatch', 'points': 20, 'concealed': true,"                                           \
    " 'groups': [{'pung': 'any'}, {'pung': 'any'}, {'pair': 'any'}]},"                             \
    "{'name': 'Bulkhead', 'points': 10,"                                                           \
    " 'groups': [{'pung': 'n', 'suit': 'x'}, {'pung': 'n', 'suit': 'y'}, {'pair': 'dragon'}]},"    \
    "{'name': 'Kong', 'groups': [{'kong': 'n', 'suit': 'x'}, {'pair': 'n', 'suit': 'y'}, "         \
    "{'pair': 'seat'}]},"                                                                          \
    "{'name': 'Own wind', 'groups': [{'pung': 'prevailing'}, {'pung': 'n', 'suit': 'x'}, "         \
    "{'pair': "                                                                                    \
    "'n', 'suit': 'y'}]},"                                                                         \
    "{'name': 'Gangway',"                                                                          \
    " 'groups': [{'chow': 'n', 'suit': 'x'}, {'chow': 'n', 'suit': 'y'}, {'pair': 'wind'}]}]}"

static const char doors[] = DOORS("'pung', 'kong', 'chow']");
static const char from_any[] = DOORS("'pung', 'kong', 'chow'], 'chow_from': 'any'");
static const char no_chows[] = DOORS("'pung', 'kong']");

static const char one_way[] =
    "{'format': 1, 'title': 'One way', 'hand': 5, 'patterns': [{'name': 'W', 'groups': ["
    "{'pung': 2, 'suit': 'bam'}, {'pair': 'red'}]}]}";

/* Hands of jokers, which come in too many ways. */
static const char crowd[] =
    "{'format': 1, 'title': 'Jokers', 'tiles': {'jokers': 16}, 'patterns': ["
    "{'name': 'Anything', 'variants': [[{'pung': 'any', 'times': 4}, {'pair': 'east'}],"
    "{'points': 9, 'groups': [{'pung': 'any', 'times': 4}, {'pair': 'red'}]}]}]}";

/* A player with what it works with. */
typedef struct table_for_one {
    nh_list *list;
    nh_workspace *workspace;
    nh_way_player *player;
} table_for_one;

static table_for_one sit(const char *json, nh_way_pass pass, nh_way_claim claim) {
    table_for_one at = {.list = read_list(json)};
    nh_way way = NH_WAY;
    way.pass = pass;
    way.claim = claim;
    way.look = 1;
    at.workspace = new_workspace(at.list);
    ck_assert_int_eq(nh_way_player_new(at.workspace, &way, NULL, &at.player, NULL), NH_OK);
    return at;
}

static void rise(table_for_one *at) {
    nh_way_player_free(at->player);
    nh_workspace_free(at->workspace);
    nh_list_free(at->list);
}

static nh_game_view view_with(const table_for_one *at, const nh_tiles *hand) {
    return (nh_game_view){.workspace = at->workspace,
                          .seat = 1,
                          .from = 0,
                          .tile = NH_KINDS,
                          .wall = 40,
                          .hand = *hand,
                          .situation = NH_SITUATION};
}

/* --------------------------------------------------------------- passes --- */

START_TEST(spare_tiles_are_passed) {
    table_for_one at = sit(one_way, NH_PASS_SPARE, NH_CLAIM_ALWAYS);
    static const struct {
        const char *hand, *passed;
        nh_stage stage;
        uint8_t count, wanted;
        bool agree;
    } rows[] = {
        {"22B R 9D E", "9D E", NH_STAGE_PASS, 2, 0, false},
        {"22B R 9D E", "2B 9D E", NH_STAGE_PASS, 3, 0, false}, /* then what is needed */
        {"2B 1599D", "15D", NH_STAGE_EXCHANGE, 2, 0, false},
        {"22B R 9D E", "", NH_STAGE_VOTE, 2, 0, true},
        {"22B R 9D E", "", NH_STAGE_VOTE, 3, 0, false},
        {"22B R 9D E", "", NH_STAGE_COURTESY, 3, 2, false},
        {"22B R 9D E", "", NH_STAGE_COURTESY, 1, 1, false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        nh_view view = {.list = at.list, .seat = 1, .count = rows[i].count};
        nh_move move = NH_MOVE;
        view.hand = tiles_of(rows[i].hand);
        view.step.stage = rows[i].stage;
        ck_assert_int_eq(way_pass(at.player, &view, &move, NULL), NH_OK);
        const nh_tiles passed = tiles_of(rows[i].passed);
        ck_assert_msg(nh_tiles_equal(&move.tiles, &passed), "row %zu", i);
        ck_assert_uint_eq(move.count, rows[i].wanted);
        ck_assert_int_eq(move.agree, rows[i].agree);
    }
    nh_list *other = read_list(one_way);
    nh_view view = {.list = other, .seat = 1, .count = 3};
    nh_move move = NH_MOVE;
    nh_error error;
    view.hand = tiles_of("22B R 9D E");
    ck_assert_int_eq(way_pass(at.player, &view, &move, &error), NH_ERROR_ARGUMENT);
    ck_assert_str_eq(error.text, "the table and the player's workspace are of different lists");
    /* where nothing can be made any more all tiles are spare */
    view.list = at.list;
    view.gone = *nh_list_set(at.list);
    ck_assert(nh_tiles_take(&view.gone, &view.hand));
    view.step.stage = NH_STAGE_COURTESY;
    view.count = 5;
    ck_assert_int_eq(way_pass(at.player, &view, &move, NULL), NH_OK);
    ck_assert_uint_eq(move.count, 5);
    nh_list_free(other);
    rise(&at);
}
END_TEST

/* --------------------------------------------------------------- claims --- */

/* The best claim for a set, looked for among all of them, or NULL. */
static const nh_claim *plain_claim(const nh_game_view *view, nh_way_claim way,
                                   const nh_claim *claims, size_t count) {
    const nh_play_rules *rules = nh_list_play(nh_workspace_list(view->workspace));
    const nh_claim *best = NULL;
    for (size_t i = 0; i < count; i++) {
        const nh_claim *claim = &claims[i];
        const bool by_nearness = best == NULL || claim->away < best->away ||
                                 (claim->away == best->away && claim->chance > best->chance);
        const bool by_chance = best == NULL || claim->chance > best->chance ||
                               (claim->chance == best->chance && claim->away < best->away);
        if (claim->use == NH_CHOW && !rules->chow_from_any &&
            (view->from + 1) % NH_SEATS != view->seat)
            continue;
        best = (way == NH_CLAIM_WORTH ? by_chance : by_nearness) ? claim : best;
    }
    return best != NULL && way == NH_CLAIM_WORTH && !best->worth ? NULL : best;
}

static struct { int sets, chows, refused_chows, wins, several; } seen;

/* One discard, answered and worked out plainly. */
static void check_discard(const table_for_one *at, nh_way_claim way, const nh_game_view *view) {
    nh_game_move move = NH_GAME_MOVE;
    nh_claim claims[NH_CLAIMS_MAX];
    nh_claiming claiming;
    nh_claim_question question = NH_CLAIM_QUESTION;
    question.situation = &view->situation;
    question.tile = view->tile;
    question.draws = (int)(view->wall + 3) / 4;
    ck_assert_int_eq(
        nh_claims(view->workspace, &view->hand, &question, claims, NH_CLAIMS_MAX, &claiming, NULL),
        NH_OK);
    ck_assert_int_eq(way_claim(at->player, view, &move, NULL), NH_OK);
    if (claiming.rows > 0 && claims[0].use == NH_CLAIM_WIN) {
        ck_assert_int_eq(move.act, NH_ACT_WIN);
        seen.wins++;
        return;
    }
    const nh_claim *best = plain_claim(view, way, claims, claiming.rows);
    if (way == NH_CLAIM_NEVER)
        best = NULL;
    ck_assert_int_eq(move.act, best != NULL ? NH_ACT_CLAIM : NH_ACT_NONE);
    if (best != NULL)
        ck_assert_mem_eq(&move.set, &best->set, sizeof move.set);
    seen.sets += best != NULL;
    seen.chows += best != NULL && best->use == NH_CHOW;
    seen.refused_chows += best == NULL && way == NH_CLAIM_ALWAYS && claiming.rows > 0;
    seen.several += claiming.rows > 1;
}

START_TEST(the_best_set_is_claimed) {
    static const nh_way_claim ways[] = {NH_CLAIM_WORTH, NH_CLAIM_ALWAYS, NH_CLAIM_NEVER};
    static const char *const lists[] = {doors, from_any, no_chows};
    random_source source = {random_seed(SEED)};
    printf("seed %llu\n", (unsigned long long)source.state);
    const int hands = random_tries(HANDS) / 3 + 1;
    for (int turn = 0; turn < 9; turn++) {
        const int way = turn % 3;
        table_for_one at = sit(lists[turn / 3], NH_PASS_SPARE, ways[way]);
        for (int i = 0; i < hands; i++) {
            nh_tiles pool = *nh_list_set(at.list), few = {{0}};
            for (int kind = 0; kind < NH_KINDS; kind++) /* of few kinds, which go together */
                if ((kind < NH_DOT_1 && kind % 9 < 3) || kind == NH_EAST || kind == NH_RED ||
                    kind == NH_JOKER)
                    few.count[kind] = pool.count[kind];
            const nh_tiles hand = random_draw(&source, &few, 7);
            nh_game_view view = view_with(&at, &hand);
            few.count[NH_JOKER] = 0;
            const nh_tiles tile = random_draw(&source, &few, 1);
            for (view.tile = 0; tile.count[view.tile] == 0;)
                view.tile++;
            view.from = random_below(&source, 3);
            view.from += view.from >= view.seat;
            view.wall = (unsigned)random_below(&source, 60);
            view.situation.seat = (nh_wind)random_below(&source, 5);
            check_discard(&at, ways[way], &view);
        }
        rise(&at);
    }
    printf("%d sets, %d of them chows, %d chows that may not be, %d times several, %d wins\n",
           seen.sets, seen.chows, seen.refused_chows, seen.several, seen.wins);
    ck_assert_int_gt(seen.sets, hands / 50);
    ck_assert_int_gt(seen.chows, 0);
    ck_assert_int_gt(seen.refused_chows, 0);
    ck_assert_int_gt(seen.several, 0);
    ck_assert_int_gt(seen.wins, 0);
}
END_TEST

/* A claim takes memory of the workspace's allocator. */
START_TEST(claims_without_memory) {
    table_for_one at = sit(doors, NH_PASS_SPARE, NH_CLAIM_ALWAYS);
    struct counting counting = {.fail_at = NEVER, .fail_on = true};
    nh_allocator allocator = counted_by(&counting);
    nh_workspace *workspace = NULL;
    const nh_tiles hand = tiles_of("22B 22C RR 9D");
    nh_game_view view = view_with(&at, &hand);
    nh_game_move move = NH_GAME_MOVE;
    nh_error error;
    ck_assert_int_eq(nh_workspace_new(at.list, &allocator, &workspace), NH_OK);
    view.workspace = workspace;
    view.tile = NH_BAM_1 + 1;
    counting.fail_at = counting.calls;
    ck_assert_int_eq(way_claim(at.player, &view, &move, &error), NH_ERROR_MEMORY);
    ck_assert_int_eq(move.act, NH_ACT_NONE);
    counting.fail_at = NEVER;
    ck_assert_int_eq(way_claim(at.player, &view, &move, &error), NH_OK);
    ck_assert_int_eq(move.act, NH_ACT_CLAIM);
    nh_workspace_free(workspace);
    rise(&at);
}
END_TEST

/* What is remembered of a hand that waits is of the same winds. */
START_TEST(a_hand_waits_by_its_winds) {
    table_for_one at = sit("{'format': 1, 'title': 'Winds', 'hand': 5, 'patterns': [{'name': 'W', "
                           "'groups': [{'pung': 'prevailing'}, {'pair': 'red'}]}]}",
                           NH_PASS_SPARE, NH_CLAIM_NEVER);
    const nh_tiles hand = tiles_of("EE RR");
    nh_game_view view = view_with(&at, &hand);
    for (int again = 0; again < 2; again++)
        for (nh_wind wind = NH_WIND_UNKNOWN; wind <= NH_WIND_NORTH; wind++) {
            view.situation.prevailing = wind;
            ck_assert_int_eq(way_may_complete(at.player, &view, &hand), wind <= NH_WIND_EAST);
        }
    rise(&at);
}
END_TEST

/* ----------------------------------------------------------------- turns --- */

START_TEST(turns_without_another) {
    table_for_one at = sit(doors, NH_PASS_SPARE, NH_CLAIM_NEVER);
    static const struct {
        const char *hand, *drawn;
        bool may_win;
        nh_act act;
        int kind;
    } rows[] = {
        {"222B 222C RR", "R", true, NH_ACT_WIN, 0},
        {"222B 222C RR", "", true, NH_ACT_WIN, 0},
        {"222B 222C RR", "9D", true, NH_ACT_WIN, 0}, /* not of the hand: given for a joker */
        {"222B 22C RR 9D", "9D", true, NH_ACT_DISCARD, NH_DOT_1 + 8},
        {"222B 22C RR 9D", "9D", false, NH_ACT_DISCARD, NH_DOT_1 + 8},
        {"JJJJ", "", true, NH_ACT_DISCARD, NH_JOKER},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const nh_tiles hand = tiles_of(rows[i].hand), drawn = tiles_of(rows[i].drawn);
        nh_game_view view = view_with(&at, &hand);
        nh_game_move move = NH_GAME_MOVE;
        view.in_turn = true;
        view.may_win = rows[i].may_win;
        for (int kind = 0; kind < NH_KINDS; kind++)
            view.tile = drawn.count[kind] > 0 ? (uint8_t)kind : view.tile;
        ck_assert_int_eq(way_turn(at.player, &view, &move, NULL), NH_OK);
        ck_assert_msg(move.act == rows[i].act && move.kind == rows[i].kind, "row %zu: %d %u", i,
                      (int)move.act, move.kind);
    }
    rise(&at);
}
END_TEST

/* A hand that is complete in more ways than are gone through is no hand to play with. */
START_TEST(hands_in_too_many_ways) {
    table_for_one at = sit(crowd, NH_PASS_SPARE, NH_CLAIM_ALWAYS);
    nh_tiles hand = tiles_of("EE JJJJJJJJJJJJ");
    nh_game_view view = view_with(&at, &hand);
    nh_game_move move = NH_GAME_MOVE;
    nh_error error;
    view.in_turn = view.may_win = true;
    ck_assert_int_eq(way_turn(at.player, &view, &move, &error), NH_ERROR_LIMIT);
    ck_assert_str_eq(error.text, "the hand completes \"Anything\" in too many ways");
    hand.count[NH_EAST]--;
    view = view_with(&at, &hand);
    view.tile = NH_EAST;
    ck_assert_int_eq(way_claim(at.player, &view, &move, &error), NH_ERROR_LIMIT);
    ck_assert_str_eq(error.text, "the hand completes \"Anything\" in too many ways");
    ck_assert_int_eq(move.act, NH_ACT_NONE);
    rise(&at);
}
END_TEST

/* ------------------------------------------------------------- exchanges --- */

/* How good a hand is. */
typedef struct merit {
    uint8_t away;
    double chance;
} merit;

static merit merit_of(const nh_game_view *view, const nh_tiles *hand,
                      const nh_situation *situation) {
    nh_rank_question question = NH_RANK_QUESTION;
    nh_ranking ranking;
    nh_ranked row = {.chance = 0};
    question.situation = situation;
    question.draws = (int)(view->wall + 3) / 4;
    ck_assert_int_eq(nh_rank(view->workspace, hand, &question, &row, 1, &ranking, NULL), NH_OK);
    return (merit){ranking.nearest, row.chance};
}

static bool is_gain(const nh_game_view *view, int kind) {
    nh_tiles hand = view->hand;
    nh_situation situation = view->situation;
    hand.count[kind]--;
    hand.count[NH_JOKER]++;
    situation.seen.count[kind]++;
    situation.seen.count[NH_JOKER]--;
    const merit now = merit_of(view, &view->hand, &view->situation);
    const merit then = merit_of(view, &hand, &situation);
    return then.away != now.away ? then.away < now.away : then.chance > now.chance;
}

static struct { int offers, taken, left; } exchanges;

/* Plays by a way, and looks at what it does with jokers on the table. */
static nh_status watch(void *context, const nh_game_view *view, nh_game_move *move,
                       nh_error *error) {
    nh_status status = view->in_turn ? way_turn(context, view, move, error)
                                     : way_claim(context, view, move, error);
    nh_checking checking;
    nh_check_question question = NH_CHECK_QUESTION;
    question.situation = &view->situation;
    if (status != NH_OK || !view->in_turn || move->act == NH_ACT_WIN)
        return status;
    ck_assert_int_eq(nh_check(view->workspace, &view->hand, &question, NULL, 0, &checking, NULL),
                     NH_OK);
    ck_assert(!view->may_win || checking.completed == 0);
    for (int places = 1; places < NH_SEATS; places++) {
        const int seat = (view->seat + places) % NH_SEATS;
        const nh_shown *shown = nh_game_shown(view->game, seat);
        for (uint8_t i = 0; i < shown->set_count; i++) {
            const nh_set *set = &shown->sets[i];
            if (set->jokers == 0 || view->hand.count[set->kind] == 0)
                continue;
            exchanges.offers++;
            if (is_gain(view, set->kind)) {
                exchanges.taken++;
                ck_assert_int_eq(move->act, NH_ACT_EXCHANGE);
                ck_assert_uint_eq(move->kind, set->kind);
                ck_assert_int_eq(move->from, seat);
                ck_assert_uint_eq(move->index, i);
                return status;
            }
        }
    }
    exchanges.left += exchanges.offers > exchanges.taken;
    ck_assert_int_eq(move->act, NH_ACT_DISCARD);
    return status;
}

START_TEST(jokers_are_taken_where_the_hand_gains) {
    nh_list *list = NULL;
    nh_workspace *workspace;
    nh_game *game;
    nh_way_player *player;
    nh_way way = NH_WAY;
    nh_game_end end;
    way.pass = NH_PASS_SPARE;
    way.claim = NH_CLAIM_ALWAYS;
    way.look = 1;
    ck_assert_int_eq(
        nh_list_load(NH_TEST_ROOT "/tests/lists/good/exchange.json", NULL, &list, NULL), NH_OK);
    ck_assert_int_eq(nh_workspace_new(list, NULL, &workspace), NH_OK);
    ck_assert_int_eq(nh_way_player_new(workspace, &way, NULL, &player, NULL), NH_OK);
    ck_assert_int_eq(nh_game_new(list, NULL, &game), NH_OK);
    for (int seat = 0; seat < NH_SEATS; seat++)
        nh_game_seat(game, seat, way_pass, player, watch, player);
    for (uint64_t number = 1; number <= 60; number++)
        ck_assert_int_eq(nh_game_run(game, SEED, number, &end, sizeof end, NULL), NH_OK);
    printf("%d jokers could be taken, %d were\n", exchanges.offers, exchanges.taken);
    ck_assert_int_gt(exchanges.taken, 0);
    ck_assert_int_gt(exchanges.offers, exchanges.taken);
    nh_game_free(game);
    nh_way_player_free(player);
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("way");
    ADD_TESTS(suite, "passes", spare_tiles_are_passed);
    ADD_TESTS(suite, "claims", the_best_set_is_claimed, claims_without_memory,
              a_hand_waits_by_its_winds);
    ADD_TESTS(suite, "turns", turns_without_another, hands_in_too_many_ways,
              jokers_are_taken_where_the_hand_gains);
    return run_suite(suite);
}
