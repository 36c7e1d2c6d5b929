/*
 * Complete or not: random lists with sets on the table against the rests that
 * listed_rests.c lists the plain way; counts of waits that others have published; what
 * the call refuses. NEARHAND_SEED chooses the lists, NEARHAND_TRIES how many.
 */
#define _DEFAULT_SOURCE /* mkstemp */
#include "listed_rests.h"
#include "many_ways_list.h"

#include "api.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LISTS = 25, PATTERNS = 3, TABLES = 5, HANDS = 10, VARIANTS = 3 };

static struct { long hands, complete, completed, joked, between, by_variant; } done;

/* ------------------------------------------------------------- reference --- */

/* Whether the hand is the rest: every natural has its place, and jokers all others. */
static bool is_rest(const ref_sum *sum, const nh_tiles *hand) {
    for (int kind = 0; kind < NH_JOKER; kind++) {
        const int missing = sum->tiles.count[kind] - hand->count[kind];
        if (missing < 0 || missing > sum->jokerable.count[kind]) {
            return false;
        }
    }
    return nh_tiles_total(&sum->tiles) == nh_tiles_total(hand);
}

/* The most points that a pattern gives for a hand. */
typedef struct plain_check {
    bool complete, has_points;
    double points;
} plain_check;

/* The rests of a list, by pattern and variant. */
typedef struct laid {
    rests of[PATTERNS][VARIANTS];
} laid;

static plain_check check_plainly(const trial *at, size_t pattern, const laid *all,
                                 const nh_tiles *hand) {
    plain_check found = {false, false, 0};
    for (uint32_t v = 0; v < VARIANTS; v++) {
        const rests *listed = &all->of[pattern][v];
        for (size_t i = 0; i < listed->count; i++) {
            const nh_pattern *given = nh_list_variant(at->list, pattern, v);
            if (!is_rest(&listed->sums[i], hand)) {
                continue;
            }
            found.complete = true;
            if (given->has_points && (!found.has_points || given->points > found.points)) {
                found.has_points = true;
                found.points = given->points;
            }
        }
    }
    return found;
}

/* -------------------------------------------------------------- one hand --- */

/* The target of a row is the hand, and may have been written by the variant. */
static void check_target(const trial *at, const nh_list *rest, const laid *all,
                         const nh_completed *row, const nh_tiles *hand) {
    nh_tiles tiles = *hand;
    tiles.count[NH_JOKER] = 0;
    ck_assert(nh_tiles_add(&tiles, &row->joked));
    MUST(at, nh_tiles_equal(&tiles, &row->target));
    MUST(at, nh_tiles_total(&row->joked) == hand->count[NH_JOKER]);
    const nh_pattern *variant = nh_list_variant(at->list, row->pattern, row->variant);
    MUST(at, variant->has_points == row->has_points && row->points == variant->points);
    MUST(at, row->variant < VARIANTS);
    const rests *from = &all->of[row->pattern][row->variant];
    bool listed = false;
    for (size_t i = 0; i < from->count; i++) {
        listed |=
            is_rest(&from->sums[i], hand) && nh_tiles_equal(&from->sums[i].tiles, &row->target);
    }
    MUST(at, listed);
    nh_layout_question question = NH_LAYOUT_QUESTION;
    nh_layout layout;
    question.joked = &row->joked;
    question.prevailing = (nh_wind)row->prevailing;
    question.seat = (nh_wind)row->seat;
    MUST(at, nh_layout_first(rest, row->pattern, &row->target, &question, &layout, NULL) == NH_OK);
}

static void check_rows(const trial *at, const nh_completed *rows, const nh_checking *checking) {
    for (size_t i = 1; i < checking->rows; i++) {
        const nh_completed *a = &rows[i - 1], *b = &rows[i];
        const bool more = a->has_points && (!b->has_points || a->points > b->points);
        const bool equal = a->has_points == b->has_points && a->points == b->points;
        MUST(at, more || (equal && a->pattern < b->pattern));
    }
}

static void check_one(trial *at, nh_workspace *workspace, const laid *all, const nh_tiles *hand) {
    nh_completed rows[PATTERNS], first[PATTERNS];
    nh_checking checking, cut;
    nh_check_question question = NH_CHECK_QUESTION;
    uint8_t away[PATTERNS];
    const nh_list *rest = nh_workspace_list(workspace);
    size_t complete = 0;
    question.situation = &at->situation;
    at->hand = *hand;
    MUST(at, nh_check(workspace, hand, &question, rows, PATTERNS, &checking, NULL) == NH_OK);
    MUST(at, nh_distances(workspace, hand, &at->situation, away, NULL) == NH_OK);
    int nearest = NH_AWAY_NONE;
    for (size_t p = 0; p < at->patterns; p++) {
        const plain_check plain = check_plainly(at, p, all, hand);
        nearest = away[p] < nearest ? away[p] : nearest;
        complete += plain.complete;
        for (size_t i = 0; i < checking.rows; i++) {
            if (rows[i].pattern == p) {
                MUST(at, plain.complete && plain.has_points == rows[i].has_points);
                MUST(at, plain.points == rows[i].points);
                done.by_variant += rows[i].variant > 0;
            }
        }
    }
    MUST(at, checking.completed == complete && checking.rows == complete);
    MUST(at, checking.nearest == nearest);
    for (size_t i = 0; i < checking.rows; i++) {
        check_target(at, rest, all, &rows[i], hand);
        done.joked += hand->count[NH_JOKER] > 0;
    }
    check_rows(at, rows, &checking);
    const size_t room = (size_t)random_below(at->source, PATTERNS + 1);
    MUST(at, nh_check(workspace, hand, &question, first, room, &cut, NULL) == NH_OK);
    MUST(at, cut.completed == complete && cut.rows == (room < complete ? room : complete));
    MUST(at, cut.rows == 0 || memcmp(first, rows, cut.rows * sizeof *rows) == 0);
    done.hands++;
    done.complete += complete > 0;
    done.completed += (long)complete;
}

/* ---------------------------------------------------------- random lists --- */

/* A rest, now and then with a tile too few or too many, or another one. */
static nh_tiles pick_claimed(const trial *at, const nh_list *rest, const laid *all) {
    nh_tiles pool = *nh_list_set(rest);
    const int pattern = random_below(at->source, (int)at->patterns);
    const rests *from = &all->of[pattern][random_below(at->source, VARIANTS)];
    const int way = random_below(at->source, 10);
    from = from->count > 0 ? from : &all->of[pattern][0];
    if (from->count == 0) {
        return random_draw(at->source, &pool, nh_list_hand_size(rest));
    }
    const ref_sum *sum = &from->sums[random_below(at->source, (int)from->count)];
    const int size = nh_tiles_total(&sum->tiles) + (way == 0) - (way == 1);
    return random_near(at->source, &pool, &sum->tiles, &sum->jokerable, size > 0 ? size : 1,
                       way < 3);
}

static void check_table(trial *at) {
    const table on = lay_table(at);
    laid all;
    nh_list *rest = NULL;
    nh_workspace *workspace = NULL;
    for (size_t p = 0; p < PATTERNS; p++) {
        for (uint32_t v = 0; v < VARIANTS; v++) {
            all.of[p][v] = rests_of_variant(at, p, v, &on);
        }
        MUST(at, nh_list_variant(at->list, p, VARIANTS) == NULL);
    }
    MUST(at, nh_list_rest(at->list, on.sets, on.count, NULL, &rest, NULL) == NH_OK);
    MUST(at, nh_workspace_new(rest, NULL, &workspace) == NH_OK);
    for (int i = 0; i < HANDS; i++) {
        const nh_tiles hand = pick_claimed(at, rest, &all);
        check_one(at, workspace, &all, &hand);
    }
    nh_workspace_free(workspace);
    nh_list_free(rest);
    for (size_t p = 0; p < PATTERNS; p++) {
        for (uint32_t v = 0; v < VARIANTS; v++) {
            free(all.of[p][v].sums);
        }
    }
}

static char *next_list(random_source *source) {
    return random_list(source, PATTERNS, NH_HAND_MAX);
}

START_TEST(hands_of_random_lists) {
    static trial at;
    try_lists(&at, &(trials){20261128, LISTS, 50, TABLES, next_list, check_table});
    printf("seed %llu: %ld hands, %ld complete for %ld patterns, %ld with jokers, %ld by a later "
           "variant\n",
           (unsigned long long)at.seed, done.hands, done.complete, done.completed, done.joked,
           done.by_variant);
    ck_assert_int_gt(done.complete, done.hands / 4);
    ck_assert_int_gt(done.hands - done.complete, done.hands / 10);
    ck_assert_int_gt(done.joked, 0);
}
END_TEST

/* ------------------------------------------------------------ known hands --- */

static const char one_suit[] = "{'format': 1, 'title': 'One suit', 'patterns': [{'name': 'Sets',"
                               " 'groups': [{'set': 'suited', 'suit': 'bam', 'times': 4}, {'pair': "
                               "'suited', 'suit': 'bam'}]}]}";

/* Whether a hand is complete for any pattern. */
static bool completes(nh_workspace *workspace, const nh_tiles *hand) {
    nh_checking checking;
    ck_assert_int_eq(nh_check(workspace, hand, NULL, NULL, 0, &checking, NULL), NH_OK);
    return checking.completed > 0;
}

/* The kinds that complete a hand. */
static unsigned waits(nh_workspace *workspace, const nh_tiles *hand) {
    unsigned kinds = 0;
    for (int kind = 0; kind < NH_FLOWER; kind++) {
        nh_tiles full = *hand;
        if (full.count[kind]++ < 4)
            kinds += completes(workspace, &full);
    }
    return kinds;
}

struct tally {
    nh_workspace *workspace;
    long hands, by_kinds[10];
};

static void tally_hands(struct tally *tally, nh_tiles *hand, int kind, int left) {
    if (kind == 9) {
        if (left == 0) {
            tally->hands++;
            tally->by_kinds[waits(tally->workspace, hand)]++;
        }
        return;
    }
    for (int count = 0; count <= 4 && count <= left; count++) {
        hand->count[kind] = (uint8_t)count;
        tally_hands(tally, hand, kind + 1, left - count);
    }
    hand->count[kind] = 0;
}

/* Hands of 13 tiles of one suit by how many kinds complete four sets and a pair:
 * endlessriichi, "Computing all Chinitsu possibilities", 24 August 2016. All such hands:
 * mahjong-lurker.xyz, "清一色の組み合わせ". */
START_TEST(waits_of_one_suit) {
    static const long published[10] = {0, 14067, 14493, 6739, 2948, 1335, 392, 79, 16, 1};
    nh_list *list = read_list(one_suit);
    struct tally tally = {.workspace = new_workspace(list)};
    nh_tiles hand = {{0}};
    tally_hands(&tally, &hand, 0, 13);
    ck_assert_int_eq(tally.hands, 93600);
    long waiting = 0;
    for (int kinds = 1; kinds < 10; kinds++) {
        ck_assert_int_eq(tally.by_kinds[kinds], published[kinds]);
        waiting += tally.by_kinds[kinds];
    }
    ck_assert_int_eq(waiting, 40070);
    nh_workspace_free(tally.workspace);
    nh_list_free(list);
}
END_TEST

/* A hand that waits after a discard: useful tiles are those that complete it, so that
 * useful_count of all unseen tiles is the chance of the next draw. */
START_TEST(useful_tiles_complete_a_hand_that_waits) {
    nh_list *list = read_list(one_suit);
    nh_workspace *workspace = new_workspace(list);
    random_source source = {random_seed(20261130)};
    nh_tiles suit = {{0}};
    long waiting = 0;
    memset(suit.count, 4, 9);
    for (int i = 0; i < 400; i++) {
        nh_tiles pool = suit;
        const nh_tiles hand = random_draw(&source, &pool, 14);
        nh_discard_choice choices[9];
        nh_discarding discarding;
        nh_discard_question question = NH_DISCARD_QUESTION;
        question.look = 1;
        ck_assert_int_eq(nh_discard(workspace, &hand, &question, choices, 9, &discarding, NULL),
                         NH_OK);
        ck_assert(discarding.complete == completes(workspace, &hand));
        for (size_t c = 0; c < discarding.rows; c++) {
            nh_tiles left = hand;
            unsigned complete = 0;
            left.count[choices[c].kind]--;
            for (int kind = 0; kind < 9 && choices[c].away == 1; kind++) {
                nh_tiles full = left;
                full.count[kind]++;
                if (pool.count[kind] > 0 && completes(workspace, &full))
                    complete += pool.count[kind];
            }
            ck_assert(choices[c].away != 1 || choices[c].useful_count == complete);
            waiting += choices[c].away == 1;
        }
    }
    ck_assert_int_gt(waiting, 1000);
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* Common practice: the names, and what the hands wait for. */
START_TEST(hands_that_wait_for_many) {
    nh_list *list = NULL;
    ck_assert_int_eq(nh_list_load(NH_TEST_ROOT "/patterns/traditional.json", NULL, &list, NULL),
                     NH_OK);
    nh_workspace *workspace = new_workspace(list);
    const nh_tiles gates = tiles_of("1112345678999C"), orphans = tiles_of("19B 19C 19D ESWN RGWh");
    ck_assert_uint_eq(waits(workspace, &gates), 9);
    ck_assert_uint_eq(waits(workspace, &orphans), 13);
    for (int kind = 0; kind < NH_FLOWER; kind++) {
        nh_tiles full = gates;
        if (full.count[kind]++ < 4)
            ck_assert(completes(workspace, &full) == (kind >= NH_CRAK_1 && kind < NH_CRAK_1 + 9));
    }
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* Points are those of the variant that the hand is of, however jokers make it so. */
START_TEST(variants_give_their_own_points) {
    nh_list *list = read_list(
        "{'format': 1, 'title': 'Two ways', 'hand': 6, 'tiles': {'jokers': 4}, 'patterns': ["
        "{'name': 'Pungs', 'points': 10, 'variants': ["
        "[{'pung': 'suited', 'suit': 'any'}, {'pung': 'suited', 'suit': 'any'}],"
        "{'points': 30, 'groups': [{'pung': 9, 'suit': 'x'}, {'pung': 9, 'suit': 'y'}]},"
        "{'points': 5, 'groups': [{'kong': 'suited', 'suit': 'any'}, {'pair': 'suited', 'suit': "
        "'any'}]}]},"
        "{'name': 'Same', 'points': 20, 'groups': [{'pung': 9, 'suit': 'x'}, {'pung': 9, 'suit': "
        "'y'}]},"
        "{'name': 'Plain', 'groups': [{'pung': 9, 'suit': 'x'}, {'pung': 9, 'suit': 'y'}]}]}");
    nh_workspace *workspace = new_workspace(list);
    static const struct {
        const char *hand;
        size_t rows;
        unsigned first;
        double points;
    } cases[] = {
        {"999B 999C", 3, 0, 30}, {"99B 99C JJ", 3, 0, 30}, {"9B 9C JJJJ", 3, 0, 30},
        {"999B JJJ", 3, 0, 30},  {"222B 333C", 1, 0, 10},  {"3333B 55C", 1, 0, 5},
        {"99B JJJJ", 3, 0, 30},  {"999B 99C", 0, 0, 0},    {"999B 999C 1D", 0, 0, 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        nh_tiles hand = tiles_of(cases[i].hand);
        nh_completed rows[3];
        nh_checking checking;
        ck_assert_int_eq(nh_check(workspace, &hand, NULL, rows, 3, &checking, NULL), NH_OK);
        ck_assert_msg(checking.rows == cases[i].rows, "%s: %zu rows", cases[i].hand, checking.rows);
        if (checking.rows == 0)
            continue;
        ck_assert_uint_eq(rows[0].pattern, cases[i].first);
        ck_assert_double_eq(rows[0].points, cases[i].points);
        if (checking.rows == 3)
            ck_assert(rows[1].pattern == 1 && rows[2].pattern == 2 && !rows[2].has_points);
    }
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* Two choices of the same tiles, which jokers may serve in differently: either can be taken,
 * with its own jokers. */
START_TEST(jokers_serve_in_one_choice_at_a_time) {
    nh_list *list = read_list(
        "{'format': 1, 'title': 'Turns', 'hand': 12, 'tiles': {'jokers': 8}, 'patterns': ["
        "{'name': 'P', 'groups': [{'one_of': ["
        "[{'pung': 5, 'suit': 'bam'}, {'pair': 6, 'suit': 'bam'}, {'single': 6, 'suit': 'bam'}],"
        "[{'pair': 5, 'suit': 'bam'}, {'single': 5, 'suit': 'bam'}, {'pung': 6, 'suit': 'bam'}],"
        "[{'pung': 7, 'suit': 'bam'}, {'pung': 8, 'suit': 'bam'}]], 'times': 2, 'distinct': "
        "true}]}]}");
    static const struct {
        const char *hand;
        bool complete;
    } rows[] = {{"555666777888B", true},         {"JJJ 666777888B", true},
                {"555B JJJ 777888B", true},      {"5B JJ 666777888B", true},
                {"555B 66B J 777B 88B J", true}, {"55B J 66B J 777888B", false},
                {"JJJ 666B JJJ 888B", true}};
    nh_workspace *workspace = new_workspace(list);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const nh_tiles hand = tiles_of(rows[i].hand);
        ck_assert_msg(completes(workspace, &hand) == rows[i].complete, "%s", rows[i].hand);
    }
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* More points first, none last, and the list's order among equals; as many as there is room
 * for. */
START_TEST(rows_go_by_their_points) {
    nh_list *list = read_list("{'format': 1, 'title': 'Scale', 'hand': 2, 'patterns': ["
                              "{'name': 'a', 'groups': [{'pair': 'red'}]},"
                              "{'name': 'b', 'points': 10, 'groups': [{'pair': 'red'}]},"
                              "{'name': 'c', 'points': 30, 'groups': [{'pair': 'red'}]},"
                              "{'name': 'd', 'groups': [{'pair': 'red'}]},"
                              "{'name': 'e', 'points': 20, 'groups': [{'pair': 'red'}]},"
                              "{'name': 'f', 'points': 10, 'groups': [{'pair': 'red'}]}]}");
    static const uint32_t order[] = {2, 4, 1, 5, 0, 3};
    nh_workspace *workspace = new_workspace(list);
    const nh_tiles hand = tiles_of("RR");
    for (size_t room = 0; room <= 6; room++) {
        nh_completed rows[7] = {{.pattern = 9}};
        nh_checking checking;
        rows[room].pattern = 9;
        ck_assert_int_eq(nh_check(workspace, &hand, NULL, rows, room, &checking, NULL), NH_OK);
        ck_assert(checking.completed == 6 && checking.rows == room);
        for (size_t i = 0; i < room; i++)
            ck_assert_uint_eq(rows[i].pattern, order[i]);
        ck_assert_uint_eq(rows[room].pattern, 9);
    }
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* A hand of few targets, of which one takes too long to lay out: its singles can be taken in
 * any order, and only then the pair is found missing. */
START_TEST(targets_that_are_too_much_to_lay_out) {
    nh_list *list = read_list("{'format': 1, 'title': 'Loose', 'patterns': [{'name': 'Sand', "
                              "'groups': [{'single': 'any'}, {'single': 'any'}, {'single': 'any'}, "
                              "{'single': 'any'}, {'single': 'any'}, {'single': 'any'}, {'single': "
                              "'any'}, {'single': 'any'}, {'single': 'any'}, {'single': 'any'}, "
                              "{'single': 'any'}, {'single': 'any'}, {'pair': 1, 'suit': "
                              "'bam'}]}]}");
    nh_workspace *workspace = new_workspace(list);
    const nh_tiles hand = tiles_of("11B 23456789B ESWN");
    nh_completed row;
    nh_checking checking;
    nh_error error;
    ck_assert_int_eq(nh_check(workspace, &hand, NULL, &row, 1, &checking, &error), NH_ERROR_LIMIT);
    ck_assert_str_eq(error.text, "the hand completes \"Sand\" in too many ways");
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* A hand full of jokers, of which no target gives the most points of the pattern. */
START_TEST(too_many_ways_are_refused) {
    nh_list *list = read_list(many_ways_list);
    nh_workspace *workspace = new_workspace(list);
    nh_tiles hand = tiles_of("EE JJJJJJJJJJJJ");
    nh_completed row;
    nh_checking checking;
    nh_error error;
    ck_assert_int_eq(nh_check(workspace, &hand, NULL, &row, 1, &checking, &error), NH_ERROR_LIMIT);
    ck_assert_str_eq(error.text, "the hand completes \"Anything\" in too many ways");
    ck_assert(checking.completed == 0 && checking.nearest == NH_AWAY_NONE);
    hand = tiles_of("RR JJJJJJJJJJJJ");
    ck_assert_int_eq(nh_check(workspace, &hand, NULL, &row, 1, &checking, &error), NH_OK);
    ck_assert(checking.completed == 1 && row.variant == 1 && row.points == 9);
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* ---------------------------------------------------------------- refused --- */

START_TEST(what_cannot_be_checked_is_refused) {
    nh_list *list = read_list(one_suit);
    nh_workspace *workspace = new_workspace(list);
    nh_tiles hand = tiles_of("11122233344455B");
    nh_completed row;
    nh_checking checking = {.rows = 7};
    nh_error error;
    nh_check_question wrong[3] = {NH_CHECK_QUESTION, NH_CHECK_QUESTION, NH_CHECK_QUESTION};
    wrong[0].size = 0;
    wrong[1].row_size = 0;
    wrong[2].checking_size = 0;
    for (int i = 0; i < 3; i++)
        ck_assert_int_eq(nh_check(workspace, &hand, &wrong[i], &row, 1, &checking, &error),
                         NH_ERROR_ARGUMENT);
    ck_assert_uint_eq(checking.rows, 7);
    nh_situation situation = NH_SITUATION;
    nh_check_question question = NH_CHECK_QUESTION;
    question.situation = &situation;
    situation.seen = tiles_of("1B 1B");
    ck_assert_int_eq(nh_check(workspace, &hand, &question, &row, 1, &checking, &error),
                     NH_ERROR_TILES);
    ck_assert(checking.rows == 0 && checking.nearest == NH_AWAY_NONE);
    situation.seen = (nh_tiles){{0}};
    situation.seat = (nh_wind)5;
    ck_assert_int_eq(nh_check(workspace, &hand, &question, &row, 1, &checking, &error),
                     NH_ERROR_ARGUMENT);
    situation.seat = NH_WIND_UNKNOWN;
    nh_cancel *cancel = NULL;
    ck_assert_int_eq(nh_cancel_new(NULL, &cancel), NH_OK);
    nh_cancel_now(cancel);
    question.cancel = cancel;
    ck_assert_int_eq(nh_check(workspace, &hand, &question, &row, 1, &checking, &error),
                     NH_ERROR_CANCELLED);
    ck_assert(checking.rows == 0 && checking.nearest == NH_AWAY_NONE);
    nh_cancel_clear(cancel);
    ck_assert_int_eq(nh_check(workspace, &hand, &question, &row, 1, &checking, &error), NH_OK);
    ck_assert_uint_eq(checking.completed, 1);
    nh_cancel_free(cancel);
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("check");
    ADD_TESTS(suite, "check", hands_of_random_lists, waits_of_one_suit,
              useful_tiles_complete_a_hand_that_waits, hands_that_wait_for_many,
              variants_give_their_own_points, jokers_serve_in_one_choice_at_a_time,
              rows_go_by_their_points, targets_that_are_too_much_to_lay_out,
              too_many_ways_are_refused, what_cannot_be_checked_is_refused);
    return run_suite(suite);
}
