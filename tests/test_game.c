/*
 * Whole games: a referee (referee.c) follows every event, with every way of playing and
 * with players who do anything legal at random; games are the same again; what the rules
 * do not allow is refused; and chances that games must follow.
 * NEARHAND_SEED chooses the games, NEARHAND_TRIES how many of each kind.
 */
#define _DEFAULT_SOURCE /* mkstemp */
#include "api.h"
#include "random_list.h"
#include "referee.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { SEED = 90210, GAMES = 4 };

static nh_list *list_named(const char *name) {
    char path[512];
    nh_list *list = NULL;
    snprintf(path, sizeof path, "%s/%s.json", NH_TEST_ROOT, name);
    ck_assert_int_eq(nh_list_load(path, NULL, &list, NULL), NH_OK);
    return list;
}

/* ------------------------------------------------------------ a table --- */

typedef struct four {
    nh_list *list;
    nh_game *game;
    nh_workspace *workspace;
    nh_way_player *player;
} four;

static four sit_down(const char *name, const nh_way *way) {
    four at = {.list = list_named(name)};
    nh_error error;
    ck_assert_int_eq(nh_game_new(at.list, NULL, &at.game), NH_OK);
    ck_assert_int_eq(nh_workspace_new(at.list, NULL, &at.workspace), NH_OK);
    ck_assert_msg(nh_way_player_new(at.workspace, way, NULL, &at.player, &error) == NH_OK, "%s",
                  error.text);
    for (int seat = 0; seat < NH_SEATS; seat++)
        nh_way_player_seat(at.player, at.game, seat);
    return at;
}

static void stand_up(four *at) {
    nh_way_player_free(at->player);
    nh_workspace_free(at->workspace);
    nh_game_free(at->game);
    nh_list_free(at->list);
}

static nh_game_end play(nh_game *game, uint64_t seed, uint64_t number) {
    nh_game_end end;
    nh_error error;
    nh_status status = nh_game_run(game, seed, number, &end, sizeof end, &error);
    ck_assert_msg(status == NH_OK, "game %llu of %llu: %s", (unsigned long long)number,
                  (unsigned long long)seed, error.text);
    return end;
}

/* ----------------------------------------------------- ways of playing --- */

static void judge(const char *name, const nh_way *way, int games, referee *of) {
    four at = sit_down(name, way);
    of->list = at.list;
    of->seed = random_seed(SEED);
    of->takes_every_win = true;
    nh_game_listen(at.game, referee_hears, of);
    for (int i = 0; i < games; i++) {
        of->number = (uint64_t)i + 1;
        nh_game_end end = play(at.game, of->seed, of->number);
        ck_assert(of->over);
        ck_assert_uint_eq(end.turns, of->turns);
        ck_assert_int_eq((int)end.wall, nh_tiles_total(&of->wall));
    }
    referee_leaves(of);
    stand_up(&at);
}

static const char *const lists[] = {"patterns/club", "patterns/jokers", "patterns/traditional",
                                    "tests/lists/good/exchange"};

START_TEST(a_referee_finds_no_fault) {
    referee of = {.events = 0};
    int games = random_tries(GAMES);
    printf("seed %llu\n", (unsigned long long)random_seed(SEED));
    for (size_t list = 0; list < sizeof lists / sizeof *lists; list++)
        for (int way = 0; way < 6; way++) {
            if (way > 3 && list != 0 && list != 3) /* slow orders, on fast lists */
                continue;
            nh_way how = NH_WAY;
            how.pass = way == 0 ? NH_PASS_BEST : NH_PASS_SPARE;
            how.claim = (nh_way_claim)(way % 3);
            how.discard = way == 4   ? NH_DISCARD_CHANCE
                          : way == 5 ? NH_DISCARD_WORTH
                          : way == 1 ? NH_DISCARD_EXPECTED
                                     : NH_DISCARD_AWAY;
            how.look = 1 + way % NH_LOOK_MAX;
            judge(lists[list], &how, way > 3 ? (games + 5) / 6 : games, &of);
        }
    ck_assert_int_gt(of.claims, 0);
    ck_assert_int_gt(of.exchanges, 0);
    ck_assert_int_gt(of.wins, 0);
    printf("%ld events, %ld sets claimed, %ld jokers taken, %ld wins, %ld walls\n", of.events,
           of.claims, of.exchanges, of.wins, of.walls);
}
END_TEST

/* -------------------------------------------------------- any players --- */

/* Does anything legal, and lets wins go as often as not. */
static nh_status any_pass(void *context, const nh_view *view, nh_move *move, nh_error *error) {
    random_source *source = context;
    nh_tiles passable = nh_charleston_passable(nh_list_charleston(view->list), &view->hand);
    int count = view->count;
    (void)error;
    if (view->step.stage == NH_STAGE_PASS && view->step.blind) {
        move->blind = (uint8_t)random_below(source, count + 1);
        count -= move->blind;
    }
    if (view->step.stage == NH_STAGE_PASS || view->step.stage == NH_STAGE_EXCHANGE)
        move->tiles = random_draw(source, &passable, count);
    move->agree = random_percent(source, 80);
    move->count = (uint8_t)random_below(source, view->count + 1);
    return NH_OK;
}

static bool has_tiles(const nh_tiles *hand, const nh_set *set, uint8_t tile) {
    nh_tiles tiles, left = *hand;
    nh_set_tiles(set, &tiles);
    tiles.count[tile]--;
    return nh_tiles_take(&left, &tiles);
}

/* What a player learns of a claim before making it is what the set leaves of the list. */
static void look_at_set(const nh_game_view *view, const nh_set *set) {
    const nh_list *list = nh_workspace_list(view->workspace);
    nh_workspace *offered, *own;
    nh_list *rest;
    nh_tiles tiles, hand = view->hand;
    uint8_t away[2][NH_PATTERNS_MAX];
    nh_set_tiles(set, &tiles);
    tiles.count[view->tile]--;
    ck_assert(nh_tiles_take(&hand, &tiles));
    ck_assert_int_eq(nh_game_with_set(view, set, &offered, NULL), NH_OK);
    ck_assert_int_eq(nh_list_rest(list, set, 1, NULL, &rest, NULL), NH_OK);
    ck_assert_int_eq(nh_workspace_new(rest, NULL, &own), NH_OK);
    ck_assert_int_eq(nh_distances(offered, &hand, &view->situation, away[0], NULL), NH_OK);
    ck_assert_int_eq(nh_distances(own, &hand, &view->situation, away[1], NULL), NH_OK);
    ck_assert_mem_eq(away[0], away[1], nh_list_size(list));
    nh_workspace_free(own);
    nh_list_free(rest);
}

static void any_claim(random_source *source, const nh_game_view *view, nh_game_move *move) {
    const nh_play_rules *rules = nh_list_play(nh_workspace_list(view->workspace));
    const bool allowed[] = {rules->pung, rules->kong, rules->quint, rules->sextet};
    unsigned shape = NH_PUNG + (unsigned)random_below(source, 5);
    nh_set set = {(uint8_t)shape, view->tile, (uint8_t)shape, 0};
    if (shape > NH_SEXTET) {
        int first = view->tile - random_below(source, 3);
        set = (nh_set){NH_CHOW, (uint8_t)(first < 0 ? 0 : first), 3, 0};
        if (!rules->chow || first < 0 || first >= NH_EAST || first / 9 != view->tile / 9 ||
            first % 9 > 6 || (!rules->chow_from_any && (view->from + 1) % NH_SEATS != view->seat))
            return;
    } else if (!allowed[shape - NH_PUNG]) {
        return;
    } else {
        set.jokers = (uint8_t)random_below(source, (int)shape);
    }
    if (!has_tiles(&view->hand, &set, view->tile))
        return;
    if (random_percent(source, 30))
        look_at_set(view, &set);
    move->act = NH_ACT_CLAIM;
    move->set = set;
}

static bool any_exchange(random_source *source, const nh_game_view *view, nh_game_move *move) {
    int seat = random_below(source, NH_SEATS);
    const nh_shown *shown = nh_game_shown(view->game, seat);
    if (!nh_list_play(nh_workspace_list(view->workspace))->exchange)
        return false;
    for (uint8_t i = 0; i < shown->set_count; i++)
        if (shown->sets[i].jokers > 0 && view->hand.count[shown->sets[i].kind] > 0) {
            move->act = NH_ACT_EXCHANGE;
            move->kind = shown->sets[i].kind;
            move->from = (uint8_t)seat;
            move->index = i;
            return true;
        }
    return false;
}

static nh_status any_play(void *context, const nh_game_view *view, nh_game_move *move,
                          nh_error *error) {
    random_source *source = context;
    nh_tiles hand = view->hand, one;
    nh_checking checking;
    (void)error;
    if (!view->in_turn)
        hand.count[view->tile]++;
    nh_check_question question = NH_CHECK_QUESTION;
    question.situation = &view->situation;
    ck_assert_int_eq(nh_check(view->workspace, &hand, &question, NULL, 0, &checking, NULL), NH_OK);
    if (checking.completed > 0 && (view->may_win || !view->in_turn) && random_percent(source, 50)) {
        move->act = NH_ACT_WIN;
    } else if (!view->in_turn) {
        any_claim(source, view, move);
    } else if (!any_exchange(source, view, move)) {
        one = random_draw(source, &hand, 1);
        move->act = NH_ACT_DISCARD;
        for (move->kind = 0; one.count[move->kind] == 0;)
            move->kind++;
    }
    return NH_OK;
}

START_TEST(anything_legal_goes) {
    static const char *const names[] = {"patterns/club", "patterns/jokers", "patterns/traditional",
                                        "tests/lists/good/exchange"};
    random_source source = {random_seed(SEED)};
    referee of = {.events = 0};
    const int games = 3 * random_tries(GAMES);
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        nh_list *list = list_named(names[i]);
        nh_game *game;
        ck_assert_int_eq(nh_game_new(list, NULL, &game), NH_OK);
        for (int seat = 0; seat < NH_SEATS; seat++)
            nh_game_seat(game, seat, any_pass, &source, any_play, &source);
        of.list = list;
        of.seed = source.state;
        nh_game_listen(game, referee_hears, &of);
        for (of.number = 1; of.number <= (uint64_t)games; of.number++)
            play(game, of.seed, of.number);
        referee_leaves(&of);
        nh_game_free(game);
        nh_list_free(list);
    }
    ck_assert_int_gt(of.claims, games);
    if (games >= 3 * GAMES) {
        ck_assert_int_gt(of.exchanges, 5);
        ck_assert_int_gt(of.walls, 5);
    }
    ck_assert_int_gt(of.given_unseen, 0);
    printf("%ld events of players who do anything, %ld sets claimed, %ld jokers taken\n", of.events,
           of.claims, of.exchanges);
}
END_TEST

/* ------------------------------------------------------- the same again --- */

static void hash_event(void *context, const nh_event *event) {
    uint64_t *hash = context;
    const unsigned char *hands = (const unsigned char *)event->hands;
    *hash = (*hash ^ (uint64_t)event->type ^ (uint64_t)event->kind << 8) * UINT64_C(0x100000001b3);
    for (size_t i = 0; i < NH_SEATS * sizeof(nh_tiles); i++)
        *hash = (*hash ^ hands[i]) * UINT64_C(0x100000001b3);
}

/* A game depends on its seed and number alone, not on the games before it. */
START_TEST(a_game_is_the_same_again) {
    nh_way way = NH_WAY;
    way.pass = NH_PASS_SPARE;
    way.look = 1;
    uint64_t alone[4];
    for (uint64_t number = 1; number <= 4; number++) {
        four at = sit_down("patterns/jokers", &way);
        alone[number - 1] = 0;
        nh_game_listen(at.game, hash_event, &alone[number - 1]);
        play(at.game, 5, number);
        stand_up(&at);
    }
    four at = sit_down("patterns/jokers", &way);
    for (uint64_t number = 4; number >= 1; number--) {
        uint64_t hash = 0;
        nh_game_listen(at.game, hash_event, &hash);
        play(at.game, 5, number);
        ck_assert_uint_eq(hash, alone[number - 1]);
    }
    stand_up(&at);
    ck_assert_uint_ne(alone[0], alone[1]);
}
END_TEST

/* ------------------------------------------------------------ refusals --- */

typedef struct cheat {
    nh_game_move in_turn, offered;
} cheat;

static nh_status cheat_play(void *context, const nh_game_view *view, nh_game_move *move,
                            nh_error *error) {
    const cheat *as = context;
    (void)error;
    *move = view->in_turn ? as->in_turn : as->offered;
    if (move->act == NH_ACT_DISCARD && move->kind == NH_KINDS)
        for (move->kind = 0; view->hand.count[move->kind] == 0;)
            move->kind++;
    if (move->act == NH_ACT_DISCARD && move->kind == NH_KINDS + 1)
        for (move->kind = 0; view->hand.count[move->kind] > 0;)
            move->kind++;
    return NH_OK;
}

static void refuse_move(nh_game_move in_turn, nh_game_move offered, const char *words) {
    random_source source = {1};
    cheat as = {in_turn, offered};
    nh_list *list = list_named("patterns/jokers");
    nh_game *game;
    nh_game_end end;
    nh_error error;
    ck_assert_int_eq(nh_game_new(list, NULL, &game), NH_OK);
    for (int seat = 0; seat < NH_SEATS; seat++)
        nh_game_seat(game, seat, any_pass, &source, cheat_play, &as);
    ck_assert_int_eq(nh_game_run(game, 1, 1, &end, sizeof end, &error), NH_ERROR_ARGUMENT);
    ck_assert_msg(strstr(error.text, words) != NULL, "%s", error.text);
    nh_game_free(game);
    nh_list_free(list);
}

START_TEST(what_the_rules_do_not_allow_is_refused) {
    nh_game_move none = NH_GAME_MOVE, first = NH_GAME_MOVE, move = NH_GAME_MOVE;
    first.act = NH_ACT_DISCARD;
    first.kind = NH_KINDS; /* the first of the hand */
    move.act = NH_ACT_WIN;
    refuse_move(move, none, "complete");
    refuse_move(first, move, "complete");
    move.act = NH_ACT_DISCARD;
    move.kind = NH_KINDS + 1; /* one that the hand has not */
    refuse_move(move, none, "discards");
    refuse_move(first, first, "not in turn");
    move.act = NH_ACT_EXCHANGE;
    refuse_move(move, none, "joker");
    refuse_move(none, none, "discards");
    move.act = NH_ACT_CLAIM;
    move.set = (nh_set){NH_CHOW, 0, 3, 0};
    refuse_move(first, move, "may not claim");
    move.set = (nh_set){NH_PAIR, 0, 2, 0};
    refuse_move(first, move, "may not claim");
    move.set = (nh_set){NH_PUNG, NH_JOKER, 3, 0};
    refuse_move(first, move, "names none");
    move.set = (nh_set){NH_PUNG, 8, 4, 0};
    refuse_move(first, move, "names none");
    move.size = 0;
    refuse_move(first, move, "NH_GAME_MOVE");
}
END_TEST

/* ------------------------------------------------------- scripted games --- */

/* Players who claim whatever makes a pung, with jokers where they have them; and one move, of
 * a player in turn or of one who may claim, that is made as soon as it applies. */
typedef struct script {
    nh_game_move move;
    bool (*applies)(const nh_game_view *view, nh_game_move *move);
    bool moved, greedy;
} script;

static void discard_first(const nh_game_view *view, nh_game_move *move) {
    move->act = NH_ACT_DISCARD;
    for (move->kind = 0; move->kind < NH_JOKER && view->hand.count[move->kind] == 0;)
        move->kind++;
}

static void claim_pung(const nh_game_view *view, nh_game_move *move) {
    int own = view->hand.count[view->tile], jokers = view->hand.count[NH_JOKER];
    own = own < 2 ? own : 2;
    if (own + jokers < 2)
        return;
    move->act = NH_ACT_CLAIM;
    move->set = (nh_set){NH_PUNG, view->tile, 3, (uint8_t)(2 - own)};
}

static nh_status play_script(void *context, const nh_game_view *view, nh_game_move *move,
                             nh_error *error) {
    script *as = context;
    (void)error;
    nh_game_move wanted = as->move;
    if (!as->moved && as->applies(view, &wanted)) {
        as->moved = true;
        *move = wanted;
    } else if (view->in_turn) {
        discard_first(view, move);
    } else if (as->greedy) {
        claim_pung(view, move);
    }
    return NH_OK;
}

/* A set with a joker on the table, and the place of it. */
static const nh_set *shown_joker(const nh_game_view *view, nh_game_move *move) {
    for (int seat = 0; seat < NH_SEATS; seat++) {
        const nh_shown *shown = nh_game_shown(view->game, seat);
        for (uint8_t i = 0; i < shown->set_count; i++)
            if (shown->sets[i].jokers > 0) {
                move->from = (uint8_t)seat;
                move->index = i;
                move->kind = shown->sets[i].kind;
                return &shown->sets[i];
            }
    }
    return NULL;
}

/* Plays games until the move is made, which must be refused with these words. */
static void refuse_in_game(const char *list_name, bool greedy,
                           bool (*applies)(const nh_game_view *view, nh_game_move *move),
                           const char *words) {
    random_source source = {1};
    nh_list *list = list_name[0] == '{' ? read_list(list_name) : list_named(list_name);
    script as = {NH_GAME_MOVE, applies, false, greedy};
    nh_game *game;
    nh_error error = {NH_OK, 0, ""};
    ck_assert_int_eq(nh_game_new(list, NULL, &game), NH_OK);
    for (int seat = 0; seat < NH_SEATS; seat++)
        nh_game_seat(game, seat, any_pass, &source, play_script, &as);
    for (uint64_t number = 1; !as.moved && number < 200; number++) {
        nh_game_end end = {.turns = 12345};
        const nh_status status = nh_game_run(game, 3, number, &end, sizeof end, &error);
        ck_assert_int_eq(status, as.moved ? NH_ERROR_ARGUMENT : NH_OK);
        ck_assert(!as.moved || end.turns == 12345);
    }
    ck_assert(as.moved);
    ck_assert_msg(strstr(error.text, words) != NULL, "%s: %s, not %s", list_name, error.text,
                  words);
    nh_game_free(game);
    nh_list_free(list);
}

static bool win_after_claim(const nh_game_view *view, nh_game_move *move) {
    move->act = NH_ACT_WIN;
    return view->in_turn && !view->may_win;
}

static bool discard_no_tile(const nh_game_view *view, nh_game_move *move) {
    move->act = NH_ACT_DISCARD;
    move->kind = NH_KINDS;
    return view->in_turn;
}

static bool exchange_of_nobody(const nh_game_view *view, nh_game_move *move) {
    const nh_set *set = view->in_turn ? shown_joker(view, move) : NULL;
    move->act = NH_ACT_EXCHANGE;
    move->from = NH_SEATS;
    return set != NULL;
}

static bool exchange_of_no_set(const nh_game_view *view, nh_game_move *move) {
    const nh_set *set = view->in_turn ? shown_joker(view, move) : NULL;
    move->act = NH_ACT_EXCHANGE;
    move->index = NH_SETS_MAX;
    return set != NULL;
}

static bool exchange_without_tile(const nh_game_view *view, nh_game_move *move) {
    const nh_set *set = view->in_turn ? shown_joker(view, move) : NULL;
    move->act = NH_ACT_EXCHANGE;
    return set != NULL && view->hand.count[set->kind] == 0;
}

static bool exchange_for_another_tile(const nh_game_view *view, nh_game_move *move) {
    const nh_set *set = view->in_turn ? shown_joker(view, move) : NULL;
    if (set == NULL)
        return false;
    move->act = NH_ACT_EXCHANGE;
    for (move->kind = 0; view->hand.count[move->kind] == 0 || move->kind == set->kind;)
        move->kind++;
    return move->kind < NH_JOKER;
}

static bool exchange_without_joker(const nh_game_view *view, nh_game_move *move) {
    move->act = NH_ACT_EXCHANGE;
    for (int seat = 0; seat < NH_SEATS && view->in_turn; seat++) {
        const nh_shown *shown = nh_game_shown(view->game, seat);
        for (uint8_t i = 0; i < shown->set_count; i++) {
            move->from = (uint8_t)seat;
            move->index = i;
            move->kind = shown->sets[i].kind;
            if (shown->sets[i].jokers == 0 && view->hand.count[move->kind] > 0)
                return true;
        }
    }
    return false;
}

static bool claim_of_others(const nh_game_view *view, nh_game_move *move) {
    move->act = NH_ACT_CLAIM;
    move->set = (nh_set){NH_PUNG, view->tile == 0 ? 1 : 0, 3, 0};
    return !view->in_turn;
}

static bool claim_without_tiles(const nh_game_view *view, nh_game_move *move) {
    move->act = NH_ACT_CLAIM;
    move->set = (nh_set){NH_PUNG, view->tile, 3, 0};
    return !view->in_turn && view->hand.count[view->tile] < 2;
}

static bool chow_of(const nh_game_view *view, nh_game_move *move) {
    move->act = NH_ACT_CLAIM;
    move->set = (nh_set){NH_CHOW, view->tile, 3, 0};
    return !view->in_turn && view->tile < NH_EAST && view->tile % 9 < 7;
}

static bool chow_from_the_right_player(const nh_game_view *view, nh_game_move *move) {
    return chow_of(view, move) && (view->from + 1) % NH_SEATS == view->seat &&
           view->hand.count[view->tile + 1] == 0;
}

static bool chow_from_another_player(const nh_game_view *view, nh_game_move *move) {
    return chow_of(view, move) && (view->from + 1) % NH_SEATS != view->seat;
}

static const char chows[] =
    "{'format':1,'title':'Chows','play':{'claims':['pung','chow']},'patterns':["
    "{'name':'P','groups':[{'set':'any','times':4},{'pair':'any'}]}]}";

START_TEST(moves_in_a_game_are_refused) {
    static const struct {
        const char *list;
        bool greedy;
        bool (*applies)(const nh_game_view *view, nh_game_move *move);
        const char *words;
    } rows[] = {
        {"patterns/jokers", true, win_after_claim, "discards, does not have the tile"},
        {"patterns/jokers", false, discard_no_tile, "discards, does not have the tile"},
        {"patterns/jokers", false, claim_of_others, "claims a set, names none with the discard"},
        {"patterns/jokers", false, claim_without_tiles, "claims a set, does not have its tiles"},
        {chows, false, chow_from_the_right_player, "claims a set, does not have its tiles"},
        {chows, false, chow_from_another_player, "claims a set, may not claim such a one"},
        {"tests/lists/good/exchange", false, chow_from_another_player, "claims a set, does not"},
        {"patterns/jokers", true, exchange_without_tile, "takes a joker, may not"},
        {"tests/lists/good/exchange", true, exchange_of_nobody, "takes a joker, may not"},
        {"tests/lists/good/exchange", true, exchange_of_no_set, "takes a joker, may not"},
        {"tests/lists/good/exchange", true, exchange_without_tile,
         "takes a joker, does not have the tile for it"},
        {"tests/lists/good/exchange", true, exchange_for_another_tile,
         "takes a joker, does not have the tile for it"},
        {"tests/lists/good/exchange", true, exchange_without_joker,
         "takes a joker, does not have the tile for it"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        refuse_in_game(rows[i].list, rows[i].greedy, rows[i].applies, rows[i].words);
}
END_TEST

/* Hears of a discard that two players claim: the nearest in turn has it. */
typedef struct rivals {
    int claimed[NH_SEATS], from, both;
} rivals;

static nh_status play_rival(void *context, const nh_game_view *view, nh_game_move *move,
                            nh_error *error) {
    rivals *all = context;
    (void)error;
    if (view->in_turn) {
        memset(all->claimed, 0, sizeof all->claimed);
        discard_first(view, move);
        return NH_OK;
    }
    claim_pung(view, move);
    all->claimed[view->seat] = move->act == NH_ACT_CLAIM;
    all->from = view->from;
    return NH_OK;
}

static void hear_rivals(void *context, const nh_event *event) {
    rivals *all = context;
    if (event->type != NH_EVENT_CLAIM)
        return;
    int first = 1, claims = 0;
    while (!all->claimed[(all->from + first) % NH_SEATS])
        first++;
    for (int seat = 0; seat < NH_SEATS; seat++)
        claims += all->claimed[seat];
    ck_assert_int_eq(event->seat, (all->from + first) % NH_SEATS);
    all->both += claims > 1;
}

START_TEST(the_nearest_in_turn_has_the_discard) {
    random_source source = {1};
    rivals all = {.both = 0};
    nh_list *list = list_named("patterns/jokers");
    nh_game *game;
    ck_assert_int_eq(nh_game_new(list, NULL, &game), NH_OK);
    for (int seat = 0; seat < NH_SEATS; seat++)
        nh_game_seat(game, seat, any_pass, &source, play_rival, &all);
    nh_game_listen(game, hear_rivals, &all);
    for (uint64_t number = 1; number <= 20; number++)
        play(game, 4, number);
    ck_assert_int_gt(all.both, 0);
    nh_game_free(game);
    nh_list_free(list);
}
END_TEST

/* Six sets are all that fit a hand of 18: a player who has them can look at no other. */
static nh_status play_six(void *context, const nh_game_view *view, nh_game_move *move,
                          nh_error *error) {
    bool *full = context;
    const nh_shown *shown = nh_game_shown(view->game, view->seat);
    nh_workspace *workspace;
    nh_set set = {NH_PUNG, NH_RED, 3, 0};
    if (!view->in_turn) {
        claim_pung(view, move);
        return NH_OK;
    }
    if (shown->set_count == NH_SETS_MAX) {
        *full = true;
        ck_assert_int_eq(nh_game_with_set(view, &set, &workspace, error), NH_ERROR_ARGUMENT);
        ck_assert_str_eq(error->text, "there are 6 sets on the table already");
    }
    discard_first(view, move);
    return NH_OK;
}

START_TEST(no_set_comes_beside_six) {
    random_source source = {1};
    nh_list *list =
        read_list("{'format':1,'title':'Six','hand':18,'tiles':{'suits':['bam','crak'],"
                  "'jokers':16},'patterns':[{'name':'P','groups':[{'pung':'any','times':6}]}]}");
    nh_game *game;
    nh_error error;
    bool full = false;
    ck_assert_int_eq(nh_game_new(list, NULL, &game), NH_OK);
    for (int seat = 0; seat < NH_SEATS; seat++)
        nh_game_seat(game, seat, any_pass, &source, play_six, &full);
    for (uint64_t number = 1; !full && number < 500; number++) {
        nh_game_end end;
        ck_assert_int_eq(nh_game_run(game, 9, number, &end, sizeof end, &error), NH_OK);
    }
    ck_assert(full);
    nh_game_free(game);
    nh_list_free(list);
}
END_TEST

/* What a player's function returns ends the game, in the passes too. */
static nh_status give_up(void *context, const nh_view *view, nh_move *move, nh_error *error) {
    (void)context, (void)view, (void)move;
    *error = (nh_error){NH_ERROR_LIMIT, 0, "too hard"};
    return NH_ERROR_LIMIT;
}

START_TEST(games_that_cannot_be_played) {
    four at = sit_down("patterns/club", NULL);
    nh_game_end end;
    nh_error error;
    nh_game_seat(at.game, 1, any_pass, NULL, NULL, NULL);
    ck_assert_int_eq(nh_game_run(at.game, 1, 1, &end, sizeof end, &error), NH_ERROR_ARGUMENT);
    ck_assert_str_eq(error.text, "nobody plays south");
    nh_game_seat(at.game, 1, give_up, NULL, cheat_play, NULL);
    ck_assert_int_eq(nh_game_run(at.game, 1, 1, &end, sizeof end, &error), NH_ERROR_LIMIT);
    ck_assert_str_eq(error.text, "too hard");
    stand_up(&at);
    nh_list *list = read_list("{'format':1,'title':'Short','hand':8,'tiles':{'suits':[]},"
                              "'patterns':[{'name':'P','groups':[{'kong':'honour'},"
                              "{'kong':'wind'}]}]}");
    nh_game *game;
    ck_assert_int_eq(nh_game_new(list, NULL, &game), NH_OK);
    for (int seat = 0; seat < NH_SEATS; seat++)
        nh_game_seat(game, seat, give_up, NULL, cheat_play, NULL);
    ck_assert_int_eq(nh_game_run(game, 1, 1, &end, sizeof end, &error), NH_ERROR_ARGUMENT);
    ck_assert_ptr_nonnull(strstr(error.text, "too few for four hands"));
    nh_game_free(game);
    nh_list_free(list);
}
END_TEST

static nh_status start_anew(void *context, const nh_game_view *view, nh_game_move *move,
                            nh_error *error) {
    nh_game *game = context;
    nh_game_end end;
    (void)view, (void)move;
    return nh_game_run(game, 1, 1, &end, sizeof end, error);
}

START_TEST(a_player_cannot_start_the_game_anew) {
    random_source source = {1};
    nh_list *list = list_named("patterns/club");
    nh_game *game;
    nh_game_end end;
    nh_error error;
    ck_assert_int_eq(nh_game_new(list, NULL, &game), NH_OK);
    for (int seat = -1; seat <= NH_SEATS; seat++)
        nh_game_seat(game, seat, any_pass, &source, start_anew, game);
    ck_assert_ptr_null(nh_game_shown(game, -1));
    ck_assert_ptr_null(nh_game_shown(game, NH_SEATS));
    for (int again = 0; again < 2; again++) {
        ck_assert_int_eq(nh_game_run(game, 1, 1, &end, sizeof end, &error), NH_ERROR_ARGUMENT);
        ck_assert_ptr_nonnull(strstr(error.text, "cannot start it again"));
    }
    nh_game_free(game);
    nh_list_free(list);
}
END_TEST

START_TEST(seats_and_ways_are_checked) {
    four at = sit_down("patterns/club", NULL);
    nh_game_end end;
    nh_error error;
    nh_way_player *player;
    nh_game_seat(at.game, 2, NULL, NULL, NULL, NULL);
    ck_assert_int_eq(nh_game_run(at.game, 1, 1, &end, sizeof end, &error), NH_ERROR_ARGUMENT);
    ck_assert_ptr_nonnull(strstr(error.text, "west"));
    for (int wrong = 0; wrong < 6; wrong++) {
        nh_way way = NH_WAY;
        way.size = wrong == 0 ? 0 : way.size;
        way.pass = wrong == 1 ? (nh_way_pass)2 : way.pass;
        way.claim = wrong == 2 ? (nh_way_claim)3 : way.claim;
        way.discard = wrong == 3 ? (nh_discard_order)4 : way.discard;
        way.look = wrong == 4 ? 0 : wrong == 5 ? 4 : way.look;
        ck_assert_int_eq(nh_way_player_new(at.workspace, &way, NULL, &player, &error),
                         NH_ERROR_ARGUMENT);
        ck_assert_ptr_null(player);
    }
    nh_way_player_free(NULL);
    nh_game_free(NULL);
    stand_up(&at);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("game");
    ADD_TESTS(suite, "games", a_referee_finds_no_fault, anything_legal_goes,
              a_game_is_the_same_again);
    ADD_TESTS(suite, "scripted", moves_in_a_game_are_refused, the_nearest_in_turn_has_the_discard,
              no_set_comes_beside_six, games_that_cannot_be_played);
    ADD_TESTS(suite, "refusals", what_the_rules_do_not_allow_is_refused,
              a_player_cannot_start_the_game_anew, seats_and_ways_are_checked);
    return run_suite(suite);
}
