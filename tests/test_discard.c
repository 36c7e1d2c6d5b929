/*
 * Discards: every figure of every choice against the plain way, over random lists with
 * sets on the table and jokers; orders, and the first few of them; published counts of
 * waits; batches.
 *   [4] endlessriichi, "Computing all Chinitsu possibilities", 24 August 2016.
 * NEARHAND_SEED chooses the lists, NEARHAND_TRIES how many.
 */
#include "listed_rests.h"

#include "ask.h"
#include "draws.h"
#include "suite.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    LISTS = 60,
    PATTERNS = 3,
    TABLES = 2,          /* of sets, for each list */
    HANDS = 3,           /* for each table */
    PLAIN_MOST = 400000, /* draws times sums that the reference goes through */
    SOME = 3,            /* choices of a hand that are held against a listing of all draws */
    DEALS = 5,           /* of a shipped list */
    BATCH = 40
};

/* What was compared, printed at the end. */
static struct {
    long choices, plain, listed, none, jokers, useful, joker_useful, complete, clipped, sets, waits;
} done;

/* A hand, what is asked of it, and the answer. */
typedef struct asking {
    trial at; /* its workspace is that of the rest */
    table on;
    rests all[PATTERNS_MOST];
    nh_list *rest;
    uint8_t chosen[PATTERNS_MOST];
    nh_discard_question asked;
    nh_discarding discarding;
    nh_discard_choice choices[NH_DISCARDS_MAX];
} asking;

static const char *describe(const asking *asked, const nh_discard_choice *choice) {
    static char text[22000];
    char sets[NH_TILES_TEXT_SIZE];
    nh_tiles_format(&asked->on.tiles, NH_STYLE_LETTERS, sets, sizeof sets);
    snprintf(text, sizeof text, "discard %s, %zu sets of \"%s\", look %d, order %d: %s",
             nh_kind_notation(choice->kind), asked->on.count, sets, asked->asked.look,
             (int)asked->asked.order, explain(&asked->at));
    return text;
}

#define SAME(asked, choice, got, expected)                                                         \
    do {                                                                                           \
        if ((got) != (expected)) {                                                                 \
            ck_abort_msg("%s is %llu, expected %llu; %s", #got, (unsigned long long)(got),         \
                         (unsigned long long)(expected), describe(asked, choice));                 \
        }                                                                                          \
    } while (0)

/* ------------------------------------------------------- the plain way --- */

static void find_all_away(const asking *asked, const remaining *rest, uint8_t *away) {
    const trial *at = &asked->at;
    nh_tiles gone = rest->seen;
    ck_assert(nh_tiles_add(&gone, &asked->on.tiles));
    for (size_t i = 0; i < at->patterns; i++) {
        away[i] = asked->chosen[i] == 0
                      ? NH_AWAY_NONE
                      : (uint8_t)rests_away(at, &asked->all[i], &rest->hand, &gone);
    }
}

static int least_of(const uint8_t *away, size_t patterns) {
    int least = NH_AWAY_NONE;
    for (size_t i = 0; i < patterns; i++) {
        least = away[i] < least ? away[i] : least;
    }
    return least;
}

static int away_by_rests(const remaining *rest, const void *context) {
    const asking *asked = context;
    uint8_t away[PATTERNS_MOST];
    find_all_away(asked, rest, away);
    return least_of(away, asked->at.patterns);
}

static int away_by_distances(const remaining *rest, const void *context) {
    const asking *asked = context;
    const trial *at = &asked->at;
    uint8_t away[PATTERNS_MOST];
    nh_situation situation = at->situation;
    situation.seen = rest->seen;
    MUST(at, nh_distances(at->workspace, &rest->hand, &situation, away, NULL) == NH_OK);
    for (size_t i = 0; i < at->patterns; i++) {
        away[i] = asked->chosen[i] != 0 ? away[i] : NH_AWAY_NONE;
    }
    return least_of(away, at->patterns);
}

static remaining after_discard(const asking *asked, int kind) {
    const trial *at = &asked->at;
    nh_tiles tile = {{0}};
    tile.count[kind] = 1;
    return pass_tiles(nh_list_set(asked->rest), &at->hand, &at->situation.seen, &tile);
}

/* A rest of exactly the hand's tiles that the hand is. */
static bool is_complete(const asking *asked) {
    const trial *at = &asked->at;
    nh_tiles gone = at->situation.seen;
    ck_assert(nh_tiles_add(&gone, &asked->on.tiles));
    for (size_t p = 0; p < at->patterns; p++) {
        for (size_t i = 0; i < asked->all[p].count && asked->chosen[p] != 0; i++) {
            const ref_sum *sum = &asked->all[p].sums[i];
            if (nh_tiles_total(&sum->tiles) == nh_tiles_total(&at->hand) &&
                reference_sum_away(at->plain, sum, &at->hand, &gone) == 0) {
                return true;
            }
        }
    }
    return false;
}

/* -------------------------------------------------------------- figures --- */

static void check_distances(const asking *asked, const nh_discard_choice *choice) {
    uint8_t away[PATTERNS_MOST];
    const remaining rest = after_discard(asked, choice->kind);
    unsigned nearest = 0, within_one = 0;
    find_all_away(asked, &rest, away);
    const int least = least_of(away, asked->at.patterns);
    for (size_t i = 0; i < asked->at.patterns; i++) {
        nearest += away[i] != NH_AWAY_NONE && away[i] == least;
        within_one += away[i] != NH_AWAY_NONE && away[i] <= least + 1;
    }
    SAME(asked, choice, choice->away, (unsigned)least);
    SAME(asked, choice, choice->nearest, nearest);
    SAME(asked, choice, choice->within_one, within_one);
    done.none += least == NH_AWAY_NONE;
}

/* Each unseen tile by itself. */
static void check_useful(const asking *asked, const nh_discard_choice *choice, away_of *away) {
    remaining rest = after_discard(asked, choice->kind);
    unsigned count = 0;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        unsigned expected = 0;
        if (rest.unseen.count[kind] > 0 && choice->away != NH_AWAY_NONE) {
            rest.hand.count[kind]++;
            expected = away(&rest, asked) < choice->away ? rest.unseen.count[kind] : 0;
            rest.hand.count[kind]--;
        }
        SAME(asked, choice, choice->useful.count[kind], expected);
        count += expected;
    }
    SAME(asked, choice, choice->useful_count, count);
    done.useful += count > 0;
    done.joker_useful += choice->useful.count[NH_JOKER] > 0;
}

/* One away, and as large as when it waits: the useful tiles are those of which one more
 * completes the hand, so useful_count / unseen is the chance of it. */
static void check_waits(const asking *asked, const nh_discard_choice *choice) {
    remaining rest = after_discard(asked, choice->kind);
    nh_check_question question = NH_CHECK_QUESTION;
    nh_situation situation = asked->at.situation;
    if (choice->away != 1 || nh_tiles_total(&rest.hand) + 1 != nh_list_hand_size(asked->rest) ||
        nh_list_hand_most(asked->rest) != nh_list_hand_size(asked->rest) ||
        memchr(asked->chosen, 0, asked->at.patterns) != NULL) {
        return;
    }
    situation.seen = rest.seen;
    question.situation = &situation;
    unsigned completing = 0;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        nh_checking checking;
        nh_tiles hand = rest.hand;
        if (rest.unseen.count[kind] == 0) {
            continue;
        }
        hand.count[kind]++;
        MUST(&asked->at,
             nh_check(asked->at.workspace, &hand, &question, NULL, 0, &checking, NULL) == NH_OK);
        completing += checking.completed > 0 ? rest.unseen.count[kind] : 0;
    }
    SAME(asked, choice, choice->useful_count, completing);
    done.waits++;
}

static void check_expected(const asking *asked, const nh_discard_choice *choice, away_of *away) {
    const remaining rest = after_discard(asked, choice->kind);
    const draw_sums sums = list_draws(&rest, asked->discarding.look, 0, away, asked);
    SAME(asked, choice, asked->discarding.draws, sums.ways);
    SAME(asked, choice, choice->expected, sums.none ? UINT64_MAX : sums.expected);
}

static nh_order rank_order(nh_discard_order order) {
    return order == NH_DISCARD_CHANCE  ? NH_ORDER_CHANCE
           : order == NH_DISCARD_WORTH ? NH_ORDER_WORTH
                                       : NH_ORDER_AWAY;
}

static void check_chance(const asking *asked, const nh_discard_choice *choice) {
    const trial *at = &asked->at;
    const remaining rest = after_discard(asked, choice->kind);
    nh_rank_question rank = NH_RANK_QUESTION;
    nh_situation situation = at->situation;
    nh_ranked row = {.pattern = 0};
    nh_ranking ranking;
    situation.seen = rest.seen;
    rank.situation = &situation;
    rank.chosen = asked->chosen;
    rank.draws = asked->asked.draws;
    rank.order = rank_order(asked->asked.order);
    MUST(at, nh_rank(at->workspace, &rest.hand, &rank, &row, 1, &ranking, NULL) == NH_OK);
    SAME(asked, choice, choice->pattern, row.pattern);
    MUST(at, nh_natural_compare(&choice->completing, &row.completing) == 0);
    MUST(at, choice->chance >= row.chance && choice->chance <= row.chance);
    MUST(at, nh_natural_compare(&asked->discarding.chance_draws, &ranking.draws) == 0);
}

static long sums_of(const asking *asked) {
    long sums = 0;
    for (size_t i = 0; i < asked->at.patterns; i++) {
        sums += asked->chosen[i] != 0 ? (long)asked->all[i].count : 0;
    }
    return sums;
}

static void check_choice(const asking *asked, const nh_discard_choice *choice, bool listed) {
    const remaining rest = after_discard(asked, choice->kind);
    const long draws = different_sets(&rest.unseen, asked->discarding.look);
    const bool plain = (draws + NH_KINDS) * sums_of(asked) <= PLAIN_MOST;
    check_distances(asked, choice);
    check_chance(asked, choice);
    check_useful(asked, choice, plain ? away_by_rests : away_by_distances);
    check_waits(asked, choice);
    if (listed) {
        check_expected(asked, choice, plain ? away_by_rests : away_by_distances);
        done.plain += plain;
        done.listed++;
    }
    done.choices++;
}

/* ---------------------------------------------------------------- order --- */

static double worth_of(const asking *asked, const nh_discard_choice *choice) {
    const nh_pattern *pattern = nh_list_pattern(asked->rest, choice->pattern);
    return pattern->has_points ? pattern->points * nh_natural_double(&choice->completing) : 0;
}

static int compare_choices_of(const asking *asked, const nh_discard_choice *a,
                              const nh_discard_choice *b) {
    const double worth_a = worth_of(asked, a), worth_b = worth_of(asked, b);
    const int away = a->away - b->away;
    const int expected = (a->expected > b->expected) - (a->expected < b->expected);
    const int chance = nh_natural_compare(&b->completing, &a->completing);
    const int worth =
        asked->asked.order == NH_DISCARD_WORTH ? (worth_a < worth_b) - (worth_a > worth_b) : 0;
    const int orders[][4] = {[NH_DISCARD_AWAY] = {away, expected, chance, 0},
                             [NH_DISCARD_EXPECTED] = {expected, chance, away, 0},
                             [NH_DISCARD_CHANCE] = {chance, away, expected, 0},
                             [NH_DISCARD_WORTH] = {worth, chance, away, expected}};
    for (int i = 0; i < 4; i++) {
        if (orders[asked->asked.order][i] != 0) {
            return orders[asked->asked.order][i];
        }
    }
    return a->kind - b->kind;
}

static bool same_figures(const nh_discard_choice *a, const nh_discard_choice *b) {
    return a->kind == b->kind && a->away == b->away && a->nearest == b->nearest &&
           a->within_one == b->within_one && a->pattern == b->pattern &&
           a->useful_count == b->useful_count && nh_tiles_equal(&a->useful, &b->useful) &&
           a->expected == b->expected && a->chance >= b->chance && a->chance <= b->chance &&
           nh_natural_compare(&a->completing, &b->completing) == 0;
}

static void ask(asking *asked, size_t capacity, nh_discard_choice *choices,
                nh_discarding *discarding) {
    nh_error error = {NH_OK, 0, ""};
    asked->asked.situation = &asked->at.situation;
    asked->asked.chosen = asked->chosen;
    const nh_status status = nh_discard(asked->at.workspace, &asked->at.hand, &asked->asked,
                                        choices, capacity, discarding, &error);
    if (status != NH_OK) {
        ck_abort_msg("%s: %s", error.text, explain(&asked->at));
    }
}

/* Sorted, and the first few of them are the first of all. */
static void check_order(asking *asked) {
    nh_discard_choice few[NH_DISCARDS_MAX];
    nh_discarding discarding;
    const size_t rows = asked->discarding.rows;
    for (size_t i = 1; i < rows; i++) {
        MUST(&asked->at, compare_choices_of(asked, &asked->choices[i - 1], &asked->choices[i]) < 0);
    }
    for (size_t capacity = 0; capacity <= rows; capacity += 1 + capacity) {
        ask(asked, capacity, few, &discarding);
        MUST(&asked->at, discarding.rows == capacity && discarding.discards == rows);
        for (size_t i = 0; i < capacity; i++) {
            MUST(&asked->at, same_figures(&few[i], &asked->choices[i]));
        }
    }
}

/* ---------------------------------------------------------- random lists --- */

static int different_tiles(const nh_tiles *hand) {
    int kinds = 0;
    for (int kind = 0; kind < NH_JOKER; kind++) {
        kinds += hand->count[kind] > 0;
    }
    return kinds;
}

static void pick_situation(asking *asked, nh_tiles *pool) {
    random_source *source = asked->at.source;
    const int total = nh_tiles_total(pool);
    const int way = random_below(source, 10);
    const int left = random_below(source, 5); /* so many stay unseen, late in a game */
    const int some = random_below(source, total / 2 + 1);
    const int gone = way < 4 ? 0 : way < 8 ? some : total - left;
    asked->at.situation.seen = random_draw(source, pool, gone > 0 ? gone : 0);
}

static void pick_question(asking *asked) {
    trial *at = &asked->at;
    random_source *source = at->source;
    nh_tiles pool = *nh_list_set(asked->rest);
    const int whole = nh_list_hand_size(asked->rest);
    const int other = 1 + random_below(source, nh_list_hand_most(asked->rest));
    const int size = random_percent(source, 80) ? whole : other;
    at->hand = hand_near_rests(at, asked->all, size, &pool);
    pick_situation(asked, &pool);
    const bool some = random_percent(source, 20);
    for (size_t i = 0; i < at->patterns; i++) {
        const bool here = random_percent(source, 50);
        asked->chosen[i] = !some || here;
    }
    asked->asked = (nh_discard_question)NH_DISCARD_QUESTION;
    asked->asked.look = 1 + random_below(source, NH_LOOK_MAX);
    asked->asked.draws = random_below(source, 30);
    asked->asked.order = (nh_discard_order)random_below(source, 4);
}

static void check_hand(asking *asked) {
    trial *at = &asked->at;
    ask(asked, NH_DISCARDS_MAX, asked->choices, &asked->discarding);
    const remaining before =
        pass_tiles(nh_list_set(asked->rest), &at->hand, &at->situation.seen, &(nh_tiles){{0}});
    const unsigned unseen = (unsigned)nh_tiles_total(&before.unseen);
    const unsigned look = (unsigned)asked->asked.look;
    MUST(at, asked->discarding.unseen == unseen);
    MUST(at, asked->discarding.look == (look < unseen ? look : unseen));
    MUST(at, asked->discarding.away == away_by_rests(&before, asked));
    MUST(at, asked->discarding.complete == is_complete(asked));
    MUST(at, asked->discarding.rows == (size_t)different_tiles(&at->hand));
    MUST(at, asked->discarding.discards == asked->discarding.rows);
    const int first = random_below(at->source, 8);
    for (size_t i = 0; i < asked->discarding.rows; i++) {
        check_choice(asked, &asked->choices[i], i == 0 || (i + (size_t)first) % SOME == 0);
    }
    check_order(asked);
    done.complete += asked->discarding.complete;
    done.clipped += asked->discarding.look < look;
    done.jokers += at->hand.count[NH_JOKER] > 0;
    done.sets += asked->on.count > 0;
}

static void check_table(asking *asked) {
    trial *at = &asked->at;
    nh_error error = {NH_OK, 0, ""};
    nh_workspace *whole = at->workspace;
    asked->on = lay_table(at);
    for (size_t p = 0; p < at->patterns; p++) {
        asked->all[p] = rests_of(at, p, &asked->on);
    }
    ck_assert_msg(nh_list_rest(at->list, asked->on.sets, asked->on.count, NULL, &asked->rest,
                               &error) == NH_OK,
                  "%s: %s", error.text, explain(at));
    ck_assert_int_eq(nh_workspace_new(asked->rest, NULL, &at->workspace), NH_OK);
    for (int hand = 0; hand < HANDS; hand++) {
        pick_question(asked);
        check_hand(asked);
    }
    nh_workspace_free(at->workspace);
    nh_list_free(asked->rest);
    at->workspace = whole;
    for (size_t p = 0; p < at->patterns; p++) {
        free(asked->all[p].sums);
    }
}

START_TEST(random_lists) {
    static asking asked;
    const int lists = random_tries(LISTS);
    trial *at = &asked.at;
    at->seed = random_seed(20261126);
    random_source source = {at->seed};
    at->source = &source;
    for (int i = 0; i < lists; i++) {
        open_list(at, random_list(&source, PATTERNS, NH_HAND_MAX));
        at->situation = (nh_situation)NH_SITUATION;
        const bool winds = random_percent(&source, 50);
        const int prevailing = random_below(&source, 5);
        const int seat = random_below(&source, 5);
        at->situation.prevailing = winds ? (nh_wind)prevailing : NH_WIND_UNKNOWN;
        at->situation.seat = winds ? (nh_wind)seat : NH_WIND_UNKNOWN;
        expand(at);
        for (int turn = 0; turn < TABLES; turn++) {
            at->situation.seen = (nh_tiles){{0}};
            check_table(&asked);
        }
        release(at);
        close_list(at);
    }
    at->source = NULL;
    printf("seed %llu: %ld choices, %ld with all draws listed (%ld by the reference), %ld with "
           "useful tiles (%ld jokers), %ld without a live target; hands: %ld with sets, %ld with "
           "jokers, %ld complete, %ld with fewer unseen tiles than looked ahead; %ld choices that "
           "wait for one tile\n",
           (unsigned long long)at->seed, done.choices, done.listed, done.plain, done.useful,
           done.joker_useful, done.none, done.sets, done.jokers, done.complete, done.clipped,
           done.waits);
    ck_assert_int_gt(done.plain, lists);
    ck_assert_int_gt(done.joker_useful, lists / 4);
    ck_assert_int_gt(done.sets, lists / 2);
    ck_assert_int_gt(done.complete, lists / 30);
    ck_assert_int_gt(done.clipped, lists / 30);
    ck_assert_int_gt(done.waits, lists / 4);
}
END_TEST

/* ----------------------------------------------------------- shipped lists --- */

static void open_shipped(asking *asked, int which) {
    static const char *const names[3] = {"club", "jokers", "traditional"};
    char path[1024];
    snprintf(path, sizeof path, "%s/patterns/%s.json", NH_TEST_ROOT, names[which]);
    ck_assert_int_eq(nh_list_load(path, NULL, &asked->at.list, NULL), NH_OK);
    ck_assert_int_eq(nh_workspace_new(asked->at.list, NULL, &asked->at.workspace), NH_OK);
    asked->rest = asked->at.list;
    asked->at.patterns = nh_list_size(asked->at.list);
    static char name[32]; /* stands for the list where a failure is shown */
    snprintf(name, sizeof name, "%s", names[which]);
    asked->at.json = name;
}

/* Dealt hands in each order, held against distances. */
START_TEST(shipped_lists) {
    static asking asked;
    trial *at = &asked.at;
    at->seed = random_seed(20261127) + (uint64_t)_i;
    random_source source = {at->seed};
    at->source = &source;
    open_shipped(&asked, _i);
    at->situation = (nh_situation)NH_SITUATION;
    memset(asked.chosen, 1, sizeof asked.chosen);
    for (int deal = 0; deal < DEALS; deal++) {
        nh_tiles pool = *nh_list_set(at->list);
        at->hand = random_draw(&source, &pool, nh_list_hand_size(at->list));
        at->situation.seen = random_draw(&source, &pool, deal * 15);
        asked.asked = (nh_discard_question)NH_DISCARD_QUESTION;
        asked.asked.order = (nh_discard_order)(deal % 4);
        ask(&asked, NH_DISCARDS_MAX, asked.choices, &asked.discarding);
        MUST(at, asked.discarding.rows == (size_t)different_tiles(&at->hand));
        for (size_t i = 0; i < asked.discarding.rows; i++) {
            check_useful(&asked, &asked.choices[i], away_by_distances);
            check_chance(&asked, &asked.choices[i]);
        }
        check_expected(&asked, &asked.choices[0], away_by_distances);
        check_order(&asked);
    }
    at->source = NULL;
    nh_workspace_free(at->workspace);
    nh_list_free(at->list);
}
END_TEST

/* ------------------------------------------------------------------ waits --- */

#define ONE_SUIT                                                                                   \
    "{\"format\":1,\"title\":\"One suit\",\"hand\":14,\"patterns\":[{\"name\":\"Sets and a "       \
    "pair\",\"groups\":[{\"set\":\"any\",\"times\":4},{\"pair\":\"any\"}],\"limits\":"             \
    "{\"honours\":\"none\",\"suits\":[1,1]}}]}"

static nh_list *read_text(const char *json) {
    nh_list *list = NULL;
    nh_mistakes *mistakes = NULL;
    const nh_status status = nh_list_read(json, strlen(json), NULL, &list, &mistakes);
    ck_assert_msg(status == NH_OK, "%s: %s", nh_status_text(status),
                  nh_mistakes_size(mistakes) ? nh_mistakes_at(mistakes, 0)->text : "");
    return list;
}

/* What a hand of 13 tiles waits for: with one tile more that no target has any use for,
 * which is the best to discard. */
static nh_discard_choice waits_of(nh_workspace *workspace, nh_tiles hand, int stranger) {
    nh_discard_question question = NH_DISCARD_QUESTION;
    nh_discard_choice choice = {.away = NH_AWAY_NONE};
    nh_discarding discarding;
    question.look = 1;
    hand.count[stranger]++;
    ck_assert_int_eq(nh_discard(workspace, &hand, &question, &choice, 1, &discarding, NULL), NH_OK);
    return choice;
}

static int kinds_of(const nh_tiles *tiles) {
    int kinds = 0;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        kinds += tiles->count[kind] > 0;
    }
    return kinds;
}

/* Counts the hands of one suit by the kinds that they wait for. */
static void count_waits(nh_workspace *workspace, nh_tiles *hand, int rank, int left, long *waits) {
    if (rank == 9 && left == 0) {
        const nh_discard_choice choice = waits_of(workspace, *hand, NH_EAST);
        const bool ready = choice.away == 1 && choice.kind == NH_EAST;
        ck_assert(!ready || choice.expected == 136 - 14 - choice.useful_count);
        waits[ready ? kinds_of(&choice.useful) : 0]++;
    }
    for (int copies = 0; rank < 9 && copies <= 4 && copies <= left; copies++) {
        hand->count[NH_BAM_1 + rank] = (uint8_t)copies;
        count_waits(workspace, hand, rank + 1, left - copies, waits);
        hand->count[NH_BAM_1 + rank] = 0;
    }
}

START_TEST(published_waits) {
    static const long published[10] = {0, 14067, 14493, 6739, 2948, 1335, 392, 79, 16, 1}; /* [4] */
    long waits[NH_KINDS + 1] = {0}, all = 0;
    nh_list *list = read_text(ONE_SUIT);
    nh_workspace *workspace = NULL;
    nh_tiles hand = {{0}};
    ck_assert_int_eq(nh_workspace_new(list, NULL, &workspace), NH_OK);
    count_waits(workspace, &hand, 0, 13, waits);
    for (int kinds = 1; kinds < 10; kinds++) {
        ck_assert_int_eq(waits[kinds], published[kinds]);
        all += waits[kinds];
    }
    ck_assert_int_eq(all, 40070); /* [4] */
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

static nh_tiles tiles_of(const char *text) {
    nh_tiles tiles = {{0}};
    ck_assert_int_eq(nh_tiles_parse(NULL, text, strlen(text), &tiles, NULL), NH_OK);
    return tiles;
}

/* Nine gates wait for every rank, thirteen orphans without a pair for each of their
 * kinds: common knowledge. */
START_TEST(many_waits) {
    nh_list *list = read_text(
        "{\"format\":1,\"title\":\"Two\",\"hand\":14,\"patterns\":[{\"name\":\"Sets and a pair\","
        "\"groups\":[{\"set\":\"any\",\"times\":4},{\"pair\":\"any\"}]},{\"name\":\"Orphans\","
        "\"groups\":[{\"one_of\":[{\"single\":[1,9],\"suit\":\"any\"},{\"single\":\"wind\"},"
        "{\"single\":\"dragon\"}],\"distinct\":true,\"times\":12},{\"pair\":\"any\"}]}]}");
    nh_workspace *workspace = NULL;
    ck_assert_int_eq(nh_workspace_new(list, NULL, &workspace), NH_OK);
    nh_discard_choice gates = waits_of(workspace, tiles_of("1112345678999D"), NH_BAM_1 + 4);
    ck_assert(gates.kind == NH_BAM_1 + 4 && gates.away == 1);
    ck_assert(kinds_of(&gates.useful) == 9 && gates.useful_count == 36 - 13);
    nh_discard_choice orphans =
        waits_of(workspace, tiles_of("19B 19C 19D ESWN RGWh"), NH_BAM_1 + 4);
    ck_assert(orphans.kind == NH_BAM_1 + 4 && orphans.away == 1);
    ck_assert(kinds_of(&orphans.useful) == 13 && orphans.useful_count == 39);
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* With one tile unseen beside jokers no draw of three is without them; which tiles are
 * useful is known all the same. */
START_TEST(jokers_unseen) {
    static asking asked;
    trial *at = &asked.at;
    at->list = read_text(
        "{\"format\":1,\"title\":\"Pungs\",\"hand\":6,\"tiles\":{\"jokers\":4},\"patterns\":[{"
        "\"name\":\"Pungs\",\"groups\":[{\"pung\":\"any\",\"times\":2}]}]}");
    static char name[] = "pungs"; /* stands for the list where a failure is shown */
    at->json = name;
    at->patterns = 1;
    at->situation = (nh_situation)NH_SITUATION;
    asked.rest = at->list;
    asked.chosen[0] = 1;
    ck_assert_int_eq(nh_workspace_new(at->list, NULL, &at->workspace), NH_OK);
    at->hand = tiles_of("444B 66C E");
    for (int lone = 0; lone < 2; lone++) {
        const nh_tiles unseen = tiles_of(lone == 0 ? "6C JJ" : "S JJ");
        at->situation.seen = *nh_list_set(at->list);
        ck_assert(nh_tiles_take(&at->situation.seen, &at->hand));
        ck_assert(nh_tiles_take(&at->situation.seen, &unseen));
        asked.asked = (nh_discard_question)NH_DISCARD_QUESTION;
        ask(&asked, NH_DISCARDS_MAX, asked.choices, &asked.discarding);
        ck_assert_uint_eq(asked.discarding.rows, 3);
        ck_assert_uint_eq(asked.choices[0].kind, NH_EAST);
        ck_assert_uint_eq(asked.choices[0].useful_count, lone == 0 ? 3 : 2);
        for (size_t i = 0; i < asked.discarding.rows; i++) {
            check_useful(&asked, &asked.choices[i], away_by_distances);
            check_expected(&asked, &asked.choices[i], away_by_distances);
        }
    }
    nh_workspace_free(at->workspace);
    nh_list_free(at->list);
}
END_TEST

/* ----------------------------------------------------------------- batches --- */

START_TEST(batches) {
    static asking asked;
    static nh_tiles hands[BATCH];
    static nh_discard_choice alone[NH_DISCARDS_MAX], together[3][BATCH * NH_DISCARDS_MAX];
    static nh_discarding one, all[3][BATCH];
    nh_status statuses[BATCH];
    trial *at = &asked.at;
    at->seed = random_seed(20261128);
    random_source source = {at->seed};
    open_shipped(&asked, 0);
    for (int i = 0; i < BATCH; i++) {
        nh_tiles pool = *nh_list_set(at->list);
        const int size = nh_list_hand_size(at->list);
        hands[i] = random_draw(&source, &pool, i % 11 == 5 ? 0 : size);
    }
    nh_discard_hands batch = NH_DISCARD_HANDS;
    batch.hands = hands;
    batch.hand_count = BATCH;
    batch.statuses = statuses;
    for (unsigned jobs = 1; jobs <= 3; jobs++) {
        batch.jobs = jobs;
        batch.top = jobs == 2 ? 1 : NH_DISCARDS_MAX;
        batch.choices = together[jobs - 1];
        batch.discardings = all[jobs - 1];
        ck_assert_int_eq(nh_discard_batch(at->list, &batch, NULL), NH_OK);
        for (size_t i = 0; i < BATCH; i++) {
            const nh_status status =
                nh_discard(at->workspace, &hands[i], NULL, alone, batch.top, &one, NULL);
            ck_assert_int_eq(status, statuses[i]);
            ck_assert_int_eq(status, i % 11 == 5 ? NH_ERROR_TILES : NH_OK);
            ck_assert_uint_eq(one.rows, batch.discardings[i].rows);
            ck_assert(one.away == batch.discardings[i].away);
            for (size_t row = 0; row < one.rows; row++) {
                ck_assert(same_figures(&alone[row], &batch.choices[i * batch.top + row]));
            }
        }
    }
    nh_workspace_free(at->workspace);
    nh_list_free(at->list);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("discard");
    TCase *tcase = tcase_create("discard");
    tcase_set_timeout(tcase, 0);
    tcase_add_test(tcase, random_lists);
    tcase_add_loop_test(tcase, shipped_lists, 0, 3);
    tcase_add_test(tcase, published_waits);
    tcase_add_test(tcase, many_waits);
    tcase_add_test(tcase, jokers_unseen);
    suite_add_tcase(suite, tcase);
    TCase *threads = tcase_create("threads");
    tcase_set_tags(threads, "threads");
    tcase_set_timeout(threads, 0);
    tcase_add_test(threads, batches);
    suite_add_tcase(suite, threads);
    return run_suite(suite);
}
