/* Letters are given values one after the other, and what the groups of the later
 * letters can be depends on little of the earlier ones: on the values of those that
 * these groups use too, and on which values are taken. Assignments that agree in
 * that share the sums of the later groups, which are worked out once, from the last
 * letter on. Letters that share groups with few others come last. */
#include "compile/shared_letters.h"
#include "compile/group_memo.h"
#include "families/product_merge.h"

#include <string.h>

/* What the sums of the groups of the later letters depend on. */
struct outlook {
    struct values values; /* of the earlier unknowns that these groups use */
    uint32_t taken;       /* values that later letters would have otherwise */
    uint32_t from;        /* how many unknowns are earlier, and one */
};

/* Products among those that are remembered. */
struct shared_sum {
    struct outlook outlook; /* from 0: an empty slot */
    uint32_t first, count;
};

struct sharing {
    struct compiler *compiler;
    const struct draft_groups *groups;
    struct unknowns unknowns;
    struct group_memo memo;
    uint32_t used[UNKNOWNS_MAX + 1];     /* earlier unknowns that the groups of later ones use */
    uint32_t open[UNKNOWNS_MAX + 1];     /* values of the later ones: nine ranks, three suits */
    struct products own[UNKNOWNS_MAX];   /* sums of the groups of one unknown */
    struct products whole[UNKNOWNS_MAX]; /* and with those of the later ones */
    struct products nothing;             /* the one product of no groups */
    struct products spare;
    struct shared_sum *slots; /* hash table */
    size_t slot_count, sum_count;
    struct products sums; /* those that are remembered */
};

static bool sharing_fine(const struct sharing *sharing) {
    return compiler_fine(sharing->compiler);
}

/* ------------------------------------------------------------- outlooks --- */

static void find_outlooks(struct sharing *sharing) {
    const struct unknowns *unknowns = &sharing->unknowns;
    for (int from = unknowns->count; from >= 0; from--) {
        sharing->used[from] = sharing->open[from] = 0;
        if (from < unknowns->count)
            sharing->open[from] =
                sharing->open[from + 1] | unknown_range_bits(sharing->compiler, unknowns, from);
        for (size_t g = 0; g < sharing->groups->count; g++)
            for (int u = 0; u < from && unknowns->level[g] > from; u++)
                if (group_uses(&sharing->groups->items[g], &unknowns->item[u]))
                    sharing->used[from] |= 1u << u;
    }
}

static struct outlook outlook_of(const struct sharing *sharing, int from) {
    struct outlook outlook = {
        unknowns_values(sharing->compiler, &sharing->unknowns, sharing->used[from]), 0,
        (uint32_t)from + 1};
    for (int u = 0; u < from; u++)
        outlook.taken |= unknown_value_bit(sharing->compiler, &sharing->unknowns, u);
    outlook.taken &= sharing->open[from];
    return outlook;
}

/* ------------------------------------------------------- what is known --- */

static bool same_outlook(const struct outlook *a, const struct outlook *b) {
    return values_equal(&a->values, &b->values) && a->taken == b->taken && a->from == b->from;
}

/* The slot of an outlook, or the empty one where it belongs. */
static struct shared_sum *find_slot(struct shared_sum *slots, size_t slot_count,
                                    const struct outlook *outlook) {
    uint64_t hash = outlook->values.word[0] * UINT64_C(0x9E3779B97F4A7C15);
    hash ^= hash >> 32;
    hash = (hash + outlook->values.word[1]) * UINT64_C(0x9E3779B97F4A7C15);
    hash ^= hash >> 32;
    hash = (hash + ((uint64_t)outlook->taken << 8 | outlook->from)) * UINT64_C(0xC2B2AE3D27D4EB4F);
    size_t at = (size_t)(hash >> 32) & (slot_count - 1);
    while (slots[at].outlook.from != 0 && !same_outlook(&slots[at].outlook, outlook))
        at = (at + 1) & (slot_count - 1);
    return &slots[at];
}

static bool grow_shared_sums(struct sharing *sharing) {
    struct pool *pool = sharing->compiler->pool;
    if (sharing->sum_count * 2 < sharing->slot_count)
        return true;
    size_t slot_count = sharing->slot_count == 0 ? 256 : sharing->slot_count * 4;
    struct shared_sum *slots = memory_new(pool->allocator, slot_count, sizeof *slots);
    if (slots == NULL) {
        pool_short_of_memory(pool);
        return false;
    }
    for (size_t i = 0; i < sharing->slot_count; i++)
        if (sharing->slots[i].outlook.from != 0)
            *find_slot(slots, slot_count, &sharing->slots[i].outlook) = sharing->slots[i];
    memory_release(pool->allocator, sharing->slots);
    sharing->slots = slots;
    sharing->slot_count = slot_count;
    return true;
}

/* Whether assignments of the earlier unknowns can agree in their outlook: not where
 * the later groups use all of them. */
static bool can_share(const struct sharing *sharing, int from) {
    return sharing->used[from] != (UINT32_C(1) << from) - 1u;
}

static struct products view_of_sum(const struct sharing *sharing, const struct shared_sum *sum) {
    if (sum->count == 0) /* perhaps before any was kept */
        return (struct products){0};
    return (struct products){sharing->sums.items + sum->first, sum->count, 0};
}

static void forget_sums(struct sharing *sharing) {
    memset(sharing->slots, 0, sharing->slot_count * sizeof *sharing->slots);
    sharing->sum_count = sharing->sums.count = 0;
}

/* Where there would be too many products, all others are forgotten. */
static struct products remember_sum(struct sharing *sharing, const struct outlook *outlook,
                                    const struct products *products) {
    if (sharing->sums.count + products->count > PATTERN_PRODUCTS_MAX)
        forget_sums(sharing);
    struct shared_sum sum = {*outlook, (uint32_t)sharing->sums.count, (uint32_t)products->count};
    products_append(sharing->compiler->pool, products, &sharing->sums);
    if (sharing_fine(sharing) && grow_shared_sums(sharing)) {
        *find_slot(sharing->slots, sharing->slot_count, outlook) = sum;
        sharing->sum_count++;
    }
    return compiler_fine(sharing->compiler) ? view_of_sum(sharing, &sum) : (struct products){0};
}

/* -------------------------------------------------------------- the sums --- */

/* The sum of the groups that are bound once the unknown at `index` has its value. */
static void add_own(struct sharing *sharing, int index, struct products *own) {
    struct pool *pool = sharing->compiler->pool;
    own->count = 0;
    products_add_nothing(pool, own);
    for (size_t g = 0; g < sharing->groups->count && sharing_fine(sharing); g++) {
        if (sharing->unknowns.level[g] != index + 1)
            continue;
        struct products one = group_products(&sharing->memo, g);
        struct products *longer = &sharing->spare;
        longer->count = 0;
        products_add_sum(pool, own, &one, longer);
        products_merge_unsorted(pool, longer);
        struct products before = *own;
        *own = *longer;
        *longer = before;
    }
}

/* Merging in between keeps the products of one sum few. */
#define MERGE_EVERY 4096

static void add_with_later(struct sharing *sharing, const struct products *own,
                           const struct products *later, struct products *whole) {
    struct pool *pool = sharing->compiler->pool;
    size_t merged = whole->count / MERGE_EVERY;
    products_add_sum(pool, own, later, whole);
    if (whole->count / MERGE_EVERY > merged)
        products_merge_unsorted(pool, whole);
}

/* The sums of the groups of the unknowns from `index` on. They stand until the next
 * call for the same index. */
static struct products later_sum(struct sharing *sharing, int index);

/* Works them out in whole[index]. */
static void find_later_sum(struct sharing *sharing, int index) {
    struct products *own = &sharing->own[index], *whole = &sharing->whole[index];
    whole->count = 0;
    for (int value = 0; value < UNKNOWN_VALUES && sharing_fine(sharing); value++) {
        if (!unknown_assign(sharing->compiler, &sharing->unknowns, index, value))
            continue;
        if (++sharing->compiler->assignments > NH_ASSIGNMENTS_MAX) {
            pool_past_limit(sharing->compiler->pool, LIMIT_LETTERS);
            break;
        }
        add_own(sharing, index, own);
        if (own->count == 0)
            continue;
        struct products later = later_sum(sharing, index + 1);
        add_with_later(sharing, own, &later, whole);
    }
    unknown_forget(sharing->compiler, &sharing->unknowns, index);
    products_merge_unsorted(sharing->compiler->pool, whole);
}

static struct products later_sum(struct sharing *sharing, int index) {
    if (index == sharing->unknowns.count)
        return sharing->nothing;
    if (!can_share(sharing, index)) {
        find_later_sum(sharing, index);
        return sharing->whole[index];
    }
    struct outlook outlook = outlook_of(sharing, index);
    struct shared_sum *known = find_slot(sharing->slots, sharing->slot_count, &outlook);
    if (known->outlook.from != 0)
        return view_of_sum(sharing, known);
    find_later_sum(sharing, index);
    return remember_sum(sharing, &outlook, &sharing->whole[index]);
}

static void sharing_free(struct sharing *sharing) {
    struct pool *pool = sharing->compiler->pool;
    for (int u = 0; u < UNKNOWNS_MAX; u++) {
        products_free(pool, &sharing->own[u]);
        products_free(pool, &sharing->whole[u]);
    }
    products_free(pool, &sharing->nothing);
    products_free(pool, &sharing->spare);
    products_free(pool, &sharing->sums);
    memory_release(pool->allocator, sharing->slots);
    group_memo_free(&sharing->memo);
}

void add_shared_assignments(struct compiler *compiler, const struct draft_groups *groups,
                            struct products *out) {
    struct pool *pool = compiler->pool;
    struct sharing sharing = {.compiler = compiler, .groups = groups};
    sharing.memo.compiler = compiler;
    sharing.memo.groups = groups;
    sharing.memo.unknowns = &sharing.unknowns;
    compiler->now = (struct assignment){.prevailing = 0};
    unknowns_find(groups, compiler->variant->letters, &sharing.unknowns);
    unknowns_reorder(groups, &sharing.unknowns);
    find_outlooks(&sharing);
    products_add_nothing(pool, &sharing.nothing);
    if (grow_shared_sums(&sharing)) {
        struct products sum = later_sum(&sharing, 0);
        products_append(pool, &sum, out);
    }
    sharing_free(&sharing);
}
