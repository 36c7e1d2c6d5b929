/*
 * What is left of random lists when sets lie on the table, against listing: every
 * target of the reference is laid out in every way, each way to give the sets groups
 * of their own leaves a rest, and distances are those of the listed rests.
 * Layouts themselves are held against the reference in test_layout.
 * NEARHAND_SEED chooses the lists, NEARHAND_LISTS how many.
 */
#include "trial.h"

#include "ask.h"
#include "suite.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LISTS = 120, PATTERNS = 3, TABLES = 6, HANDS = 8, RESTS_MOST = 400000 };

static struct { long tables, distances, live, compared, jokers; } done;

/* The rests of one pattern. */
typedef struct rests {
    ref_sum *sums;
    size_t count, capacity;
} rests;

static void push_rest(rests *all, const nh_tiles *tiles, const nh_tiles *open) {
    if (all->count == all->capacity) {
        all->capacity = all->capacity == 0 ? 64 : 2 * all->capacity;
        all->sums = realloc(all->sums, all->capacity * sizeof *all->sums);
        ck_assert_ptr_nonnull(all->sums);
    }
    ck_assert_uint_lt(all->count, RESTS_MOST);
    all->sums[all->count++] = (ref_sum){*tiles, *open};
}

/* The sets on the table. */
typedef struct table {
    nh_set sets[NH_SETS_MAX];
    size_t count;
    nh_tiles tiles; /* as they lie there */
} table;

/* ----------------------------------------------------------- plain rests --- */

typedef struct listing {
    const table *on;
    rests *out;
    const trial *at;
    size_t pattern;
} listing;

static bool is_piece(const nh_piece *piece, const nh_set *set) {
    const bool row = piece->shape == NH_CHOW || piece->shape == NH_RUN;
    return piece->kind == set->kind && piece->tiles == set->tiles && row == (set->shape == NH_CHOW);
}

/* Gives set number `at` and those behind it pieces that are not used. */
static void give_pieces(const listing *asked, const nh_layout *layout, bool *used, size_t at) {
    if (at < asked->on->count) {
        for (int i = 0; i < layout->pieces; i++) {
            if (!used[i] && is_piece(&layout->piece[i], &asked->on->sets[at])) {
                used[i] = true;
                give_pieces(asked, layout, used, at + 1);
                used[i] = false;
            }
        }
        return;
    }
    nh_tiles tiles = {{0}}, open = {{0}};
    for (int i = 0; i < layout->pieces; i++) {
        nh_tiles piece;
        nh_piece_tiles(&layout->piece[i], &piece);
        if (!used[i]) {
            ck_assert(nh_tiles_add(&tiles, &piece));
            ck_assert(layout->piece[i].jokers == 0 || nh_tiles_add(&open, &piece));
        }
    }
    push_rest(asked->out, &tiles, &open);
}

/* A concealed variant goes with no set on the table. */
static bool list_rests(const nh_layout *layout, void *context) {
    const listing *asked = context;
    if (asked->on->count > 0 &&
        nh_list_variant(asked->at->list, asked->pattern, layout->variant)->concealed) {
        return true;
    }
    bool used[NH_TARGET_MAX] = {false};
    give_pieces(context, layout, used, 0);
    return true;
}

static int compare_sums(const void *a, const void *b) {
    return memcmp(a, b, sizeof(ref_sum));
}

/* All rests of a pattern, each once. */
static rests rests_of(const trial *at, size_t pattern, const table *on) {
    rests all = {0};
    const ref_targets *targets = &at->targets[pattern];
    const listing asked = {on, &all, at, pattern};
    nh_layout_question question = NH_LAYOUT_QUESTION;
    question.prevailing = at->situation.prevailing;
    question.seat = at->situation.seat;
    for (size_t i = 0; i < targets->count; i = reference_next(targets, i)) {
        MUST(at, nh_layouts_each(at->list, pattern, &targets->sums[i].tiles, &question, list_rests,
                                 (void *)&asked, NULL) == NH_OK);
    }
    if (all.count > 0) {
        qsort(all.sums, all.count, sizeof *all.sums, compare_sums);
    }
    size_t kept = 0;
    for (size_t i = 0; i < all.count; i++) {
        if (kept == 0 || compare_sums(&all.sums[i], &all.sums[kept - 1]) != 0) {
            all.sums[kept++] = all.sums[i];
        }
    }
    all.count = kept;
    return all;
}

/* ---------------------------------------------------------------- tables --- */

static bool keep_layout(const nh_layout *layout, void *context) {
    *(nh_layout *)context = *layout;
    return false;
}

/* Puts a set on the table, with jokers in it now and then, if the tiles allow it. */
static void put(const trial *at, table *on, nh_set set) {
    const nh_tiles *whole = nh_list_set(at->list);
    nh_tiles tiles, sum = on->tiles;
    if (set.shape != NH_CHOW && whole->count[NH_JOKER] > 0 && random_percent(at->source, 40)) {
        set.jokers = (uint8_t)(1 + random_below(at->source, set.tiles - 1));
    }
    nh_set_tiles(&set, &tiles);
    ck_assert(nh_tiles_add(&sum, &tiles));
    for (int kind = 0; kind < NH_KINDS; kind++) {
        if (sum.count[kind] > whole->count[kind]) {
            return;
        }
    }
    done.jokers += set.jokers > 0;
    on->tiles = sum;
    on->sets[on->count++] = set;
}

/* Sets of a random target's layout, and now and then one of no target. */
static table lay_table(const trial *at) {
    table on = {.count = 0};
    const size_t pattern = (size_t)random_below(at->source, (int)at->patterns);
    const ref_targets *targets = &at->targets[pattern];
    const size_t most = (size_t)random_below(at->source, 4);
    nh_layout layout = {.pieces = 0};
    if (targets->count > 0) {
        const ref_sum *sum = &targets->sums[random_below(at->source, (int)targets->count)];
        nh_layout_question question = NH_LAYOUT_QUESTION;
        question.prevailing = at->situation.prevailing;
        question.seat = at->situation.seat;
        nh_layouts_each(at->list, pattern, &sum->tiles, &question, keep_layout, &layout, NULL);
    }
    for (int i = 0; i < layout.pieces && on.count < most; i++) {
        const nh_piece *piece = &layout.piece[i];
        const bool row = piece->shape == NH_CHOW || piece->shape == NH_RUN;
        if (piece->tiles >= 3 && (!row || piece->tiles == 3) && piece->tiles <= 6) {
            put(at, &on,
                (nh_set){(uint8_t)(row ? NH_CHOW : piece->shape), piece->kind, piece->tiles, 0});
        }
    }
    if (random_percent(at->source, 10) && on.count < NH_SETS_MAX) {
        put(at, &on, (nh_set){NH_PUNG, (uint8_t)random_below(at->source, NH_FLOWER), 3, 0});
    }
    return on;
}

/* ----------------------------------------------------------------- checks --- */

static int least_away(const trial *at, const rests *all, const nh_tiles *hand,
                      const nh_tiles *seen) {
    int least = NH_AWAY_NONE;
    for (size_t i = 0; i < all->count; i++) {
        const int away = reference_sum_away(at->plain, &all->sums[i], hand, seen);
        least = away < least ? away : least;
    }
    return least;
}

static void check_hands(trial *at, const nh_list *rest, const rests *all, const table *on) {
    nh_workspace *workspace = NULL;
    uint8_t away[PATTERNS_MOST];
    ck_assert_int_eq(nh_workspace_new(rest, NULL, &workspace), NH_OK);
    for (int i = 0; i < HANDS; i++) {
        nh_tiles pool = *nh_list_set(rest);
        const size_t pattern = (size_t)random_below(at->source, (int)at->patterns);
        const int size = random_below(at->source, nh_list_hand_most(rest) + 1);
        nh_tiles hand;
        if (all[pattern].count > 0 && random_percent(at->source, 60)) {
            const ref_sum *sum =
                &all[pattern].sums[random_below(at->source, (int)all[pattern].count)];
            hand = random_near(at->source, &pool, &sum->tiles, &sum->jokerable, size,
                               random_below(at->source, 3));
            ck_assert(nh_tiles_take(&pool, &hand));
        } else {
            hand = random_draw(at->source, &pool, size);
        }
        nh_situation known = at->situation;
        known.seen = random_percent(at->source, 50)
                         ? random_draw(at->source, &pool, random_below(at->source, 40))
                         : (nh_tiles){{0}};
        nh_tiles gone = known.seen;
        ck_assert(nh_tiles_add(&gone, &on->tiles));
        at->hand = hand;
        MUST(at, nh_distances(workspace, &hand, &known, away, NULL) == NH_OK);
        for (size_t p = 0; p < at->patterns; p++) {
            const int expected = least_away(at, &all[p], &hand, &gone);
            ck_assert_msg(away[p] == expected, "pattern %zu: %d away, expected %d; %s", p, away[p],
                          expected, explain(at));
            done.distances++;
            done.live += expected != NH_AWAY_NONE;
        }
    }
    nh_workspace_free(workspace);
}

/* A few hands are as far from the one list as from the other. */
static void compare_lists(const trial *at, const nh_list *a, const nh_list *b) {
    nh_workspace *first = NULL, *second = NULL;
    uint8_t one[PATTERNS_MOST], other[PATTERNS_MOST];
    ck_assert_int_eq(nh_workspace_new(a, NULL, &first), NH_OK);
    ck_assert_int_eq(nh_workspace_new(b, NULL, &second), NH_OK);
    for (int i = 0; i < HANDS; i++) {
        nh_tiles pool = *nh_list_set(a);
        const nh_tiles hand =
            random_draw(at->source, &pool, random_below(at->source, nh_list_hand_most(a) + 1));
        MUST(at, nh_distances(first, &hand, &at->situation, one, NULL) == NH_OK);
        MUST(at, nh_distances(second, &hand, &at->situation, other, NULL) == NH_OK);
        MUST(at, memcmp(one, other, at->patterns) == 0);
        done.compared++;
    }
    nh_workspace_free(first);
    nh_workspace_free(second);
}

/* The rests of E and then F are those of both, in any order; no set changes nothing. */
static void check_laws(const trial *at, const nh_list *rest, const table *on) {
    nh_list *first = NULL, *second = NULL;
    size_t count;
    for (size_t i = 0; i < on->count; i++) {
        nh_list *one = NULL;
        const nh_set *next = &on->sets[on->count - 1 - i];
        MUST(at, nh_list_rest(i == 0 ? at->list : second, next, 1, NULL, &one, NULL) == NH_OK);
        nh_list_free(first);
        first = second;
        second = one;
    }
    if (on->count == 0) {
        MUST(at, nh_list_rest(at->list, NULL, 0, NULL, &second, NULL) == NH_OK);
    }
    nh_list_sets(second, &count);
    MUST(at, count == on->count && nh_list_hand_size(second) == nh_list_hand_size(rest));
    MUST(at, nh_tiles_equal(nh_list_set(second), nh_list_set(rest)));
    compare_lists(at, rest, second);
    if (on->count == 0) {
        compare_lists(at, rest, at->list);
    }
    nh_list_free(first);
    nh_list_free(second);
}

static void check_table(trial *at) {
    const table on = lay_table(at);
    rests all[PATTERNS_MOST] = {{0}};
    nh_list *rest = NULL;
    nh_error error = {NH_OK, 0, ""};
    for (size_t p = 0; p < at->patterns; p++) {
        all[p] = rests_of(at, p, &on);
    }
    ck_assert_msg(nh_list_rest(at->list, on.sets, on.count, NULL, &rest, &error) == NH_OK, "%s: %s",
                  error.text, explain(at));
    nh_figures figures;
    nh_status audit = ask_figures(rest, 0, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN, &figures);
    MUST(at, audit == (on.count == 0 ? NH_OK : NH_ERROR_ARGUMENT));
    check_hands(at, rest, all, &on);
    check_laws(at, rest, &on);
    nh_list_free(rest);
    for (size_t p = 0; p < at->patterns; p++) {
        free(all[p].sums);
    }
    done.tables++;
}

START_TEST(rests_of_random_lists) {
    static trial at;
    const char *lists = getenv("NEARHAND_LISTS");
    const int count = lists != NULL ? atoi(lists) : LISTS;
    at.seed = random_seed(20261127);
    random_source source = {at.seed};
    at.source = &source;
    for (int i = 0; i < count; i++) {
        open_list(&at, random_list(&source, PATTERNS, NH_HAND_MAX));
        at.situation = (nh_situation)NH_SITUATION;
        if (random_percent(&source, 50)) {
            at.situation.prevailing = (nh_wind)random_below(&source, 5);
            at.situation.seat = (nh_wind)random_below(&source, 5);
        }
        expand(&at);
        for (int turn = 0; turn < TABLES; turn++) {
            check_table(&at);
        }
        release(&at);
        close_list(&at);
    }
    at.source = NULL;
    printf("seed %llu: %ld tables (%ld sets with jokers), %ld distances (%ld live), %ld compared\n",
           (unsigned long long)at.seed, done.tables, done.jokers, done.distances, done.live,
           done.compared);
    ck_assert_int_gt(done.live, done.tables);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("rests");
    TCase *tcase = tcase_create("rests");
    tcase_set_timeout(tcase, 0);
    tcase_add_test(tcase, rests_of_random_lists);
    suite_add_tcase(suite, tcase);
    return run_suite(suite);
}
