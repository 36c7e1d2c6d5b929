/* The best target of a pattern: of the nearest ones, the likeliest.
 *
 * Only products at the pattern's distance hold such targets, and in them only
 * shares that leave the sum there. The chance depends on what is lacking alone:
 * how many tiles of how many kinds, how many of them unseen. So of shares that
 * lack the same one stays, and a share is dropped when another lacks the same
 * numbers of tiles of kinds with at least as many unseen: whatever draws
 * complete the one, as many complete the other. What is left is a handful for
 * each part, and every combination of them is counted exactly. Of equal ones
 * the first in list order stays. */
#include "best.h"

#include <string.h>

struct search {
    const struct query *query;
    const struct draws *draws;
    const struct product *product;
    unsigned away;
    unsigned rest_away[PARTS + 1]; /* least that the parts from here on can add */
    struct candidate *candidates[PARTS];
    uint32_t count[PARTS];
    const struct candidate *chosen[PARTS];
    struct best *best;
};

static bool lack_before(struct lack a, struct lack b) {
    if (a.missing != b.missing)
        return a.missing < b.missing;
    if (a.hard != b.hard)
        return a.hard < b.hard;
    return a.unseen < b.unseen;
}

/* What share `index` of a family lacks. */
static void describe(const struct query *query, int part, const struct family *family,
                     uint32_t index, struct candidate *candidate) {
    const struct share *share = &query->list->shares[family->first + index];
    candidate->share = index;
    candidate->count = 0;
    for (int slot = 0; slot < PART_KINDS; slot++) {
        int held = query->hand.count[part * PART_KINDS + slot];
        if (part == PART_HONOUR && slot == PART_KINDS - 1)
            break;
        if (share->need[slot] <= held)
            continue;
        int missing = share->need[slot] - held;
        int hard = missing > share->joker[slot] ? missing - share->joker[slot] : 0;
        int unseen = query->left.count[part * PART_KINDS + slot] - held;
        struct lack lack = {(uint8_t)missing, (uint8_t)hard, (uint8_t)unseen};
        int at = candidate->count++;
        for (; at > 0 && lack_before(lack, candidate->lacks[at - 1]); at--)
            candidate->lacks[at] = candidate->lacks[at - 1];
        candidate->lacks[at] = lack;
    }
}

/* Whether the draws that complete `b` are at most as many as those that
 * complete `a`, by the numbers of unseen tiles alone. */
static bool at_least_as_likely(const struct candidate *a, const struct candidate *b) {
    if (a->count != b->count || a->fit.excess > b->fit.excess)
        return false;
    for (int i = 0; i < a->count; i++) {
        struct lack x = a->lacks[i], y = b->lacks[i];
        if (x.missing != y.missing || x.hard != y.hard || x.unseen < y.unseen)
            return false;
    }
    return true;
}

/* Keeps a candidate unless an earlier one is as likely; drops those that it
 * betters. */
static void keep_likely(struct search *search, int part, const struct candidate *candidate) {
    struct candidate *kept = search->candidates[part];
    uint32_t count = search->count[part], to = 0;
    for (uint32_t i = 0; i < count; i++)
        if (at_least_as_likely(&kept[i], candidate))
            return;
    for (uint32_t i = 0; i < count; i++)
        if (!at_least_as_likely(candidate, &kept[i]))
            kept[to++] = kept[i];
    kept[to++] = *candidate;
    search->count[part] = to;
}

/* The shares of a part that a nearest target may have. */
static void find_candidates(struct search *search, int part, const unsigned own_away[PARTS]) {
    const struct query *query = search->query;
    const struct family *family = &query->list->families[search->product->family[part]];
    unsigned others = 0;
    for (int other = 0; other < PARTS; other++)
        others += other == part ? 0 : own_away[other];
    search->count[part] = 0;
    for (uint32_t i = 0; i < family->count; i++) {
        struct candidate candidate;
        candidate.fit = fit_share(query, part, family, i);
        unsigned used = candidate.fit.open < query->jokers ? candidate.fit.open : query->jokers;
        if (!candidate.fit.live || candidate.fit.missing - used + others > search->away)
            continue;
        describe(query, part, family, i, &candidate);
        keep_likely(search, part, &candidate);
    }
}

static void consider(struct search *search) {
    struct lack lacks[PARTS * PART_KINDS];
    int count = 0;
    for (int part = 0; part < PARTS; part++) {
        const struct candidate *candidate = search->chosen[part];
        memcpy(lacks + count, candidate->lacks, candidate->count * sizeof *lacks);
        count += candidate->count;
    }
    nh_natural completing = chance_count(search->draws, lacks, count);
    struct best *best = search->best;
    if (best->product != NULL && nh_natural_compare(&completing, &best->completing) <= 0)
        return;
    best->product = search->product;
    best->completing = completing;
    for (int part = 0; part < PARTS; part++)
        best->share[part] = search->chosen[part]->share;
}

static void combine(struct search *search, int part, struct fit sum) {
    const struct query *query = search->query;
    unsigned used = sum.open < query->jokers ? sum.open : query->jokers;
    if (sum.missing - used + search->rest_away[part] > search->away ||
        sum.excess > query->jokers_left)
        return;
    if (part == PARTS) {
        consider(search);
        return;
    }
    for (uint32_t i = 0; i < search->count[part]; i++) {
        const struct candidate *candidate = &search->candidates[part][i];
        search->chosen[part] = candidate;
        struct fit next = {(uint8_t)(sum.missing + candidate->fit.missing),
                           (uint8_t)(sum.open + candidate->fit.open),
                           (uint8_t)(sum.excess + candidate->fit.excess), true};
        combine(search, part + 1, next);
    }
}

/* The best targets of one product at the pattern's distance. */
static void search_product(struct search *search, const struct near_rows *rows) {
    const struct query *query = search->query;
    unsigned own_away[PARTS]; /* with all jokers for each part: a lower bound */
    for (int part = 0; part < PARTS; part++) {
        uint32_t number = family_number(query->list, part, search->product->family[part]);
        own_away[part] = rows->row[part][query->jokers * rows->stride[part] + number];
    }
    search->rest_away[PARTS] = 0;
    for (int part = PARTS - 1; part >= 0; part--)
        search->rest_away[part] = search->rest_away[part + 1] + own_away[part];
    for (int part = 0; part < PARTS; part++)
        find_candidates(search, part, own_away);
    combine(search, 0, (struct fit){0, 0, 0, true});
}

void best_target(const struct query *query, const struct draws *draws, const struct near_rows *rows,
                 const struct list_pattern *pattern, unsigned away, struct best_scratch *scratch,
                 struct best *best) {
    *best = (struct best){.product = NULL};
    struct search search = {.query = query, .draws = draws, .away = away, .best = best};
    memcpy(search.candidates, scratch->candidates, sizeof search.candidates);
    const struct product *product = query->list->products + pattern->first;
    for (uint32_t i = 0; i < pattern->count; i++, product++) {
        if (!product_applies(query, product) || product_away(query, rows, product) != away)
            continue;
        search.product = product;
        search_product(&search, rows);
    }
}
