/* The best target of a pattern: of the nearest ones, the likeliest.
 *
 * Only products at the pattern's distance hold such targets, and in them only
 * shares that leave the sum there. The chance depends on what is lacking alone:
 * how many tiles of how many kinds, how many of them unseen. So of shares that
 * lack the same one stays, and a share is dropped when another lacks the same
 * numbers of tiles of kinds with at least as many unseen: at least as many draws
 * complete the other. What is left is a handful for each part, and every
 * combination of them is counted exactly. Of equal ones the first that is found
 * stays, and the search always goes the same way.
 *
 * Tiles that jokers can complete in several ways (joker_ways.c) are not dropped, as
 * their draws are those of all the ways together. Where products of a pattern
 * overlap in such targets, which shares these are depends on all four parts:
 * then a second search drops none, and ends after SEARCH_MOST targets. So of a
 * pattern that overlaps the target is the likeliest as long as no more than
 * that are equally near; beyond, it is one of the likeliest by a single way.
 * What is counted for it is exact in either case.
 *
 * Lists that are made for it have so many targets that are equally near, and so
 * many ways for each, that a hand would take minutes. The search then ends after
 * RANK_WORK_MAX steps for all patterns of the hand together, each of which has
 * some nearest target. */
#include "rank/best_target.h"
#include "compile/twins.h"
#include "rank/joker_ways.h"

#include <string.h>

#define SEARCH_MOST 4096

/* Steps of work for the targets of a hand, of about 10 ns. The shipped lists come to 30
 * million at most. */
#define RANK_WORK_MAX 75000000u

/* For each kind that a target lacks, where its draws are counted. */
#define STEPS_LACK 160u

struct search {
    const struct query *query;
    const struct draws *draws;
    const struct list_pattern *pattern;
    const struct product *product;
    unsigned away;
    bool thorough;                 /* no candidate is dropped */
    uint64_t *work;                /* steps for the hand: RANK_WORK_MAX */
    unsigned left;                 /* targets that a thorough search may still look at */
    unsigned rest_away[PARTS + 1]; /* least that the parts from here on can add */
    const struct candidate *candidates[PARTS];
    uint32_t count[PARTS];
    const struct candidate *chosen[PARTS];
    struct best_scratch *scratch;
    struct best *best;
};

bool best_scratch_init(struct best_scratch *scratch, const nh_list *list,
                       const nh_allocator *allocator) {
    *scratch = (struct best_scratch){.allocator = *allocator};
    scratch->capacity = 2 * PARTS * (size_t)list->largest_family + 1024;
    scratch->found = memory_new(allocator, PARTS * list->family_count, sizeof *scratch->found);
    scratch->candidates = memory_new_raw(allocator, scratch->capacity, sizeof *scratch->candidates);
    /* one more: a kernel writes behind the last match before it knows */
    scratch->matches =
        memory_new_raw(allocator, list->largest_family + 1u, sizeof *scratch->matches);
    scratch->products =
        memory_new_raw(allocator, list->largest_run + 1u, sizeof *scratch->products);
    bool chances = chance_memo_init(&scratch->chances, allocator);
    return chances && scratch->products != NULL && scratch->found != NULL &&
           scratch->candidates != NULL && scratch->matches != NULL;
}

void best_scratch_free(struct best_scratch *scratch) {
    memory_release(&scratch->allocator, scratch->found);
    memory_release(&scratch->allocator, scratch->candidates);
    memory_release(&scratch->allocator, scratch->matches);
    memory_release(&scratch->allocator, scratch->products);
    chance_memo_free(&scratch->chances, &scratch->allocator);
}

void best_scratch_clear(struct best_scratch *scratch) {
    scratch->stamp++;
    scratch->used = 0;
}

/* ---------------------------------------------------------- candidates --- */

/* Whether lacks `b` are those of `a`, with at most as many unseen tiles: then
 * as many draws or more fill `a`. Both are sorted, of one length. */
static bool lacks_less(const lack_number *a, const lack_number *b, int count) {
    for (int i = 0; i < count; i++)
        if (a[i] >> 8 != b[i] >> 8 || a[i] < b[i])
            return false;
    return true;
}

static bool at_least_as_likely(const struct candidate *a, const struct candidate *b) {
    return !b->several && a->count == b->count && a->fit.excess <= b->fit.excess &&
           lacks_less(a->lacks, b->lacks, a->count);
}

/* The slots of a part of which the hand may lack tiles of a share, as the lowest bits of
 * four for each. Tiles beyond the set's copies have no bits: a share that needs such may lack
 * any. */
static uint64_t slots_lacking(const struct query *query, int part, const struct family *family,
                              uint32_t index) {
    const uint64_t lowest = UINT64_C(0x111111111);
    if (family->excess > 0)
        return lowest;
    uint64_t bits = query->list->bits[family->first + index] & ~query->have[part];
    if (part == PART_HONOUR) /* the flower has eight bits */
        bits |= bits >> 4 & UINT64_C(0xF0000000);
    return (bits | bits >> 1 | bits >> 2 | bits >> 3) & lowest;
}

/* What share `index` of a family lacks. */
static void describe(const struct query *query, int part, const struct family *family,
                     uint32_t index, struct candidate *candidate) {
    const struct share *share = &query->list->shares[family->first + index];
    candidate->share = index;
    candidate->several =
        query->list->set.count[NH_JOKER] > 0 && share_has_twin(query->list, family, index);
    candidate->count = 0;
    uint64_t slots = slots_lacking(query, part, family, index);
    for (; slots != 0; slots &= slots - 1) {
        int slot = __builtin_ctzll(slots) / 4, kind = part * PART_KINDS + slot;
        int missing = share->need[slot] - query->hand.count[kind];
        if (kind == NH_JOKER || missing <= 0)
            continue;
        int hard = missing > share->joker[slot] ? missing - share->joker[slot] : 0;
        int unseen = query->left.count[kind] - query->hand.count[kind];
        insert_lack(candidate->lacks, candidate->count++, number_of_lack(missing, hard, unseen));
    }
}

/* Keeps a candidate unless an earlier one is as likely; drops those that it
 * betters. `kept` has `count` candidates; their new number. */
static uint32_t keep_likely(struct candidate *kept, uint32_t count,
                            const struct candidate *candidate) {
    uint32_t to = 0;
    for (uint32_t i = 0; i < count; i++)
        if (at_least_as_likely(&kept[i], candidate))
            return count;
    for (uint32_t i = 0; i < count; i++)
        if (!at_least_as_likely(candidate, &kept[i]))
            kept[to++] = kept[i];
    kept[to++] = *candidate;
    return to;
}

/* Lists the live shares of a family that are at most `farthest` away when all
 * jokers are theirs. */
static size_t match_shares(const struct search *search, int part, const struct family *family,
                           unsigned farthest, uint32_t *matches) {
    const struct query *query = search->query;
    const nh_list *list = query->list;
    if (query->jokers == 0 && search->rest_away[0] == search->away)
        /* the others are as near as can be and the sum is too: none is nearer */
        return list->kernels->find_common(list->bits + family->first, list->hard + family->first,
                                          family->count, query->have[part], ~query->live[part],
                                          family->size - (int)farthest, matches);
    size_t count = 0;
    for (uint32_t i = 0; i < family->count; i++) {
        struct fit fit = fit_share(query, part, family, i);
        unsigned used = fit.open < query->jokers ? fit.open : query->jokers;
        if (fit.live && fit.missing - used <= farthest)
            matches[count++] = i;
    }
    return count;
}

/* The shares of a part that a nearest target may have: those that leave the sum
 * at the pattern's distance when the other parts are as near as they can be.
 * Without jokers that is the family's own distance exactly. */
static void find_candidates(struct search *search, int part, const unsigned own_away[PARTS]) {
    const struct query *query = search->query;
    struct best_scratch *scratch = search->scratch;
    uint32_t id = search->product->family[part];
    unsigned farthest = search->away;
    for (int other = 0; other < PARTS; other++)
        farthest -= other == part ? 0 : own_away[other];
    struct found_candidates *found = &scratch->found[(size_t)part * query->list->family_count + id];
    bool known = found->stamp == scratch->stamp && found->farthest == farthest &&
                 found->all == search->thorough;
    if (!known) {
        const bool jokers = query->list->set.count[NH_JOKER] > 0;
        const struct family *family = &query->list->families[id];
        struct candidate *kept = scratch->candidates + scratch->used;
        uint32_t count = 0;
        size_t matches = match_shares(search, part, family, farthest, scratch->matches);
        for (size_t i = 0; i < matches; i++) {
            struct candidate candidate;
            candidate.fit = jokers ? fit_share(query, part, family, scratch->matches[i])
                                   : (struct fit){(uint8_t)farthest, 0, 0, true};
            describe(query, part, family, scratch->matches[i], &candidate);
            *search->work += 1 + count;
            if (search->thorough)
                kept[count++] = candidate;
            else
                count = keep_likely(kept, count, &candidate);
        }
        *found = (struct found_candidates){scratch->stamp, (uint32_t)scratch->used, count,
                                           (uint8_t)farthest, search->thorough};
        scratch->used += count;
    }
    search->candidates[part] = scratch->candidates + found->first;
    search->count[part] = found->count;
}

/* Counts the draws for the chosen candidates, unless the best so far is known
 * to be as likely. */
static void consider(struct search *search) {
    lack_number lacks[PARTS * PART_KINDS];
    int count = 0;
    bool several = search->pattern->overlaps;
    for (int part = 0; part < PARTS; part++) {
        several |= search->chosen[part]->several;
        for (int i = 0; i < search->chosen[part]->count; i++)
            insert_lack(lacks, count++, search->chosen[part]->lacks[i]);
    }
    struct best *best = search->best;
    if (best->product != NULL && best->lack_count == count && lacks_less(best->lacks, lacks, count))
        return;
    uint32_t share[PARTS];
    for (int part = 0; part < PARTS; part++)
        share[part] = search->chosen[part]->share;
    *search->work += STEPS_LACK * (uint64_t)count + (several ? search->pattern->count : 0);
    nh_natural completing = several
                                ? ways_count(search->query, search->draws, search->pattern,
                                             search->product, share, &search->scratch->chances)
                                : chance_of(&search->scratch->chances, search->draws, lacks, count);
    if (best->product != NULL && nh_natural_compare(&completing, &best->completing) <= 0)
        return;
    best->product = search->product;
    best->completing = completing;
    best->lack_count = count;
    memcpy(best->lacks, lacks, (size_t)count * sizeof *lacks);
    memcpy(best->share, share, sizeof share);
}

/* Some nearest target is always looked for, and more of them as long as the work
 * allows and nobody cancels it. */
static bool goes_on(const struct search *search) {
    if (search->left == 0)
        return false;
    return search->best->product == NULL ||
           (*search->work <= RANK_WORK_MAX && !cancel_asked(search->query->cancel));
}

static void combine(struct search *search, int part, struct fit sum) {
    const struct query *query = search->query;
    ++*search->work;
    unsigned used = sum.open < query->jokers ? sum.open : query->jokers;
    if (sum.missing - used + search->rest_away[part] > search->away ||
        sum.excess > query->jokers_left || !goes_on(search))
        return;
    if (part == PARTS) {
        search->left -= search->thorough;
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
        own_away[part] = near_value(rows, part, number, query->jokers);
    }
    search->rest_away[PARTS] = 0;
    for (int part = PARTS - 1; part >= 0; part--)
        search->rest_away[part] = search->rest_away[part + 1] + own_away[part];
    /* room for all that the four parts can have */
    if (search->scratch->capacity - search->scratch->used <
        PARTS * (size_t)query->list->largest_family)
        best_scratch_clear(search->scratch);
    for (int part = 0; part < PARTS; part++)
        find_candidates(search, part, own_away);
    combine(search, 0, (struct fit){0, 0, 0, true});
}

static void search_pattern(struct search *search, const struct near_rows *rows) {
    const struct query *query = search->query;
    uint32_t *products = search->scratch->products;
    for (uint32_t run = 0; run < search->pattern->run_count; run++) {
        size_t count = products_at(query, rows, search->pattern, run, search->away, products);
        for (size_t i = 0; i < count && goes_on(search); i++) {
            search->product = &query->list->products[products[i]];
            search_product(search, rows);
        }
    }
}

void best_target(const struct query *query, const struct draws *draws, const struct near_rows *rows,
                 const struct list_pattern *pattern, unsigned away, struct best_scratch *scratch,
                 struct best *best) {
    best->product = NULL;
    struct search search = {.query = query,
                            .draws = draws,
                            .pattern = pattern,
                            .away = away,
                            .left = 1,
                            .work = &scratch->work,
                            .scratch = scratch,
                            .best = best};
    search_pattern(&search, rows);
    if (!pattern->overlaps || scratch->work > RANK_WORK_MAX)
        return;
    search.thorough = true;
    search.left = SEARCH_MOST;
    search_pattern(&search, rows);
}
