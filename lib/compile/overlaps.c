/* Families are sorted by tiles, so that shares with the same tiles are found by
 * bisection. Where products overlap too often to compare, they are taken to
 * differ: slower later, never wrong. */
#include "compile/overlaps.h"

#include <stdlib.h>
#include <string.h>

static bool same_tiles(const struct share *a, const struct share *b) {
    return memcmp(a->need, b->need, PART_KINDS) == 0;
}

bool share_has_twin(const nh_list *list, const struct family *family, uint32_t index) {
    const struct share *share = &list->shares[family->first + index];
    return (index > 0 && same_tiles(share - 1, share)) ||
           (index + 1 < family->count && same_tiles(share + 1, share));
}

bool same_sizes(const nh_list *list, const struct product *a, const struct product *b) {
    for (int part = 0; part < PARTS; part++)
        if (list->families[a->family[part]].size != list->families[b->family[part]].size)
            return false;
    return true;
}

uint32_t find_twins(const nh_list *list, const struct family *family, const struct share *share,
                    uint32_t *first) {
    const struct share *shares = list->shares + family->first;
    uint32_t low = 0, high = family->count;
    while (low < high) {
        uint32_t middle = low + (high - low) / 2;
        if (memcmp(shares[middle].need, share->need, PART_KINDS) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    *first = family->first + low;
    for (high = low; high < family->count && same_tiles(&shares[high], share);)
        high++;
    return high - low;
}

/* Whether two families have shares with the same tiles, and such that differ in
 * the ways that jokers may serve. Both are sorted by tiles, then by jokers. */
static void compare_families(const nh_list *list, uint32_t a, uint32_t b, bool *common,
                             bool *differing) {
    const struct family *x = &list->families[a], *y = &list->families[b];
    *common = *differing = false;
    for (uint32_t i = 0; i < x->count; i++) {
        uint32_t own_first, first;
        const struct share *share = &list->shares[x->first + i];
        uint32_t twins = find_twins(list, y, share, &first);
        if (twins == 0)
            continue;
        uint32_t own = find_twins(list, x, share, &own_first);
        *common = true;
        *differing |= own != twins || memcmp(&list->shares[own_first], &list->shares[first],
                                             own * sizeof *share) != 0;
    }
}

/* Of two products with the same sizes. `*looked` counts shares looked up. */
static bool products_differ(const nh_list *list, const struct product *a, const struct product *b,
                            uint64_t *looked) {
    bool any = false;
    for (int part = 0; part < PARTS; part++) {
        bool common = true, differing = false;
        if (a->family[part] != b->family[part]) {
            compare_families(list, a->family[part], b->family[part], &common, &differing);
            *looked += list->families[a->family[part]].count;
        }
        if (!common)
            return false;
        any |= differing;
    }
    return any;
}

/* Products in the order of their sizes, so that only neighbours can overlap. */
struct sized {
    uint32_t sizes, product;
};

static int sized_compare(const void *a, const void *b) {
    const struct sized *x = a, *y = b;
    if (x->sizes != y->sizes)
        return x->sizes < y->sizes ? -1 : 1;
    return x->product < y->product ? -1 : x->product > y->product;
}

/* Past so many products of the same sizes, and so many shares looked up for a
 * list, products are taken to overlap, which is slower and never wrong. */
#define NEIGHBOURS_MAX 256
#define LOOKED_MAX 2000000u

static bool has_overlaps(const nh_list *list, const struct list_pattern *pattern,
                         struct sized *sized, uint64_t *looked) {
    for (uint32_t i = 0; i < pattern->count; i++) {
        sized[i] = (struct sized){0, pattern->first + i};
        for (int part = 0; part < PARTS; part++)
            sized[i].sizes = sized[i].sizes << 8 |
                             list->families[list->products[pattern->first + i].family[part]].size;
    }
    qsort(sized, pattern->count, sizeof *sized, sized_compare);
    for (uint32_t i = 0; i < pattern->count; i++) {
        for (uint32_t j = i + 1; j < pattern->count && sized[j].sizes == sized[i].sizes; j++) {
            if (j - i > NEIGHBOURS_MAX || *looked > LOOKED_MAX ||
                products_differ(list, &list->products[sized[i].product],
                                &list->products[sized[j].product], looked))
                return true;
        }
    }
    return false;
}

bool find_overlaps(nh_list *list) {
    if (list->set.count[NH_JOKER] == 0)
        return true;
    struct sized *sized = memory_new(&list->allocator, list->product_count, sizeof *sized);
    if (sized == NULL)
        return false;
    uint64_t looked = 0;
    for (size_t p = 0; p < list->pattern_count; p++)
        list->patterns[p].overlaps = has_overlaps(list, &list->patterns[p], sized, &looked);
    memory_release(&list->allocator, sized);
    return true;
}
