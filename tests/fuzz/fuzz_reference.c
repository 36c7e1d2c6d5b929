/* Small lists that a grammar makes of the bytes, against the plain reference:
 * which patterns have no target at all, and for the others the counts, the
 * relations, and for hands that the bytes deal every distance and the chance of
 * every best target. */
#include "../ask.h"
#include "../reference_hands.h"
#include "both.h"
#include "holds.h"

#include <string.h>

#define SUMS_MAX 2000
#define HANDS 3
#define HANDS_MAX 20000 /* written out for a pattern */

static bool same_number(const nh_natural *a, const nh_natural *b) {
    return nh_natural_compare(a, b) == 0;
}

/* A list is refused for what has no target, and for nothing else. */
static void refusal_agrees(struct both *both) {
    bool told[GRAMMAR_PATTERNS_MAX] = {false};
    for (size_t i = 0; i < nh_mistakes_size(both->mistakes); i++) {
        nh_mistake mistake = *nh_mistakes_at(both->mistakes, i);
        if (strstr(mistake.text, "no target") == NULL)
            return; /* the grammar goes wrong now and then */
        told[mistake.pattern[0] - '0'] = true;
    }
    if (!both_expand(both, SUMS_MAX))
        return;
    for (size_t i = 0; i < both->patterns; i++)
        MUST(told[i] == (both->targets[i].distinct == 0));
    both_release(both);
}

static void audit_agrees(const struct both *both) {
    for (size_t i = 0; i < both->patterns; i++) {
        ref_count plain = reference_count(both->plain, &both->targets[i]);
        nh_figures count;
        MUST(ask_figures(both->list, i, both->situation.prevailing, both->situation.seat, &count) ==
             NH_OK);
        MUST(same_number(&count.targets, &plain.targets));
        MUST(same_number(&count.ways, &plain.ways));
        MUST(same_number(&count.dealt_ways, &plain.dealt_ways));
        MUST(same_number(&count.joker_only, &plain.joker_only));
    }
}

static void dealt_agrees(const struct both *both, size_t pattern, const ref_hands *hands) {
    const nh_tiles *set = nh_list_set(both->list);
    nh_natural plain = reference_dealt(set, hands, nh_list_hand_size(both->list));
    nh_dealt dealt;
    MUST(nh_audit_dealt(both->list, pattern, NULL, &dealt, NULL) == NH_OK);
    MUST(same_number(&dealt.hands, &plain));
}

static void pair_agrees(const struct both *both, size_t a, size_t b, const ref_hands *hands) {
    nh_natural ways = reference_common_ways(nh_list_set(both->list), &hands[a], &hands[b]);
    nh_relation relation;
    nh_overlap overlap;
    MUST(ask_relation(both->list, a, b, &relation) == NH_OK);
    MUST(relation == reference_hands_relation(&hands[a], &hands[b]));
    MUST(nh_audit_overlap(both->list, a, b, NULL, &overlap, NULL) == NH_OK);
    MUST(same_number(&overlap.ways, &ways));
}

/* Hands are compared where they are few enough to be written out. */
static void relations_agree(const struct both *both) {
    ref_hands hands[GRAMMAR_PATTERNS_MAX] = {{NULL, 0}};
    bool written = true;
    for (size_t p = 0; p < both->patterns && written; p++)
        written = reference_hands(nh_list_set(both->list), both->targets[p].sums,
                                  both->targets[p].count, HANDS_MAX, &hands[p]);
    for (size_t a = 0; a < both->patterns && written; a++) {
        dealt_agrees(both, a, &hands[a]);
        for (size_t b = 0; b < both->patterns; b++)
            pair_agrees(both, a, b, hands);
    }
    for (size_t p = 0; p < both->patterns; p++)
        reference_release_hands(&hands[p]);
}

static void distances_agree(const struct both *both, const nh_tiles *hand) {
    uint8_t away[GRAMMAR_PATTERNS_MAX];
    MUST(nh_distances(both->workspace, hand, &both->situation, away, NULL) == NH_OK);
    for (size_t i = 0; i < both->patterns; i++)
        MUST(away[i] ==
             reference_away(both->plain, &both->targets[i], hand, &both->situation.seen));
}

static void chances_agree(const struct both *both, const nh_tiles *hand) {
    nh_ranked rows[GRAMMAR_PATTERNS_MAX];
    nh_ranking ranking;
    const nh_situation *situation = &both->situation;
    MUST(ask_rank(both->workspace, hand, situation, both->draws, NULL, rows, both->patterns,
                  &ranking, NULL) == NH_OK);
    for (size_t i = 0; i < ranking.rows; i++) {
        const ref_targets *targets = &both->targets[rows[i].pattern];
        size_t first = reference_find(targets, &rows[i].target);
        MUST(first < targets->count);
        nh_natural own =
            reference_completing(both->plain, targets, first, hand, &situation->seen, both->draws);
        nh_natural best =
            reference_best_completing(both->plain, targets, hand, &situation->seen, both->draws);
        MUST(same_number(&own, &rows[i].completing));
        MUST(same_number(&best, &rows[i].completing));
    }
}

static void hands_agree(struct both *both, struct decisions *decisions) {
    nh_tiles hand;
    for (int i = 0; i < HANDS; i++) {
        grammar_situation(decisions, &both->situation, &both->draws);
        if (!both_expand(both, SUMS_MAX))
            return;
        grammar_hand(decisions, nh_list_set(both->list), nh_list_hand_most(both->list), &hand,
                     &both->situation.seen);
        distances_agree(both, &hand);
        ranking_holds(both->list, both->workspace, &hand, &both->situation, both->draws);
        chances_agree(both, &hand);
        if (i == 0)
            audit_agrees(both);
        both_release(both);
    }
}

static void list_agrees(struct both *both, struct decisions *decisions) {
    if (!both_expand(both, SUMS_MAX))
        return;
    for (size_t i = 0; i < both->patterns; i++)
        MUST(both->targets[i].distinct > 0);
    audit_agrees(both);
    relations_agree(both);
    both_release(both);
    hands_agree(both, decisions);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static const struct grammar_size small = {GRAMMAR_PATTERNS_MAX, 8, 3, 0};
    struct decisions decisions = {data, size};
    struct both both;
    both_read(&both, &decisions, &small);
    if (both.list != NULL)
        list_agrees(&both, &decisions);
    else
        refusal_agrees(&both);
    both_free(&both);
    return 0;
}
