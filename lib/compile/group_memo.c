/* What a group can be depends only on the values of the letters that it uses: it is
 * worked out once for each, and found by them in a hash table. */
#include "compile/group_memo.h"
#include "compile/choices.h"

#include <string.h>

/* Products that are remembered, at most: past them all is forgotten. */
#define REMEMBERED_MAX 500000u

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

static void forget_all(struct group_memo *memo) {
    memset(memo->slots, 0, memo->slot_count * sizeof *memo->slots);
    memo->count = memo->products.count = 0;
}

/* Makes room for one more. */
static bool grow_slots(struct group_memo *memo) {
    struct pool *pool = memo->compiler->pool;
    if (memo->products.count > REMEMBERED_MAX)
        forget_all(memo);
    if (memo->count * 2 < memo->slot_count)
        return true;
    size_t slot_count = memo->slot_count == 0 ? 64 : memo->slot_count * 4;
    struct remembered_group *slots = memory_new(pool->allocator, slot_count, sizeof *slots);
    if (slots == NULL) {
        pool_fail(pool, NH_ERROR_MEMORY);
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

static struct products view_of(const struct group_memo *memo, uint32_t first, uint32_t count) {
    return (struct products){memo->products.items + first, count, 0};
}

/* Whether a group is asked for again under the same values: not where it uses every
 * unknown that has one by then. */
static bool comes_again(const struct group_memo *memo, size_t index, uint32_t used) {
    return used != (UINT32_C(1) << memo->unknowns->level[index]) - 1u;
}

struct products group_products(struct group_memo *memo, size_t index) {
    uint32_t used = unknowns_of(memo, index);
    if (!comes_again(memo, index, used)) {
        memo->fresh.count = 0;
        add_group(memo->compiler, &memo->groups->items[index], &memo->fresh);
        return memo->fresh;
    }
    if (!grow_slots(memo))
        return (struct products){0};
    struct values values = unknowns_values(memo->compiler, memo->unknowns, used);
    struct remembered_group *slot =
        find_group(memo->slots, memo->slot_count, &values, (uint32_t)index + 1);
    if (slot->group != 0)
        return view_of(memo, slot->first, slot->count);
    uint32_t first = (uint32_t)memo->products.count;
    add_group(memo->compiler, &memo->groups->items[index], &memo->products);
    uint32_t count = (uint32_t)memo->products.count - first;
    if (!compiler_fine(memo->compiler))
        return (struct products){0};
    *slot = (struct remembered_group){values, (uint32_t)index + 1, first, count};
    memo->count++;
    return view_of(memo, first, count);
}

void group_memo_free(struct group_memo *memo) {
    memory_release(memo->compiler->pool->allocator, memo->slots);
    products_free(memo->compiler->pool, &memo->products);
    products_free(memo->compiler->pool, &memo->fresh);
}
