/* What a group can be depends only on the values of the letters that it uses: it is
 * worked out once for each, and found by them in a hash table. */
#include "compile/group_memo.h"
#include "compile/choices.h"

#include <string.h>

struct remembered_group {
    struct values values;
    uint32_t group; /* its number and one, 0 for an empty slot */
    uint32_t first, count;
};

static uint32_t unknowns_of(const struct group_memo *memo, size_t index) {
    uint32_t used = 0;
    for (int u = 0; u < memo->unknowns->count; u++)
        if (group_uses(&memo->groups->items[index], &memo->unknowns->item[u]))
            used |= 1u << u;
    return used;
}

/* The slot of a group under these values, or the empty one where it belongs. */
static struct remembered_group *find_group(struct remembered_group *slots, size_t slot_count,
                                           const struct values *values, uint32_t group) {
    uint64_t hash = values->word[0] * UINT64_C(0x9E3779B97F4A7C15);
    hash ^= hash >> 32;
    hash = (hash + values->word[1]) * UINT64_C(0xC2B2AE3D27D4EB4F);
    hash ^= hash >> 32;
    size_t at = (size_t)((hash + group) * UINT64_C(0x9E3779B97F4A7C15) >> 32) & (slot_count - 1);
    while (slots[at].group != 0 &&
           (slots[at].group != group || !values_equal(&slots[at].values, values)))
        at = (at + 1) & (slot_count - 1);
    return &slots[at];
}

static void forget_groups(struct group_memo *memo) {
    memset(memo->slots, 0, memo->slot_count * sizeof *memo->slots);
    memo->count = memo->products.count = 0;
}

/* Makes room for one more in the table. */
static bool grow_memo(struct group_memo *memo) {
    struct pool *pool = memo->compiler->pool;
    if (memo->count * 2 < memo->slot_count)
        return true;
    size_t slot_count = memo->slot_count == 0 ? 64 : memo->slot_count * 4;
    struct remembered_group *slots = memory_new(pool->allocator, slot_count, sizeof *slots);
    if (slots == NULL) {
        pool_short_of_memory(pool);
        return false;
    }
    for (size_t i = 0; i < memo->slot_count; i++)
        if (memo->slots[i].group != 0)
            *find_group(slots, slot_count, &memo->slots[i].values, memo->slots[i].group) =
                memo->slots[i];
    memory_release(pool->allocator, memo->slots);
    memo->slots = slots;
    memo->slot_count = slot_count;
    return true;
}

/* Whether a group is asked for again under the same values: not where it uses every
 * unknown that has one by then. */
static bool comes_again(const struct group_memo *memo, size_t index, uint32_t used) {
    return used != (UINT32_C(1) << memo->unknowns->level[index]) - 1u;
}

/* Remembers what was found; where there would be too many products, all others are
 * forgotten. */
static void remember_group(struct group_memo *memo, const struct values *values, uint32_t group,
                           const struct products *found) {
    if (memo->products.count + found->count > PATTERN_PRODUCTS_MAX)
        forget_groups(memo);
    uint32_t first = (uint32_t)memo->products.count;
    products_append(memo->compiler->pool, found, &memo->products);
    if (!compiler_fine(memo->compiler) || !grow_memo(memo))
        return;
    *find_group(memo->slots, memo->slot_count, values, group) =
        (struct remembered_group){*values, group, first, (uint32_t)found->count};
    memo->count++;
}

struct products group_products(struct group_memo *memo, size_t index) {
    uint32_t used = unknowns_of(memo, index), group = (uint32_t)index + 1;
    bool again = comes_again(memo, index, used);
    struct values values = unknowns_values(memo->compiler, memo->unknowns, used);
    if (again && memo->slot_count > 0) {
        const struct remembered_group *known =
            find_group(memo->slots, memo->slot_count, &values, group);
        if (known->group != 0 && known->count == 0) /* there may be no products at all yet */
            return (struct products){0};
        if (known->group != 0)
            return (struct products){memo->products.items + known->first, known->count, 0};
    }
    memo->fresh.count = 0;
    add_group(memo->compiler, &memo->groups->items[index], &memo->fresh);
    if (again)
        remember_group(memo, &values, group, &memo->fresh);
    return memo->fresh;
}

void group_memo_free(struct group_memo *memo) {
    memory_release(memo->compiler->pool->allocator, memo->slots);
    products_free(memo->compiler->pool, &memo->products);
    products_free(memo->compiler->pool, &memo->fresh);
}
