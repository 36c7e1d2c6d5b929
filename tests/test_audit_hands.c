/*
 * Audits of random lists, jokers and all, against hands that are written out one by
 * one: relations, overlaps, odds of being dealt. NEARHAND_SEED chooses the lists,
 * NEARHAND_TRIES how many.
 */
#include "ask.h"
#include "reference_hands.h"
#include "suite.h"
#include "trial.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LISTS = 150, CROWDED = 1000, PATTERNS = 4, HANDS_MOST = 60000 };

static struct { long lists, jokers, dealt, gained, overlaps, common, samples, relations[4]; } done;

static bool same_number(nh_natural a, nh_natural b) {
    return reference_compare(a, b) == 0;
}

static void check_dealt(const trial *at, size_t pattern, const ref_hands *hands) {
    const nh_tiles *set = nh_list_set(at->list);
    const int size = nh_list_hand_size(at->list);
    const nh_natural expected = reference_dealt(set, hands, size);
    const nh_natural deals = reference_choose(nh_tiles_total(set), size);
    nh_audit_question question = NH_AUDIT_QUESTION;
    question.prevailing = at->situation.prevailing;
    question.seat = at->situation.seat;
    nh_dealt dealt;
    nh_figures figures;
    MUST(at, nh_audit_dealt(at->list, pattern, &question, &dealt, NULL) == NH_OK);
    MUST(at, nh_audit_figures(at->list, pattern, &question, &figures, NULL) == NH_OK);
    MUST(at, same_number(dealt.hands, expected) && same_number(dealt.deals, deals));
    MUST(at, fabs(dealt.chance - nh_natural_ratio(&expected, &deals)) <= 1e-12);
    MUST(at, reference_compare(figures.dealt_ways, dealt.hands) <= 0);
    MUST(at, set->count[NH_JOKER] > 0 || same_number(figures.dealt_ways, dealt.hands));
    done.dealt++;
    done.gained += reference_compare(figures.dealt_ways, dealt.hands) < 0;
}

static void check_overlap(const trial *at, size_t a, size_t b, const ref_hands *hands) {
    const nh_tiles *set = nh_list_set(at->list);
    const nh_natural ways = reference_common_ways(set, &hands[a], &hands[b]);
    const nh_natural of_a = reference_common_ways(set, &hands[a], &hands[a]);
    const nh_natural of_b = reference_common_ways(set, &hands[b], &hands[b]);
    nh_audit_question question = NH_AUDIT_QUESTION;
    question.prevailing = at->situation.prevailing;
    question.seat = at->situation.seat;
    nh_overlap overlap;
    MUST(at, nh_audit_overlap(at->list, a, b, &question, &overlap, NULL) == NH_OK);
    MUST(at, same_number(overlap.ways, ways));
    MUST(at, fabs(overlap.of_a - nh_natural_ratio(&ways, &of_a)) <= 1e-12);
    MUST(at, fabs(overlap.of_b - nh_natural_ratio(&ways, &of_b)) <= 1e-12);
    done.overlaps++;
    done.common += overlap.of_a > 0 && overlap.of_a < 1;
}

static void check_relation(const trial *at, size_t a, size_t b, const ref_hands *hands) {
    nh_relation relation;
    MUST(at, ask_relation(at->list, a, b, &relation) == NH_OK);
    const nh_relation expected = reference_hands_relation(&hands[a], &hands[b]);
    ck_assert_msg(relation == expected, "patterns %zu and %zu: %d, expected %d: %s", a + 1, b + 1,
                  relation, expected, explain(at));
    done.relations[relation]++;
}

/* --------------------------------------------------------------- samples --- */

static bool is_of_variant(const nh_layout *layout, void *context) {
    uint32_t *variant = context;
    if (layout->variant != *variant) {
        return true;
    }
    *variant = UINT32_MAX;
    return false;
}

static nh_natural target_ways(const nh_tiles *set, const nh_tiles *target) {
    nh_natural ways = reference_number(1);
    for (int kind = 0; kind < NH_JOKER; kind++) {
        ways = reference_multiply(ways, reference_choose(set->count[kind], target->count[kind]));
    }
    return ways;
}

/* No target has more ways than the sample of a pattern without variants. */
static void check_most_ways(const trial *at, size_t pattern, const nh_tiles *sample) {
    const ref_targets *targets = &at->targets[pattern];
    const nh_natural ways = target_ways(nh_list_set(at->list), sample);
    for (size_t i = 0; i < targets->count; i++) {
        const nh_natural other = target_ways(nh_list_set(at->list), &targets->sums[i].tiles);
        MUST(at, reference_compare(other, ways) <= 0);
    }
}

/* With no wind known: each live variant has a sample, which can be laid out as it. */
static void check_samples(const trial *at, size_t pattern) {
    const size_t variants = nh_audit_variants(at->list, pattern);
    for (size_t v = 0; v < variants; v++) {
        nh_tiles sample;
        MUST(at, nh_audit_sample(at->list, pattern, v, &sample, NULL) == NH_OK);
        MUST(at, nh_audit_variant_live(at->list, pattern, v) == (nh_tiles_total(&sample) > 0));
        if (nh_tiles_total(&sample) == 0) {
            continue;
        }
        uint32_t variant = (uint32_t)v;
        MUST(at, reference_find(&at->targets[pattern], &sample) < at->targets[pattern].count);
        MUST(at, nh_layouts_each(at->list, pattern, &sample, NULL, is_of_variant, &variant, NULL) ==
                     NH_OK);
        MUST(at, variant == UINT32_MAX);
        if (variants == 1) {
            check_most_ways(at, pattern, &sample);
        }
        done.samples++;
    }
}

/* Whether every hand could be written out. */
static bool write_hands(const trial *at, ref_hands *hands) {
    bool written = true;
    for (size_t p = 0; p < at->patterns; p++) {
        hands[p] = (ref_hands){NULL, 0};
        written = written && reference_hands(nh_list_set(at->list), at->targets[p].sums,
                                             at->targets[p].count, HANDS_MOST, &hands[p]);
    }
    return written;
}

static void check_list(const trial *at) {
    ref_hands hands[PATTERNS_MOST];
    const bool known =
        at->situation.prevailing != NH_WIND_UNKNOWN || at->situation.seat != NH_WIND_UNKNOWN;
    if (write_hands(at, hands)) {
        for (size_t a = 0; a < at->patterns; a++) {
            check_dealt(at, a, &hands[a]);
            if (!known) {
                check_samples(at, a);
            }
            for (size_t b = 0; b < at->patterns; b++) {
                check_overlap(at, a, b, hands);
                if (!known) {
                    check_relation(at, a, b, hands);
                }
            }
        }
        done.lists++;
        done.jokers += nh_list_set(at->list)->count[NH_JOKER] > 0;
    }
    for (size_t p = 0; p < at->patterns; p++) {
        reference_release_hands(&hands[p]);
    }
}

static void try_list(trial *at, char *json, bool winds) {
    open_list(at, json);
    at->situation = (nh_situation)NH_SITUATION;
    if (winds) {
        at->situation.prevailing = (nh_wind)random_below(at->source, 5);
        at->situation.seat = (nh_wind)random_below(at->source, 5);
    }
    expand(at);
    check_list(at);
    release(at);
    close_list(at);
}

static void print_done(const trial *at) {
    printf("seed %llu: %ld lists (%ld with jokers), %ld dealt (%ld more with jokers), %ld overlaps "
           "(%ld partial), %ld samples, relations %ld %ld %ld %ld\n",
           (unsigned long long)at->seed, done.lists, done.jokers, done.dealt, done.gained,
           done.overlaps, done.common, done.samples, done.relations[0], done.relations[1],
           done.relations[2], done.relations[3]);
}

START_TEST(random_lists) {
    static trial at;
    at.seed = random_seed(20261126);
    random_source source = {at.seed};
    at.source = &source;
    const int lists = random_tries(LISTS);
    for (int i = 0; i < lists; i++) {
        char *json = random_list(&source, PATTERNS, NH_HAND_MAX);
        try_list(&at, json, random_percent(&source, 30));
    }
    print_done(&at);
    at.source = NULL;
    ck_assert_int_ge(done.lists, lists / 2);
    if (lists >= LISTS) {
        ck_assert_int_ge(done.gained, 50);
        ck_assert_int_ge(done.common, 20);
    }
}
END_TEST

/* ------------------------------------------------------- crowded lists --- */

/* Adds groups of random shapes that come to `tiles` tiles of a few kinds. */
static void add_groups(random_source *source, int tiles, char *json) {
    static const char *const shapes[6] = {"single", "pair", "pung", "kong", "quint", "sextet"};
    static const char *const kinds[5] = {"1,\"suit\":\"bam\"", "2,\"suit\":\"bam\"",
                                         "2,\"suit\":\"dot\"", "\"east\"", "\"red\""};
    const char *before = "[";
    while (tiles > 0) {
        const int size = 1 + random_below(source, tiles < 6 ? tiles : 6);
        const int kind = random_below(source, 5);
        sprintf(json + strlen(json), "%s{\"%s\":%s}", before, shapes[size - 1], kinds[kind]);
        before = ",";
        tiles -= size;
    }
    sprintf(json + strlen(json), "]");
}

/* A list whose patterns are unions of few targets that have much in common, by their
 * tiles and by what jokers may be. The last variant has a target in any set. */
static char *crowded_list(random_source *source) {
    char *json = calloc(1, 1u << 16);
    ck_assert_ptr_nonnull(json);
    const int hand = 2 + random_below(source, 5);
    const int jokers = random_below(source, 6);
    sprintf(json,
            "{\"format\":1,\"title\":\"Crowded\",\"hand\":%d,\"tiles\":{\"jokers\":%d},"
            "\"patterns\":[",
            hand, jokers);
    for (int p = 0; p < PATTERNS; p++) {
        const int variants = 1 + random_below(source, 6);
        sprintf(json + strlen(json), "%s{\"name\":\"%d\",\"variants\":[", p > 0 ? "," : "", p);
        for (int v = 0; v < variants; v++) {
            add_groups(source, hand, json);
            sprintf(json + strlen(json), ",");
        }
        sprintf(json + strlen(json), "[{\"single\":[1,2,3],\"suit\":\"crak\",\"times\":%d}]]}",
                hand);
    }
    sprintf(json + strlen(json), "]}");
    return json;
}

START_TEST(crowded_lists) {
    static trial at;
    at.seed = random_seed(20261127);
    random_source source = {at.seed};
    at.source = &source;
    const int lists = random_tries(CROWDED);
    for (int i = 0; i < lists; i++) {
        try_list(&at, crowded_list(&source), false);
    }
    print_done(&at);
    at.source = NULL;
    ck_assert_int_ge(done.lists, lists);
    if (lists >= CROWDED) {
        ck_assert_int_ge(done.relations[NH_WITHIN], 200);
    }
}
END_TEST

int main(void) {
    Suite *suite = suite_create("audits of hands");
    TCase *tcase = tcase_create("lists");
    tcase_set_timeout(tcase, 0);
    tcase_add_test(tcase, random_lists);
    tcase_add_test(tcase, crowded_lists);
    suite_add_tcase(suite, tcase);
    return run_suite(suite);
}
