/*
 * The chance of completing a target: against the hypergeometric distribution
 * of the GNU Scientific Library where one kind is needed, and against every
 * single set of draws where few tiles are unseen.
 */
#include "ask.h"
#include "nearhand.h"
#include "random_list.h"
#include "reference.h"
#include "suite.h"

#include <check.h>
#include <gsl/gsl_cdf.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PATTERNS = 3, LISTS = 150, HANDS = 6, UNSEEN_MOST = 12, NEAREST_MOST = 24 };

static nh_list *read_list(const char *json) {
    nh_list *list = NULL;
    nh_mistakes *mistakes = NULL;
    const nh_status status = nh_list_read(json, strlen(json), NULL, &list, &mistakes);
    ck_assert_msg(status == NH_OK, "%s: %s\n%s", nh_status_text(status),
                  nh_mistakes_size(mistakes) ? nh_mistakes_at(mistakes, 0)->text : "", json);
    return list;
}

static nh_workspace *open_workspace(const nh_list *list) {
    nh_workspace *workspace = NULL;
    ck_assert_int_eq(nh_workspace_new(list, NULL, &workspace), NH_OK);
    return workspace;
}

/* ---------------------------------------------------- one kind is needed --- */

/* A list of one pattern, so many alike of one kind, of which the hand holds
 * some; the other tiles of the hand are 9C, 9D and winds. */
typedef struct alike_pattern {
    const char *json;
    int kind;
    int wanted;
} alike_pattern;

static const alike_pattern alikes[] = {
    {"{\"format\":1,\"title\":\"Kong\",\"hand\":4,\"patterns\":["
     "{\"name\":\"Kong\",\"groups\":[{\"kong\":5,\"suit\":\"bam\"}]}]}",
     NH_BAM_1 + 4, 4},
    {"{\"format\":1,\"title\":\"Kong\",\"hand\":4,\"tiles\":{\"jokers\":8},\"patterns\":["
     "{\"name\":\"Kong\",\"groups\":[{\"kong\":5,\"suit\":\"bam\"}]}]}",
     NH_BAM_1 + 4, 4},
    {"{\"format\":1,\"title\":\"Pair\",\"hand\":2,\"tiles\":{\"jokers\":8},\"patterns\":["
     "{\"name\":\"Pair\",\"groups\":[{\"pair\":\"red\"}]}]}",
     NH_RED, 2},
    {"{\"format\":1,\"title\":\"Flowers\",\"hand\":6,\"tiles\":{\"flowers\":8},\"patterns\":["
     "{\"name\":\"Flowers\",\"groups\":[{\"sextet\":\"flower\"}]}]}",
     NH_FLOWER, 6},
    {"{\"format\":1,\"title\":\"Quint\",\"hand\":5,\"tiles\":{\"jokers\":16,\"winds\":false},"
     "\"patterns\":[{\"name\":\"Quint\",\"groups\":[{\"quint\":1,\"suit\":\"dot\"}]}]}",
     NH_DOT_1, 5},
};

static long compared;

/* The library's chance, or -1 when the target is dead. */
static double chance_of(nh_workspace *workspace, const nh_tiles *hand,
                        const nh_situation *situation, int draws) {
    nh_ranked row;
    nh_ranking ranking;
    if (ask_rank(workspace, hand, situation, draws, NULL, &row, 1, &ranking, NULL) != NH_OK) {
        ck_abort_msg("a hand is refused");
    }
    return ranking.rows ? row.chance : -1;
}

/* The chance once the 9C is discarded, which the target does not use; -1 as well. */
static double chance_after(nh_workspace *workspace, const nh_tiles *hand,
                           const nh_situation *situation, int draws) {
    nh_discard_choice choices[NH_DISCARDS_MAX];
    nh_discarding discarding;
    nh_discard_question question = NH_DISCARD_QUESTION;
    question.situation = situation;
    question.draws = draws;
    question.look = 1;
    if (nh_discard(workspace, hand, &question, choices, NH_DISCARDS_MAX, &discarding, NULL) !=
        NH_OK) {
        ck_abort_msg("a hand is refused");
    }
    for (size_t i = 0; i < discarding.rows; i++) {
        if (choices[i].kind == NH_CRAK_1 + 8) {
            return choices[i].away == NH_AWAY_NONE ? -1 : choices[i].chance;
        }
    }
    ck_abort_msg("the 9C is no choice");
}

/* The chance that `lack` or more of the `good` unseen tiles are drawn. */
static void compare_draws(const alike_pattern *one, nh_workspace *workspace, const nh_tiles *hand,
                          nh_situation *situation, int lack, int good, int unseen) {
    for (int draws = 0; draws <= unseen; draws += draws < 12 ? 1 : 7) {
        const double chance = chance_of(workspace, hand, situation, draws);
        const double after = chance_after(workspace, hand, situation, draws);
        const double expected =
            good < lack ? -1
                        : gsl_cdf_hypergeometric_Q((unsigned)lack - 1, (unsigned)good,
                                                   (unsigned)(unseen - good), (unsigned)draws);
        if (fabs(chance - expected) > 1e-10 * fabs(expected) ||
            fabs(after - expected) > 1e-10 * fabs(expected)) {
            ck_abort_msg("%s: %d lacking, %d of %d good, %d draws: %.17g, discarding %.17g, "
                         "expected %.17g",
                         one->json, lack, good, unseen, draws, chance, after, expected);
        }
        compared++;
    }
}

START_TEST(one_kind_is_hypergeometric) {
    const alike_pattern *one = &alikes[_i];
    nh_list *list = read_list(one->json);
    nh_workspace *workspace = open_workspace(list);
    const nh_tiles *set = nh_list_set(list);
    const bool jokers_serve = one->wanted >= 3;
    compared = 0;
    for (int held = 0; held < one->wanted && held <= set->count[one->kind]; held++) {
        for (int gone = 0; held + gone <= set->count[one->kind]; gone++) {
            for (int jokers_gone = 0; jokers_gone <= set->count[NH_JOKER]; jokers_gone += 3) {
                nh_tiles hand = {{0}};
                hand.count[one->kind] = (uint8_t)held;
                hand.count[NH_CRAK_1 + 8] = 1;
                nh_situation situation = NH_SITUATION;
                situation.seen.count[one->kind] = (uint8_t)gone;
                situation.seen.count[NH_JOKER] = (uint8_t)jokers_gone;
                situation.seen.count[NH_DOT_1 + 8] = (uint8_t)(gone < 4 ? gone : 4);
                const int unseen =
                    nh_tiles_total(set) - nh_tiles_total(&hand) - nh_tiles_total(&situation.seen);
                const int good = set->count[one->kind] - held - gone +
                                 (jokers_serve ? set->count[NH_JOKER] - jokers_gone : 0);
                compare_draws(one, workspace, &hand, &situation, one->wanted - held, good, unseen);
            }
        }
    }
    ck_assert_int_gt(compared, 200);
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* -------------------------------------------------- every set of draws --- */

/* How many sets of each size, of the few unseen tiles, complete a target. */
typedef struct draw_tally {
    size_t first; /* the target's first sum */
    long sets[UNSEEN_MOST + 1];
} draw_tally;

static struct {
    long hands;
    long rows;
    long sets;
} done;

static bool completes(const ref_sum *sum, const nh_tiles *tiles) {
    int jokers = 0;
    for (int kind = 0; kind < NH_JOKER; kind++) {
        const int lack = sum->tiles.count[kind] - tiles->count[kind];
        if (lack > sum->jokerable.count[kind]) {
            return false;
        }
        jokers += lack > 0 ? lack : 0;
    }
    return jokers <= tiles->count[NH_JOKER];
}

static bool completes_target(const ref_targets *targets, size_t first, const nh_tiles *tiles) {
    for (size_t i = first; i < reference_next(targets, first); i++) {
        if (completes(&targets->sums[i], tiles)) {
            return true;
        }
    }
    return false;
}

/* Goes through all sets of the unseen tiles, each tile counted by itself. */
static void tally_sets(const ref_targets *targets, draw_tally *tally, const nh_tiles *hand,
                       const int *unseen, int count) {
    memset(tally->sets, 0, sizeof tally->sets);
    for (unsigned set = 0; set < 1u << count; set++) {
        nh_tiles tiles = *hand;
        int size = 0;
        for (int i = 0; i < count; i++) {
            if (set >> i & 1u) {
                tiles.count[unseen[i]]++;
                size++;
            }
        }
        tally->sets[size] += completes_target(targets, tally->first, &tiles);
    }
    done.sets += 1L << count;
}

/* A hand, the tiles that are gone, and the few that are left one by one. */
typedef struct table {
    nh_tiles hand;
    nh_tiles seen;
    int unseen[UNSEEN_MOST];
    int count;
} table;

/* A hand near a target; among the few unseen tiles are many that it lacks. */
static table random_table(random_source *source, const nh_tiles *set, int size,
                          const ref_targets *targets) {
    const ref_sum *sum = &targets->sums[random_below(source, (int)targets->count)];
    const int most = size < 5 ? size : 5;
    table at = {.hand = random_near(source, set, &sum->tiles, &sum->jokerable, size,
                                    random_below(source, most + 1))};
    nh_tiles left = {{0}};
    nh_tiles wished = {{0}};
    for (int kind = 0; kind < NH_KINDS; kind++) {
        left.count[kind] = (uint8_t)(set->count[kind] - at.hand.count[kind]);
        if (kind == NH_JOKER || sum->tiles.count[kind] > at.hand.count[kind]) {
            wished.count[kind] = left.count[kind];
        }
    }
    const int few = 5 + random_below(source, UNSEEN_MOST - 4);
    const nh_tiles good = random_draw(source, &wished, few - random_below(source, 4));
    for (int kind = 0; kind < NH_KINDS; kind++) {
        left.count[kind] = (uint8_t)(left.count[kind] - good.count[kind]);
    }
    const nh_tiles others = random_draw(source, &left, few - nh_tiles_total(&good));
    at.seen = left;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        for (int i = 0; i < good.count[kind] + others.count[kind]; i++) {
            at.unseen[at.count++] = kind;
        }
    }
    return at;
}

/* Tallies the nearest targets; false when there are too many or none. */
static bool tally_nearest(const ref_list *plain, const ref_targets *targets, const table *at,
                          draw_tally *tallies, size_t *count) {
    const int nearest = reference_away(plain, targets, &at->hand, &at->seen);
    *count = 0;
    if (nearest == NH_AWAY_NONE) {
        return false;
    }
    for (size_t i = 0; i < targets->count; i = reference_next(targets, i)) {
        if (reference_target_away(plain, targets, i, &at->hand, &at->seen) == nearest) {
            if (*count == NEAREST_MOST) {
                return false;
            }
            tallies[(*count)++].first = i;
        }
    }
    for (size_t i = 0; i < *count; i++) {
        tally_sets(targets, &tallies[i], &at->hand, at->unseen, at->count);
    }
    return true;
}

/* The row's own target has the most sets of draws of all that are nearest. */
static void compare_row(const nh_ranked *row, const ref_targets *targets, const draw_tally *tallies,
                        size_t count, int draws, const char *scene) {
    const size_t first = reference_find(targets, &row->target);
    long most = 0;
    long own = -1;
    for (size_t i = 0; i < count; i++) {
        const long sets = tallies[i].sets[draws];
        most = sets > most ? sets : most;
        own = tallies[i].first == first ? sets : own;
    }
    if (own != most ||
        reference_compare(row->completing, reference_number((unsigned long long)own)) != 0) {
        ck_abort_msg("pattern %u, %d draws: %g, the target has %ld, the best %ld\n%s",
                     row->pattern + 1, draws, nh_natural_double(&row->completing), own, most,
                     scene);
    }
    done.rows++;
}

/* What it takes to see a failure again. */
static const char *describe(const table *at, const char *json) {
    static char text[20000];
    char hand[NH_TILES_TEXT_SIZE];
    char seen[NH_TILES_TEXT_SIZE];
    nh_tiles_format(&at->hand, NH_STYLE_LETTERS, hand, sizeof hand);
    nh_tiles_format(&at->seen, NH_STYLE_LETTERS, seen, sizeof seen);
    snprintf(text, sizeof text, "hand \"%s\", seen \"%s\", list\n%s", hand, seen, json);
    return text;
}

static void compare_table(nh_workspace *workspace, const ref_list *plain, const ref_targets *all,
                          size_t patterns, const table *at, const char *json) {
    static draw_tally tallies[PATTERNS][NEAREST_MOST];
    size_t counts[PATTERNS];
    bool tallied[PATTERNS];
    for (size_t i = 0; i < patterns; i++) {
        tallied[i] = tally_nearest(plain, &all[i], at, tallies[i], &counts[i]);
    }
    nh_situation situation = NH_SITUATION;
    situation.seen = at->seen;
    for (int draws = 0; draws <= at->count; draws++) {
        nh_ranked rows[PATTERNS];
        nh_ranking ranking;
        ck_assert_int_eq(
            ask_rank(workspace, &at->hand, &situation, draws, NULL, rows, PATTERNS, &ranking, NULL),
            NH_OK);
        ck_assert_int_eq(reference_compare(ranking.draws, reference_choose(at->count, draws)), 0);
        for (size_t i = 0; i < ranking.rows; i++) {
            const uint32_t pattern = rows[i].pattern;
            if (tallied[pattern]) {
                compare_row(&rows[i], &all[pattern], tallies[pattern], counts[pattern], draws,
                            describe(at, json));
            }
        }
    }
    done.hands++;
}

static void compare_list(random_source *source, const char *json) {
    nh_list *list = read_list(json);
    nh_workspace *workspace = open_workspace(list);
    ref_list *plain = reference_read(json);
    ref_targets all[PATTERNS];
    const size_t patterns = nh_list_size(list);
    for (size_t i = 0; i < patterns; i++) {
        ck_assert(
            reference_expand(plain, i, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN, RANDOM_SUMS_MAX, &all[i]));
    }
    for (int i = 0; i < HANDS; i++) {
        const int size = nh_list_hand_size(list) - random_below(source, 2);
        const ref_targets *near = &all[random_below(source, (int)patterns)];
        const table at = random_table(source, nh_list_set(list), size, near);
        compare_table(workspace, plain, all, patterns, &at, json);
    }
    for (size_t i = 0; i < patterns; i++) {
        reference_release(&all[i]);
    }
    reference_free(plain);
    nh_workspace_free(workspace);
    nh_list_free(list);
}

START_TEST(every_set_of_draws_is_counted) {
    const uint64_t seed = random_seed(31415);
    random_source source = {seed};
    for (int i = 0; i < LISTS; i++) {
        char *json = random_list(&source, PATTERNS, NH_HAND_MAX);
        compare_list(&source, json);
        free(json);
    }
    printf("seed %llu: %ld hands, %ld rows, %ld sets of draws\n", (unsigned long long)seed,
           done.hands, done.rows, done.sets);
    ck_assert_int_gt(done.rows, 2000);
}
END_TEST

/* Jokers may stand for three of the ones or for three of the twos, never for
 * both: a set of draws counts when either will do. */
START_TEST(a_target_that_is_reached_in_two_ways) {
    static const char json[] =
        "{\"format\":1,\"title\":\"Two ways\",\"hand\":6,"
        "\"tiles\":{\"jokers\":6,\"winds\":false},\"patterns\":[{\"name\":\"Ones and twos\","
        "\"groups\":[{\"one_of\":["
        "[{\"pung\":1,\"suit\":\"bam\"},{\"pair\":2,\"suit\":\"bam\"},{\"single\":2,\"suit\":"
        "\"bam\"}],"
        "[{\"pair\":1,\"suit\":\"bam\"},{\"single\":1,\"suit\":\"bam\"},{\"pung\":2,\"suit\":"
        "\"bam\"}]"
        "]}]}]}";
    const uint64_t seed = random_seed(27182);
    random_source source = {seed};
    printf("seed %llu\n", (unsigned long long)seed);
    for (int i = 0; i < 20; i++) {
        compare_list(&source, json);
    }
    ck_assert_int_gt(done.rows, 500);
}
END_TEST

/* ---------------------------------------------------- many kinds are needed --- */

/* C(n, k) modulo 2^64. */
static uint64_t binomial(int n, int k) {
    uint64_t row[161] = {1};
    for (int line = 1; line <= n; line++) {
        for (int i = line; i > 0; i--) {
            row[i] += row[i - 1];
        }
    }
    return k < 0 || k > n ? 0 : row[k];
}

/* Sets of `draws` tiles out of `unseen` that have each of `kinds` kinds, four
 * tiles of each: inclusion and exclusion, modulo 2^64. */
static uint64_t with_each_kind(int unseen, int kinds, int draws) {
    uint64_t sets = 0;
    for (int without = 0; without <= kinds; without++) {
        const uint64_t some = binomial(kinds, without) * binomial(unseen - 4 * without, draws);
        sets += without % 2 == 0 ? some : 0 - some;
    }
    return sets;
}

/* Likewise, with three red dragons too, for which jokers will do. */
static uint64_t with_a_pung(int unseen, int kinds, int draws, int jokers, int jokers_held) {
    uint64_t sets = 0;
    for (int reds = 0; reds <= 4; reds++) {
        for (int drawn = 0; drawn <= jokers && reds + drawn <= draws; drawn++) {
            if (reds + drawn + jokers_held >= 3) {
                sets += binomial(4, reds) * binomial(jokers, drawn) *
                        with_each_kind(unseen - 4 - jokers, kinds, draws - reds - drawn);
            }
        }
    }
    return sets;
}

/* Sixteen and eighteen kinds, all of whose tiles are unseen: 64 and 72 of them. */
START_TEST(many_kinds_are_lacking) {
    nh_list *plain = read_list("{\"format\":1,\"title\":\"Runs\",\"hand\":18,\"patterns\":["
                               "{\"name\":\"Runs\",\"groups\":["
                               "{\"run\":1,\"length\":9,\"suit\":\"bam\"},"
                               "{\"run\":1,\"length\":9,\"suit\":\"dot\"}]}]}");
    nh_list *jokers = read_list("{\"format\":1,\"title\":\"Runs\",\"hand\":18,"
                                "\"tiles\":{\"jokers\":8},\"patterns\":["
                                "{\"name\":\"Runs\",\"groups\":["
                                "{\"run\":1,\"length\":9,\"suit\":\"bam\"},"
                                "{\"run\":1,\"length\":6,\"suit\":\"dot\"},{\"pung\":\"red\"}]}]}");
    for (int held = 0; held <= 2; held++) {
        const nh_list *list = held == 0 ? plain : jokers;
        nh_workspace *workspace = open_workspace(list);
        nh_situation situation = NH_SITUATION;
        nh_tiles hand = {{0}};
        hand.count[NH_EAST] = 1;
        hand.count[NH_JOKER] = (uint8_t)held;
        const int unseen = nh_tiles_total(nh_list_set(list)) - 1 - held;
        for (int draws = 0; draws <= unseen; draws += draws < 30 ? 1 : 11) {
            nh_ranked row;
            nh_ranking ranking;
            ck_assert_int_eq(
                ask_rank(workspace, &hand, &situation, draws, NULL, &row, 1, &ranking, NULL),
                NH_OK);
            ck_assert_int_eq(row.away, 18 - held);
            ck_assert_uint_eq(row.completing.limb[0],
                              held == 0 ? with_each_kind(unseen, 18, draws)
                                        : with_a_pung(unseen, 15, draws, 8 - held, held));
            ck_assert_int_eq(row.chance > 0, draws >= 18 - held);
        }
        nh_workspace_free(workspace);
    }
    nh_list_free(plain);
    nh_list_free(jokers);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("chance");
    TCase *tests = tcase_create("chance");
    tcase_set_timeout(tests, 0);
    tcase_add_loop_test(tests, one_kind_is_hypergeometric, 0,
                        (int)(sizeof alikes / sizeof *alikes));
    tcase_add_test(tests, every_set_of_draws_is_counted);
    tcase_add_test(tests, a_target_that_is_reached_in_two_ways);
    tcase_add_test(tests, many_kinds_are_lacking);
    suite_add_tcase(suite, tests);
    return run_suite(suite);
}
