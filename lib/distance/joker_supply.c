/* Where jokers can run out: worked out anew whenever other tiles are left. */
#include "distance/joker_supply.h"

#include <string.h>

bool shortage_memo_init(struct shortage_memo *memo, const nh_list *list,
                        const nh_allocator *allocator) {
    *memo = (struct shortage_memo){.known = false};
    bool good = fits_memo_init(&memo->fits, list, allocator);
    if (list->set.count[NH_JOKER] == 0)
        return good;
    memo->shortage.fits = &memo->fits;
    for (int part = 0; part < PARTS; part++) {
        size_t first, end;
        families_of(list, part, &first, &end);
        memo->excess[part] = memory_new_raw(allocator, end - first, 1);
        memo->shortage.excess[part] = memo->excess[part];
        good &= memo->excess[part] != NULL;
    }
    memo->pattern = memory_new(allocator, list->pattern_count, sizeof *memo->pattern);
    memo->shortage.pattern = memo->pattern;
    return good && memo->pattern != NULL;
}

void shortage_memo_free(struct shortage_memo *memo, const nh_allocator *allocator) {
    for (int part = 0; part < PARTS; part++)
        memory_release(allocator, memo->excess[part]);
    memory_release(allocator, memo->pattern);
    fits_memo_free(&memo->fits);
}

/* The most excess of a live share of each family of a part, or more. A share's
 * excess is its tiles beyond the set's copies, of which all of a family have the
 * same number, and bits that are not left. Flowers beyond the set's are among
 * those bits too: counted twice, they only make the bound larger. */
static void find_excess(const struct query *query, int part, uint8_t *excess) {
    const nh_list *list = query->list;
    uint64_t dead = ~query->live[part];
    size_t first, end;
    families_of(list, part, &first, &end);
    for (size_t f = first; f < end; f++) {
        const struct family *family = &list->families[f];
        int most = list->kernels->most_common(
            list->bits + family->first, list->hard + family->first, family->count, dead, dead);
        *excess++ = (uint8_t)(most < 0 ? 0 : family->excess + most);
    }
}

static bool pattern_can_run_out(const struct query *query, const struct shortage *shortage,
                                const struct list_pattern *pattern) {
    const nh_list *list = query->list;
    for (uint32_t r = 0; r < pattern->run_count; r++) {
        const struct run *run = &list->runs[pattern->run_first + r];
        for (uint32_t i = run->first; i < run->first + run->count; i++)
            if (excess_of_product(shortage, list->lanes.together[i]) > query->jokers_left)
                return true;
    }
    return false;
}

void shortage_find(struct query *query, struct shortage_memo *memo) {
    if (!query->short_of_jokers)
        return;
    if (!memo->known || memcmp(&memo->left, &query->left, sizeof memo->left) != 0) {
        const nh_list *list = query->list;
        query_add_bits(query);
        for (int part = 0; part < PARTS; part++)
            if (!memo->known || query->live[part] != memo->live[part])
                find_excess(query, part, memo->excess[part]);
        memcpy(memo->live, query->live, sizeof memo->live);
        memo->possible = false;
        for (size_t p = 0; p < list->pattern_count; p++) {
            memo->pattern[p] = pattern_can_run_out(query, &memo->shortage, &list->patterns[p]);
            memo->possible |= memo->pattern[p];
        }
        memo->left = query->left;
        memo->known = true;
    }
    query->shortage = &memo->shortage;
    query->short_of_jokers = memo->possible;
}
