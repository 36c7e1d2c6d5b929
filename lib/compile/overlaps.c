/* Products overlap where their families have shares with the same tiles in every
 * part, and in some part such that differ in what jokers may be. Two families are
 * compared once. Where products overlap too often to compare, they are taken to
 * differ: slower later, never wrong. */
#include "compile/overlaps.h"

#include <stdlib.h>
#include <string.h>

/* Past so many products of the same sizes in a pattern, and so many shares looked at
 * for a list, products are taken to overlap. */
#define NEIGHBOURS_MAX 256
#define LOOKED_MAX 4000000u

/* What two families have in common. */
enum { COMMON = 1, DIFFERING = 2 };

/* Comparisons are remembered in a table that a newer one may overwrite. */
#define COMPARED_BITS 14

struct compared {
    uint64_t families; /* two different ones; 0 where nothing was compared */
    uint8_t result;
};

/* Products in the order of their sizes: only neighbours can overlap. */
struct sized {
    uint32_t sizes, product;
    bool jokers; /* may be tiles of it */
};

struct overlap_search {
    const struct pool *pool;
    const struct product *products; /* of the pattern */
    struct sized *sized;
    struct compared *compared;
    uint8_t *jokers; /* by family: whether they may be tiles of it, and 2 where that is known */
    uint64_t looked;
};

/* ------------------------------------------------------------- families --- */

/* Shares with the tiles of the first of `shares`. */
static size_t twins_of(const struct packed_share *shares, const struct packed_share *end) {
    const struct packed_share *at = shares + 1;
    while (at < end && at->need == shares->need)
        at++;
    return (size_t)(at - shares);
}

/* Both families are sorted by tiles, then by jokers. */
static uint8_t compare_shares(const struct pool *pool, const struct family *a,
                              const struct family *b) {
    const struct packed_share *x = pool->shares + a->first, *x_end = x + a->count;
    const struct packed_share *y = pool->shares + b->first, *y_end = y + b->count;
    uint8_t result = 0;
    while (x < x_end && y < y_end && result != (COMMON | DIFFERING)) {
        if (x->need != y->need) {
            bool first = x->need < y->need;
            x += first;
            y += !first;
            continue;
        }
        size_t own = twins_of(x, x_end), other = twins_of(y, y_end);
        result |= COMMON;
        if (own != other || memcmp(x, y, own * sizeof *x) != 0)
            result |= DIFFERING;
        x += own;
        y += other;
    }
    return result;
}

static uint8_t compare_families(struct overlap_search *search, uint32_t a, uint32_t b) {
    if (a == b)
        return COMMON;
    uint64_t families = (uint64_t)a << 32 | b;
    uint64_t hash = families * UINT64_C(0x9E3779B97F4A7C15);
    struct compared *known = &search->compared[hash >> (64 - COMPARED_BITS)];
    if (known->families != families) {
        const struct family *x = &search->pool->families[a], *y = &search->pool->families[b];
        *known = (struct compared){families, compare_shares(search->pool, x, y)};
        search->looked += x->count + y->count;
    }
    return known->result;
}

static bool family_has_jokers(struct overlap_search *search, uint32_t id) {
    if (search->jokers[id] == 0) {
        const struct family *family = &search->pool->families[id];
        bool any = false;
        for (uint32_t i = 0; i < family->count && !any; i++)
            any = search->pool->shares[family->first + i].joker != 0;
        search->jokers[id] = any ? 3 : 2;
    }
    return search->jokers[id] == 3;
}

/* ------------------------------------------------------------- products --- */

/* Of two products with the same sizes. */
static bool products_differ(struct overlap_search *search, const struct product *a,
                            const struct product *b) {
    bool differing = false;
    for (int part = 0; part < PARTS; part++) {
        uint8_t result = compare_families(search, a->family[part], b->family[part]);
        if ((result & COMMON) == 0)
            return false;
        differing |= (result & DIFFERING) != 0;
    }
    return differing;
}

static int sized_compare(const void *a, const void *b) {
    const struct sized *x = a, *y = b;
    if (x->sizes != y->sizes)
        return x->sizes < y->sizes ? -1 : 1;
    return x->product < y->product ? -1 : x->product > y->product;
}

static void sort_by_sizes(struct overlap_search *search, uint32_t count) {
    for (uint32_t i = 0; i < count; i++) {
        struct sized *sized = &search->sized[i];
        *sized = (struct sized){0, i, false};
        for (int part = 0; part < PARTS; part++) {
            uint32_t family = search->products[i].family[part];
            sized->sizes = sized->sizes << 8 | search->pool->families[family].size;
            sized->jokers |= family_has_jokers(search, family);
        }
    }
    qsort(search->sized, count, sizeof *search->sized, sized_compare);
}

static bool has_overlaps(struct overlap_search *search, uint32_t count) {
    const struct sized *sized = search->sized;
    sort_by_sizes(search, count);
    for (uint32_t i = 0; i < count; i++) {
        for (uint32_t j = i + 1; j < count && sized[j].sizes == sized[i].sizes; j++) {
            if (j - i > NEIGHBOURS_MAX || search->looked > LOOKED_MAX)
                return true;
            if ((sized[i].jokers || sized[j].jokers) &&
                products_differ(search, &search->products[sized[i].product],
                                &search->products[sized[j].product]))
                return true;
        }
    }
    return false;
}

void find_overlaps(struct pool *pool, const struct products *all, nh_list *list) {
    if (list->set.count[NH_JOKER] == 0 || all->count == 0)
        return;
    struct overlap_search search = {
        .pool = pool,
        .sized = memory_new(pool->allocator, all->count, sizeof *search.sized),
        .compared =
            memory_new(pool->allocator, (size_t)1 << COMPARED_BITS, sizeof *search.compared),
        .jokers = memory_new(pool->allocator, pool->family_count, 1)};
    bool room = search.sized != NULL && search.compared != NULL && search.jokers != NULL;
    if (!room)
        pool_short_of_memory(pool);
    for (size_t p = 0; room && p < list->pattern_count; p++) {
        search.products = all->items + list->patterns[p].first;
        list->patterns[p].overlaps = has_overlaps(&search, list->patterns[p].count);
    }
    memory_release(pool->allocator, search.sized);
    memory_release(pool->allocator, search.compared);
    memory_release(pool->allocator, search.jokers);
}
