/*
 * Random lists and random hands, answered by the library and by the plain
 * reference: distances, rankings, chances and audits must be the same.
 */
#include "ask.h"
#include "nearhand.h"
#include "suite.h"
#include "trial.h"

#include <check.h>
#include <cjson/cJSON.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    LISTS = 200,            /* random ones, see random_tries */
    PATTERNS = 4,           /* in a random list */
    WINDS = 3,              /* pairs of winds tried with each list */
    HANDS = 50,             /* hands for each pair of winds */
    CHANCE_EVERY = 25,      /* one hand in so many has its chances checked */
    CHANCE_TARGETS_MAX = 60 /* nearest targets that the reference goes through */
};

/* What was compared, printed at the end. */
static struct {
    long distances;
    long none;
    long without; /* farther than if no joker were gone */
    long rows;
    long chances;
    long best_chances;
    long audits;
    long relations[4];
} done;

static bool same_number(nh_natural a, nh_natural b) {
    return reference_compare(a, b) == 0;
}

/* ----------------------------------------------------------- questions --- */

static void pick_draws(trial *at) {
    static const int draws[8] = {0, 1, 2, 3, 8, NH_DRAWS_DEFAULT, 70, NH_DRAWS_MAX};
    at->draws = draws[random_below(at->source, 8)];
}

/* ----------------------------------------------------------- distances --- */

/* Whether a pattern would be nearer if jokers could not run out for the tiles
 * that are gone. */
static bool jokers_ran_out(const trial *at, size_t pattern, int away) {
    nh_tiles seen = at->situation.seen;
    if (seen.count[NH_JOKER] == 0) {
        return false;
    }
    seen.count[NH_JOKER] = 0;
    return reference_away(at->plain, &at->targets[pattern], &at->hand, &seen) < away;
}

static void check_distances(const trial *at) {
    uint8_t away[PATTERNS_MOST];
    nh_error error;
    MUST(at, nh_distances(at->workspace, &at->hand, &at->situation, away, &error) == NH_OK);
    for (size_t i = 0; i < at->patterns; i++) {
        const int expected =
            reference_away(at->plain, &at->targets[i], &at->hand, &at->situation.seen);
        if (away[i] != expected) {
            ck_abort_msg("pattern %zu: %d away, expected %d: %s", i + 1, away[i], expected,
                         explain(at));
        }
        done.distances++;
        done.none += expected == NH_AWAY_NONE;
        done.without += jokers_ran_out(at, i, expected);
    }
}

/* ------------------------------------------------------------- ranking --- */

/* Whether the need can still be drawn, by a way to reach the target that
 * allows the jokers where the row uses them. */
static bool can_be_drawn(const trial *at, const nh_ranked *row, const ref_sum *sum) {
    const nh_tiles *set = nh_list_set(at->list);
    const nh_tiles *seen = &at->situation.seen;
    int lacking = 0;
    for (int kind = 0; kind < NH_JOKER; kind++) {
        const int unseen = set->count[kind] - at->hand.count[kind] - seen->count[kind];
        const int short_of = row->need.count[kind] > unseen ? row->need.count[kind] - unseen : 0;
        if (short_of + row->joked.count[kind] > sum->jokerable.count[kind]) {
            return false;
        }
        lacking += short_of;
    }
    return lacking <= set->count[NH_JOKER] - at->hand.count[NH_JOKER] - seen->count[NH_JOKER];
}

/* Keep, need and spare follow from hand, target and the jokers used. */
static void check_parts(const trial *at, const nh_ranked *row) {
    const int jokers = nh_tiles_total(&row->joked);
    MUST(at, row->keep.count[NH_JOKER] == jokers);
    MUST(at, jokers <= at->hand.count[NH_JOKER]);
    MUST(at, row->target.count[NH_JOKER] == 0 && row->need.count[NH_JOKER] == 0);
    for (int kind = 0; kind < NH_JOKER; kind++) {
        const int held = at->hand.count[kind];
        const int wanted = row->target.count[kind];
        MUST(at, row->keep.count[kind] == (held < wanted ? held : wanted));
        MUST(at, row->need.count[kind] == wanted - row->keep.count[kind] - row->joked.count[kind]);
        MUST(at, row->spare.count[kind] == held - row->keep.count[kind]);
    }
    MUST(at, row->spare.count[NH_JOKER] == at->hand.count[NH_JOKER] - jokers);
    MUST(at, row->away == nh_tiles_total(&row->need));
    MUST(at, row->away == nh_tiles_total(&row->target) - nh_tiles_total(&row->keep));
}

/* The target is one of the pattern with the winds that the row presumes. */
static void check_winds(const trial *at, const nh_ranked *row) {
    const bool by_prevailing = reference_uses(at->plain, row->pattern, "prevailing");
    const bool by_seat = reference_uses(at->plain, row->pattern, "seat");
    const nh_situation *situation = &at->situation;
    MUST(at, row->prevailing <= NH_WIND_NORTH && row->seat <= NH_WIND_NORTH);
    MUST(at, by_prevailing || row->prevailing == NH_WIND_UNKNOWN);
    MUST(at, by_seat || row->seat == NH_WIND_UNKNOWN);
    MUST(at,
         !situation->prevailing || !row->prevailing || row->prevailing == situation->prevailing);
    MUST(at, !situation->seat || !row->seat || row->seat == situation->seat);
    ref_targets targets;
    if (row->prevailing || row->seat) {
        MUST(at, reference_expand(at->plain, row->pattern, (nh_wind)row->prevailing,
                                  (nh_wind)row->seat, RANDOM_SUMS_MAX, &targets));
        MUST(at, reference_find(&targets, &row->target) < targets.count);
        reference_release(&targets);
    }
}

static void check_row(const trial *at, const nh_ranked *row, const nh_ranking *ranking) {
    const ref_targets *targets = &at->targets[row->pattern];
    const nh_tiles *seen = &at->situation.seen;
    const size_t first = reference_find(targets, &row->target);
    MUST(at, first < targets->count);
    MUST(at, row->away == reference_away(at->plain, targets, &at->hand, seen));
    MUST(at, row->away == reference_target_away(at->plain, targets, first, &at->hand, seen));
    check_parts(at, row);
    check_winds(at, row);
    bool drawable = false;
    for (size_t i = first; i < reference_next(targets, first); i++) {
        drawable = drawable || can_be_drawn(at, row, &targets->sums[i]);
    }
    MUST(at, drawable);
    const double chance = nh_natural_ratio(&row->completing, &ranking->draws);
    MUST(at, fabs(row->chance - chance) <= 1e-12);
    done.rows++;
}

/* Tiles away, then chance, then points, then list order. */
static bool in_order(const trial *at, const nh_ranked *a, const nh_ranked *b) {
    if (a->away != b->away) {
        return a->away < b->away;
    }
    const int chance = reference_compare(a->completing, b->completing);
    if (chance != 0) {
        return chance > 0;
    }
    const nh_pattern left = *nh_list_pattern(at->list, a->pattern);
    const nh_pattern right = *nh_list_pattern(at->list, b->pattern);
    if (left.has_points != right.has_points) {
        return left.has_points;
    }
    if (left.has_points && left.points < right.points) {
        return false;
    }
    if (left.has_points && left.points > right.points) {
        return true;
    }
    return a->pattern < b->pattern;
}

static void check_ranking(const trial *at, const nh_ranked *rows, const nh_ranking *ranking) {
    size_t live = 0;
    for (size_t i = 0; i < at->patterns; i++) {
        live += reference_away(at->plain, &at->targets[i], &at->hand, &at->situation.seen) !=
                NH_AWAY_NONE;
    }
    MUST(at, ranking->live == live && ranking->rows == live);
    MUST(at, ranking->nearest == (live ? rows[0].away : NH_AWAY_NONE));
    size_t within_one = 0;
    for (size_t i = 0; i < live; i++) {
        within_one += rows[i].away <= rows[0].away + 1;
        MUST(at, i == 0 || in_order(at, &rows[i - 1], &rows[i]));
    }
    MUST(at, ranking->within_one == within_one);
    const int unseen = nh_tiles_total(nh_list_set(at->list)) - nh_tiles_total(&at->hand) -
                       nh_tiles_total(&at->situation.seen);
    const int draws = at->draws < unseen ? at->draws : unseen;
    MUST(at, ranking->unseen == (uint32_t)unseen);
    MUST(at, same_number(ranking->draws, reference_choose(unseen, draws)));
}

/* A choice of patterns and a small capacity give the rows that are left. */
static void check_choice(const trial *at, const nh_ranked *rows, size_t count) {
    uint8_t chosen[PATTERNS_MOST];
    size_t left[PATTERNS_MOST];
    size_t expected = 0;
    for (size_t i = 0; i < at->patterns; i++) {
        chosen[i] = (uint8_t)random_below(at->source, 2);
    }
    for (size_t i = 0; i < count; i++) {
        if (chosen[rows[i].pattern]) {
            left[expected++] = i;
        }
    }
    nh_ranked some[PATTERNS_MOST];
    nh_ranking ranking;
    const size_t capacity = (size_t)random_below(at->source, (int)at->patterns);
    MUST(at, ask_rank(at->workspace, &at->hand, &at->situation, at->draws, chosen, some, capacity,
                      &ranking, NULL) == NH_OK);
    MUST(at, ranking.live == expected);
    MUST(at, ranking.rows == (expected < capacity ? expected : capacity));
    for (size_t i = 0; i < ranking.rows; i++) {
        const nh_ranked *row = &rows[left[i]];
        MUST(at, some[i].pattern == row->pattern && nh_tiles_equal(&some[i].target, &row->target));
        MUST(at, nh_tiles_equal(&some[i].joked, &row->joked) && some[i].away == row->away);
        MUST(at, same_number(some[i].completing, row->completing));
    }
}

/* -------------------------------------------------------------- chance --- */

static size_t nearest_targets(const trial *at, size_t pattern, int away) {
    const ref_targets *targets = &at->targets[pattern];
    size_t nearest = 0;
    for (size_t i = 0; i < targets->count; i = reference_next(targets, i)) {
        nearest +=
            reference_target_away(at->plain, targets, i, &at->hand, &at->situation.seen) == away;
    }
    return nearest;
}

static void check_chance(const trial *at, const nh_ranked *row) {
    const ref_targets *targets = &at->targets[row->pattern];
    const nh_tiles *seen = &at->situation.seen;
    const int draws = at->draws;
    const size_t first = reference_find(targets, &row->target);
    const nh_natural own = reference_completing(at->plain, targets, first, &at->hand, seen, draws);
    ck_assert_msg(same_number(own, row->completing), "chance of pattern %u: %g, expected %g: %s",
                  row->pattern + 1, nh_natural_double(&row->completing), nh_natural_double(&own),
                  explain(at));
    done.chances++;
    if (nearest_targets(at, row->pattern, row->away) <= CHANCE_TARGETS_MAX) {
        const nh_natural best =
            reference_best_completing(at->plain, targets, &at->hand, seen, draws);
        ck_assert_msg(same_number(best, row->completing),
                      "best chance of pattern %u: %g, expected %g: %s", row->pattern + 1,
                      nh_natural_double(&row->completing), nh_natural_double(&best), explain(at));
        done.best_chances++;
    }
}

static void check_hand(const trial *at, bool chances) {
    nh_ranked rows[PATTERNS_MOST];
    nh_ranking ranking;
    check_distances(at);
    MUST(at, ask_rank(at->workspace, &at->hand, &at->situation, at->draws, NULL, rows, at->patterns,
                      &ranking, NULL) == NH_OK);
    check_ranking(at, rows, &ranking);
    for (size_t i = 0; i < ranking.rows; i++) {
        check_row(at, &rows[i], &ranking);
        if (chances) {
            check_chance(at, &rows[i]);
        }
    }
    check_choice(at, rows, ranking.rows);
}

/* --------------------------------------------------------------- audit --- */

static void check_audit(const trial *at) {
    const nh_natural all =
        reference_choose(nh_tiles_total(nh_list_set(at->list)), nh_list_hand_size(at->list));
    for (size_t i = 0; i < at->patterns; i++) {
        const ref_count expected = reference_count(at->plain, &at->targets[i]);
        nh_figures count;
        MUST(at, ask_figures(at->list, i, at->situation.prevailing, at->situation.seat, &count) ==
                     NH_OK);
        MUST(at, same_number(count.targets, expected.targets));
        MUST(at, same_number(count.ways, expected.ways));
        MUST(at, same_number(count.dealt_ways, expected.dealt_ways));
        MUST(at, same_number(count.joker_only, expected.joker_only));
        MUST(at, fabs(count.dealt - nh_natural_ratio(&expected.dealt_ways, &all)) <= 1e-12);
        done.audits++;
    }
}

/* With jokers, hands are compared: see test_audit_hands. */
static void check_relations(const trial *at) {
    if (nh_list_set(at->list)->count[NH_JOKER] > 0) {
        return;
    }
    for (size_t i = 0; i < at->patterns; i++) {
        for (size_t j = 0; j < at->patterns; j++) {
            nh_relation relation;
            MUST(at, ask_relation(at->list, i, j, &relation) == NH_OK);
            MUST(at, relation == reference_relation(&at->targets[i], &at->targets[j]));
            done.relations[relation]++;
        }
    }
}

/* --------------------------------------------------------------- tests --- */

/* With the winds unknown first, then with some of them named. */
static void try_winds(trial *at, int turn) {
    at->situation = (nh_situation)NH_SITUATION;
    if (turn > 0) {
        at->situation.prevailing = (nh_wind)random_below(at->source, 5);
        at->situation.seat = (nh_wind)random_below(at->source, 5);
    }
    expand(at);
    check_audit(at);
    if (turn == 0) {
        check_relations(at);
    }
    for (int i = 0; i < HANDS; i++) {
        pick_hand(at);
        pick_seen(at);
        pick_draws(at);
        check_hand(at, i % CHANCE_EVERY == 0);
    }
    release(at);
}

static void try_list(trial *at, char *json) {
    open_list(at, json);
    for (int turn = 0; turn < WINDS; turn++) {
        try_winds(at, turn);
    }
    close_list(at);
}

static void print_done(uint64_t seed) {
    printf("seed %llu: %ld distances (%ld without a live target, %ld for want of jokers), %ld "
           "rows, %ld chances (%ld best of all), %ld audits, relations %ld %ld %ld %ld\n",
           (unsigned long long)seed, done.distances, done.none, done.without, done.rows,
           done.chances, done.best_chances, done.audits, done.relations[NH_NEITHER],
           done.relations[NH_EQUAL], done.relations[NH_WITHIN], done.relations[NH_CONTAINS]);
}

START_TEST(random_lists) {
    const uint64_t seed = random_seed(20240607);
    random_source source = {seed};
    trial at = {.source = &source, .seed = seed};
    const int lists = random_tries(LISTS);
    for (int i = 0; i < lists; i++) {
        try_list(&at, random_list(&source, PATTERNS, NH_HAND_MAX));
    }
    print_done(seed);
    ck_assert_int_ge(done.distances, 500L * lists);
    if (lists >= LISTS) {
        ck_assert_int_ge(done.best_chances, 1000);
        ck_assert_int_ge(done.without, 1000);
    }
}
END_TEST

/* --------------------------------------------------------- shipped lists --- */

static cJSON *read_shipped(const char *name) {
    char path[4096];
    snprintf(path, sizeof path, "%s/patterns/%s.json", NH_TEST_ROOT, name);
    FILE *file = fopen(path, "rb");
    ck_assert_msg(file != NULL, "%s cannot be read", path);
    char *text = calloc(1, 1u << 20);
    ck_assert_ptr_nonnull(text);
    ck_assert_uint_gt(fread(text, 1, (1u << 20) - 1, file), 0);
    fclose(file);
    cJSON *root = cJSON_Parse(text);
    ck_assert_ptr_nonnull(root);
    free(text);
    return root;
}

/* The list less the patterns with more sums than the reference writes out. */
static char *writable_part(cJSON *root) {
    char *whole = cJSON_PrintUnformatted(root);
    ref_list *list = reference_read(whole);
    cJSON *patterns = cJSON_GetObjectItemCaseSensitive(root, "patterns");
    for (size_t i = reference_patterns(list); i-- > 0;) {
        ref_targets targets;
        if (reference_expand(list, i, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN, RANDOM_SUMS_MAX,
                             &targets)) {
            reference_release(&targets);
        } else {
            cJSON_DeleteItemFromArray(patterns, (int)i);
        }
    }
    reference_free(list);
    free(whole);
    return cJSON_Print(root);
}

START_TEST(shipped_lists) {
    static const char *const names[3] = {"club", "jokers", "traditional"};
    const uint64_t seed = random_seed(20240608);
    random_source source = {seed};
    trial at = {.source = &source, .seed = seed};
    cJSON *root = read_shipped(names[_i]);
    char *json = writable_part(root);
    cJSON_Delete(root);
    try_list(&at, json);
    printf("%s, ", names[_i]);
    print_done(seed);
    ck_assert_int_ge(done.distances, 1000);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("reference");
    TCase *random = tcase_create("random");
    tcase_set_timeout(random, 0);
    tcase_add_test(random, random_lists);
    suite_add_tcase(suite, random);
    TCase *shipped = tcase_create("shipped");
    tcase_set_timeout(shipped, 0);
    tcase_set_tags(shipped, "long");
    tcase_add_loop_test(shipped, shipped_lists, 0, 3);
    suite_add_tcase(suite, shipped);
    return run_suite(suite);
}
