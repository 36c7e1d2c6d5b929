/*
 * What is left of random lists when sets lie on the table, against listing: every
 * target of the reference is laid out in every way, each way to give the sets groups
 * of their own leaves a rest, and distances are those of the listed rests.
 * Layouts themselves are held against the reference in test_layout.
 * NEARHAND_SEED chooses the lists, NEARHAND_TRIES how many.
 */
#include "listed_rests.h"

#include "ask.h"
#include "reference_hands.h"
#include "suite.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LISTS = 60, PATTERNS = 3, TABLES = 6, HANDS = 8, AUDITED_MOST = 20000 };

static struct { long tables, distances, live, compared, jokers, audits, jokers_only; } done;

/* ----------------------------------------------------------------- checks --- */

static void check_hands(trial *at, const nh_list *rest, const rests *all, const table *on) {
    nh_workspace *workspace = NULL;
    uint8_t away[PATTERNS_MOST];
    ck_assert_int_eq(nh_workspace_new(rest, NULL, &workspace), NH_OK);
    for (int i = 0; i < HANDS; i++) {
        nh_tiles pool = *nh_list_set(rest);
        const int size = random_below(at->source, nh_list_hand_most(rest) + 1);
        const nh_tiles hand = hand_near_rests(at, all, size, &pool);
        nh_situation known = at->situation;
        known.seen = random_percent(at->source, 50)
                         ? random_draw(at->source, &pool, random_below(at->source, 40))
                         : (nh_tiles){{0}};
        nh_tiles gone = known.seen;
        ck_assert(nh_tiles_add(&gone, &on->tiles));
        at->hand = hand;
        MUST(at, nh_distances(workspace, &hand, &known, away, NULL) == NH_OK);
        for (size_t p = 0; p < at->patterns; p++) {
            const int expected = rests_away(at, &all[p], &hand, &gone);
            ck_assert_msg(away[p] == expected, "pattern %zu: %d away, expected %d; %s", p, away[p],
                          expected, explain(at));
            done.distances++;
            done.live += expected != NH_AWAY_NONE;
        }
    }
    nh_workspace_free(workspace);
}

/* ---------------------------------------------------------------- audits --- */

/* The different tiles of rests for which there are tiles and jokers. */
static nh_natural count_live(const nh_tiles *copies, const rests *all) {
    nh_natural live = reference_number(0);
    for (size_t i = 0; i < all->count; i++) {
        bool counts = false;
        /* those of the same tiles stand together, and one of them is enough */
        bool first = i == 0 || !nh_tiles_equal(&all->sums[i].tiles, &all->sums[i - 1].tiles);
        for (size_t j = i;
             first && j < all->count && nh_tiles_equal(&all->sums[i].tiles, &all->sums[j].tiles);
             j++) {
            int lacking = 0;
            bool there = true;
            for (int kind = 0; kind < NH_JOKER; kind++) {
                const int more = all->sums[j].tiles.count[kind] - copies->count[kind];
                there = there && more <= all->sums[j].jokerable.count[kind];
                lacking += more > 0 ? more : 0;
            }
            counts = counts || (there && lacking <= copies->count[NH_JOKER]);
        }
        live = counts ? reference_add(live, reference_number(1)) : live;
    }
    return live;
}

/* What is left to make: the figures of rests, and of hands that complete them. */
static void check_rest_figures(const trial *at, const nh_list *rest, size_t pattern,
                               const rests *all, const ref_hands *hands) {
    const nh_tiles *copies = nh_list_set(rest);
    const nh_natural targets = count_live(copies, all);
    const nh_natural ways = reference_common_ways(copies, hands, hands);
    const nh_natural dealt = reference_dealt(copies, hands, nh_list_hand_size(rest));
    nh_audit_question question = NH_AUDIT_QUESTION;
    question.prevailing = at->situation.prevailing;
    question.seat = at->situation.seat;
    nh_figures figures;
    nh_dealt odds;
    MUST(at, nh_audit_figures(rest, pattern, &question, &figures, NULL) == NH_OK);
    MUST(at, nh_audit_dealt(rest, pattern, &question, &odds, NULL) == NH_OK);
    MUST(at, nh_natural_compare(&figures.targets, &targets) == 0);
    MUST(at, nh_natural_compare(&figures.ways, &ways) == 0);
    MUST(at, nh_natural_compare(&odds.hands, &dealt) == 0);
    done.audits++;
    done.jokers_only += figures.joker_only.limb[0] > 0;
}

static void check_audits(const trial *at, const nh_list *rest, const rests *all) {
    ref_hands hands[PATTERNS];
    bool written[PATTERNS];
    for (size_t p = 0; p < at->patterns; p++) {
        written[p] =
            reference_hands(nh_list_set(rest), all[p].sums, all[p].count, AUDITED_MOST, &hands[p]);
        if (written[p])
            check_rest_figures(at, rest, p, &all[p], &hands[p]);
    }
    const bool winds_known =
        at->situation.prevailing != NH_WIND_UNKNOWN || at->situation.seat != NH_WIND_UNKNOWN;
    for (size_t a = 0; a < at->patterns; a++) {
        for (size_t b = 0; b < at->patterns && !winds_known; b++) {
            nh_relation relation;
            if (!written[a] || !written[b])
                continue;
            MUST(at, ask_relation(rest, a, b, &relation) == NH_OK);
            MUST(at, relation == reference_hands_relation(&hands[a], &hands[b]));
        }
    }
    for (size_t p = 0; p < at->patterns; p++)
        reference_release_hands(&hands[p]);
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
    done.jokers += on.tiles.count[NH_JOKER] > 0;
    rests all[PATTERNS_MOST] = {{0}};
    nh_list *rest = NULL;
    nh_error error = {NH_OK, 0, ""};
    for (size_t p = 0; p < at->patterns; p++) {
        all[p] = rests_of(at, p, &on);
    }
    ck_assert_msg(nh_list_rest(at->list, on.sets, on.count, NULL, &rest, &error) == NH_OK, "%s: %s",
                  error.text, explain(at));
    check_audits(at, rest, all);
    check_hands(at, rest, all, &on);
    check_laws(at, rest, &on);
    nh_list_free(rest);
    for (size_t p = 0; p < at->patterns; p++) {
        free(all[p].sums);
    }
    done.tables++;
}

static char *next_list(random_source *source) {
    return random_list(source, PATTERNS, NH_HAND_MAX);
}

START_TEST(rests_of_random_lists) {
    static trial at;
    try_lists(&at, &(trials){20261127, LISTS, 50, TABLES, next_list, check_table});
    printf("seed %llu: %ld tables (%ld with jokers), %ld distances (%ld live), %ld compared, "
           "%ld audits (%ld of patterns that need jokers)\n",
           (unsigned long long)at.seed, done.tables, done.jokers, done.distances, done.live,
           done.compared, done.audits, done.jokers_only);
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
