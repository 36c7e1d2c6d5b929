/* Small lists that a grammar makes of the bytes, against the plain reference:
 * which patterns have no target at all, and for the others the counts, the
 * relations, and for hands that the bytes deal every distance and the chance of
 * every best target. */
#include "../reference.h"
#include "grammar.h"
#include "holds.h"

#include <string.h>

#define SUMS_MAX 2000
#define HANDS 3

struct trial {
    ref_list *plain;
    nh_list *list;
    nh_workspace *workspace;
    size_t patterns;
    ref_targets targets[GRAMMAR_PATTERNS_MAX];
    nh_situation situation;
};

static bool same_number(const nh_natural *a, const nh_natural *b) {
    return nh_natural_compare(a, b) == 0;
}

/* Writes out every pattern with the winds of the situation; false, with nothing
 * left, when one is too large. */
static bool expand(struct trial *trial) {
    for (size_t i = 0; i < trial->patterns; i++) {
        if (reference_expand(trial->plain, i, trial->situation.prevailing, trial->situation.seat,
                             SUMS_MAX, &trial->targets[i]))
            continue;
        while (i-- > 0)
            reference_release(&trial->targets[i]);
        return false;
    }
    return true;
}

static void release(struct trial *trial) {
    for (size_t i = 0; i < trial->patterns; i++)
        reference_release(&trial->targets[i]);
}

/* A list is refused for what has no target, and for nothing else. */
static void refusal_agrees(struct trial *trial, const nh_mistakes *mistakes) {
    bool told[GRAMMAR_PATTERNS_MAX] = {false};
    for (size_t i = 0; i < nh_mistakes_count(mistakes); i++) {
        nh_mistake mistake = nh_mistakes_at(mistakes, i);
        if (strstr(mistake.text, "no target") == NULL)
            return; /* the grammar goes wrong now and then */
        told[mistake.pattern[0] - '0'] = true;
    }
    if (!expand(trial))
        return;
    for (size_t i = 0; i < trial->patterns; i++)
        MUST(told[i] == (trial->targets[i].distinct == 0));
    release(trial);
}

static void audit_agrees(const struct trial *trial) {
    for (size_t i = 0; i < trial->patterns; i++) {
        ref_count plain = reference_count(trial->plain, &trial->targets[i]);
        nh_count count;
        MUST(nh_audit_count(trial->list, i, trial->situation.prevailing, trial->situation.seat,
                            &count) == NH_OK);
        MUST(same_number(&count.targets, &plain.targets));
        MUST(same_number(&count.ways, &plain.ways));
        MUST(same_number(&count.dealt_ways, &plain.dealt_ways));
        MUST(same_number(&count.joker_only, &plain.joker_only));
    }
}

static void relations_agree(const struct trial *trial) {
    for (size_t a = 0; a < trial->patterns; a++) {
        for (size_t b = 0; b < trial->patterns; b++) {
            nh_relation relation;
            MUST(nh_audit_relation(trial->list, a, b, &relation) == NH_OK);
            MUST(relation == reference_relation(&trial->targets[a], &trial->targets[b]));
        }
    }
}

static void distances_agree(const struct trial *trial, const nh_tiles *hand) {
    uint8_t away[GRAMMAR_PATTERNS_MAX];
    MUST(nh_distances(trial->list, trial->workspace, hand, &trial->situation, away, NULL) == NH_OK);
    for (size_t i = 0; i < trial->patterns; i++)
        MUST(away[i] ==
             reference_away(trial->plain, &trial->targets[i], hand, &trial->situation.seen));
}

static void chances_agree(const struct trial *trial, const nh_tiles *hand) {
    nh_ranked rows[GRAMMAR_PATTERNS_MAX];
    nh_ranking ranking;
    const nh_situation *situation = &trial->situation;
    MUST(nh_rank(trial->list, trial->workspace, hand, situation, NULL, rows, trial->patterns,
                 &ranking, NULL) == NH_OK);
    for (size_t i = 0; i < ranking.rows; i++) {
        const ref_targets *targets = &trial->targets[rows[i].pattern];
        size_t first = reference_find(targets, &rows[i].target);
        MUST(first < targets->count);
        nh_natural own = reference_completing(trial->plain, targets, first, hand, &situation->seen,
                                              situation->draws);
        nh_natural best = reference_best_completing(trial->plain, targets, hand, &situation->seen,
                                                    situation->draws);
        MUST(same_number(&own, &rows[i].completing));
        MUST(same_number(&best, &rows[i].completing));
    }
}

static void hands_agree(struct trial *trial, struct decisions *decisions) {
    nh_tiles hand;
    for (int i = 0; i < HANDS; i++) {
        grammar_situation(decisions, &trial->situation);
        if (!expand(trial))
            return;
        grammar_hand(decisions, nh_list_set(trial->list), nh_list_hand_most(trial->list), &hand,
                     &trial->situation.seen);
        distances_agree(trial, &hand);
        ranking_holds(trial->list, trial->workspace, &hand, &trial->situation);
        chances_agree(trial, &hand);
        if (i == 0)
            audit_agrees(trial);
        release(trial);
    }
}

static void list_agrees(struct trial *trial, struct decisions *decisions) {
    trial->situation = (nh_situation)NH_SITUATION_DEFAULT;
    if (!expand(trial))
        return;
    for (size_t i = 0; i < trial->patterns; i++)
        MUST(trial->targets[i].distinct > 0);
    audit_agrees(trial);
    relations_agree(trial);
    release(trial);
    MUST(nh_workspace_new(trial->list, NULL, &trial->workspace) == NH_OK);
    hands_agree(trial, decisions);
    nh_workspace_free(trial->workspace);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static const struct grammar_size small = {GRAMMAR_PATTERNS_MAX, 8, 3};
    struct decisions decisions = {data, size};
    struct trial trial = {0};
    nh_mistakes *mistakes = NULL;
    char *json = grammar_list(&decisions, &small);
    if (getenv("NEARHAND_SHOW") != NULL)
        fprintf(stderr, "%s\n", json);
    nh_status status = nh_list_read(json, strlen(json), NULL, &trial.list, &mistakes);
    trial.plain = reference_read(json);
    trial.patterns = reference_patterns(trial.plain);
    if (status == NH_OK)
        list_agrees(&trial, &decisions);
    else
        refusal_agrees(&trial, mistakes);
    nh_mistakes_free(mistakes);
    nh_list_free(trial.list);
    reference_free(trial.plain);
    free(json);
    return 0;
}
