/* Each part in turn is set apart: products that have the other three families in
 * common are found by a hash, and their families of that part are united. */
#include "families/product_merge.h"
#include "families/family_sums.h"

#include <string.h>

/* Room that every merge uses again. */
struct merge_scratch {
    uint32_t *slots; /* hash table of product + 1 */
    size_t slot_capacity;
    bool *merges; /* of each product: whether it merges with others */
    size_t merges_capacity;
    struct product *moved; /* and as much again to sort them */
    size_t moved_capacity;
    uint32_t *united; /* the families of products that merge */
    size_t united_capacity;
};

bool merge_scratch_init(struct pool *pool) {
    pool->merge = memory_new(pool->allocator, 1, sizeof *pool->merge);
    if (pool->merge == NULL)
        pool_short_of_memory(pool);
    return pool->merge != NULL;
}

void merge_scratch_free(struct pool *pool) {
    if (pool->merge == NULL)
        return;
    memory_release(pool->allocator, pool->merge->slots);
    memory_release(pool->allocator, pool->merge->merges);
    memory_release(pool->allocator, pool->merge->moved);
    memory_release(pool->allocator, pool->merge->united);
    memory_release(pool->allocator, pool->merge);
}

/* Slots of the hash table: a power of two, at least twice the products. */
static size_t slots_for(size_t count) {
    size_t slots = 16;
    while (slots < 2 * count)
        slots *= 2;
    return slots;
}

static bool merge_room(struct pool *pool, size_t count) {
    struct merge_scratch *scratch = pool->merge;
    return pool_reserve(pool, (void **)&scratch->slots, &scratch->slot_capacity, slots_for(count),
                        sizeof *scratch->slots) &&
           pool_reserve(pool, (void **)&scratch->merges, &scratch->merges_capacity, count,
                        sizeof *scratch->merges) &&
           pool_reserve(pool, (void **)&scratch->moved, &scratch->moved_capacity, 2 * count,
                        sizeof *scratch->moved) &&
           pool_reserve(pool, (void **)&scratch->united, &scratch->united_capacity, count,
                        sizeof *scratch->united);
}

/* ------------------------------------------------------------- comparing --- */

/* Products are looked at with one part set apart. */
struct view {
    const struct pool *pool;
    int apart;
};

/* What must be equal of the families of that part. */
static uint32_t kind_of_family(const struct view *view, const struct product *product) {
    const struct family *family = &view->pool->families[product->family[view->apart]];
    return (uint32_t)family->size << 8 | family->excess;
}

static bool can_merge(const struct view *view, const struct product *a, const struct product *b) {
    for (int part = 0; part < PARTS; part++)
        if (part != view->apart && a->family[part] != b->family[part])
            return false;
    return a->prevailing == b->prevailing && a->seat == b->seat &&
           kind_of_family(view, a) == kind_of_family(view, b);
}

static size_t hash_of_product(const struct view *view, const struct product *product) {
    uint64_t hash = (uint64_t)product->prevailing << 4 | product->seat;
    for (int part = 0; part < PARTS; part++) {
        if (part == view->apart)
            continue;
        hash = (hash ^ product->family[part]) * UINT64_C(0x9E3779B97F4A7C15);
        hash ^= hash >> 32;
    }
    return (size_t)hash;
}

/* The order of products: what must be equal for a merge comes first, the family of
 * the part that is set apart last. */
static bool stands_before(const struct view *view, const struct product *a,
                          const struct product *b) {
    for (int part = 0; part < PARTS; part++)
        if (part != view->apart && a->family[part] != b->family[part])
            return a->family[part] < b->family[part];
    uint32_t kind = kind_of_family(view, a), other_kind = kind_of_family(view, b);
    if (kind != other_kind)
        return kind < other_kind;
    if (a->prevailing != b->prevailing)
        return a->prevailing < b->prevailing;
    return a->seat != b->seat ? a->seat < b->seat : a->family[view->apart] < b->family[view->apart];
}

/* --------------------------------------------------------------- sorting --- */

#define INSERTION_MAX 12

static void sort_few(const struct view *view, struct product *items, size_t count) {
    for (size_t i = 1; i < count; i++) {
        struct product item = items[i];
        size_t at = i;
        for (; at > 0 && stands_before(view, &item, &items[at - 1]); at--)
            items[at] = items[at - 1];
        items[at] = item;
    }
}

/* Sorts by merging halves; `spare` has as much room. */
static void sort_products(const struct view *view, struct product *items, struct product *spare,
                          size_t count) {
    if (count <= INSERTION_MAX) {
        sort_few(view, items, count);
        return;
    }
    size_t half = count / 2, left = 0, right = half, at = 0;
    sort_products(view, items, spare, half);
    sort_products(view, items + half, spare, count - half);
    memcpy(spare, items, half * sizeof *items);
    while (left < half && right < count)
        items[at++] =
            stands_before(view, &items[right], &spare[left]) ? items[right++] : spare[left++];
    memcpy(items + at, spare + left, (half - left) * sizeof *items);
}

/* --------------------------------------------------------------- merging --- */

/* Marks the products that merge with others; whether there are any. */
static bool mark_merges(const struct view *view, const struct products *products,
                        struct merge_scratch *scratch) {
    bool any = false;
    size_t mask = slots_for(products->count) - 1;
    memset(scratch->slots, 0, (mask + 1) * sizeof *scratch->slots);
    for (size_t i = 0; i < products->count; i++) {
        const struct product *product = &products->items[i];
        size_t at = hash_of_product(view, product) & mask;
        while (scratch->slots[at] != 0 &&
               !can_merge(view, &products->items[scratch->slots[at] - 1], product))
            at = (at + 1) & mask;
        scratch->merges[i] = scratch->slots[at] != 0;
        if (scratch->slots[at] == 0) {
            scratch->slots[at] = (uint32_t)i + 1;
        } else {
            scratch->merges[scratch->slots[at] - 1] = true;
            any = true;
        }
    }
    return any;
}

/* Takes the products that merge out of the others; how many they are. */
static size_t move_merges(struct products *products, struct merge_scratch *scratch) {
    size_t kept = 0, moved = 0;
    for (size_t i = 0; i < products->count; i++) {
        if (scratch->merges[i])
            scratch->moved[moved++] = products->items[i];
        else
            products->items[kept++] = products->items[i];
    }
    products->count = kept;
    return moved;
}

/* Unites the families of products that merge, sorted; some may be the same. */
static uint32_t unite(struct pool *pool, int apart, const struct product *products, size_t count) {
    uint32_t *united = pool->merge->united;
    size_t different = 0;
    for (size_t i = 0; i < count; i++) {
        uint32_t family = products[i].family[apart];
        if (different == 0 || united[different - 1] != family)
            united[different++] = family;
    }
    return different == 1 ? united[0] : families_unite(pool, united, different);
}

/* Merges products that differ in one part only; whether there were any. */
static bool merge_part(struct pool *pool, struct products *products, int apart) {
    struct merge_scratch *scratch = pool->merge;
    const struct view view = {pool, apart};
    if (!pool_work(pool, STEPS_PRODUCT * (uint64_t)products->count) ||
        !merge_room(pool, products->count) || !mark_merges(&view, products, scratch))
        return false;
    size_t count = move_merges(products, scratch);
    struct product *moved = scratch->moved;
    sort_products(&view, moved, moved + count, count);
    for (size_t i = 0, end; i < count && pool->status == NH_OK; i = end) {
        for (end = i + 1; end < count && can_merge(&view, &moved[i], &moved[end]);)
            end++;
        struct product merged = moved[i];
        merged.family[apart] = unite(pool, apart, moved + i, end - i);
        products->items[products->count++] = merged;
    }
    return true;
}

/* Past so many products a hash is faster than looking at every pair. */
#define FEW 8

/* Whether some of a few products may merge: two that differ in one part at most. */
static bool some_may_merge(const struct products *products) {
    for (size_t i = 1; i < products->count; i++) {
        for (size_t j = 0; j < i; j++) {
            int different = 0;
            for (int part = 0; part < PARTS; part++)
                different += products->items[i].family[part] != products->items[j].family[part];
            if (different <= 1)
                return true;
        }
    }
    return false;
}

/* The part that was merged last, or the last part. */
static int merge_parts(struct pool *pool, struct products *products) {
    static const uint8_t order[PARTS] = {PART_HONOUR, PART_BAM, PART_CRAK, PART_DOT};
    int last = PARTS - 1;
    if (products->count <= FEW && !some_may_merge(products))
        return order[last];
    for (int i = 0, unchanged = 0; unchanged < PARTS && pool->status == NH_OK; i++) {
        bool merged = products->count > 1 && merge_part(pool, products, order[i % PARTS]);
        last = merged ? i % PARTS : last;
        /* a part that has just been merged has nothing left to merge */
        unchanged = merged ? 1 : unchanged + 1;
    }
    return order[last];
}

void products_merge_unsorted(struct pool *pool, struct products *products) {
    merge_parts(pool, products);
}

void products_merge(struct pool *pool, struct products *products) {
    if (products->count < 2)
        return;
    const struct view view = {pool, merge_parts(pool, products)};
    if (pool->status == NH_OK && merge_room(pool, products->count))
        sort_products(&view, products->items, pool->merge->moved, products->count);
}
