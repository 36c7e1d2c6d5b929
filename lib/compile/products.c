/* Products added up, and merged where they differ in one part only. */
#include "compile/products.h"
#include "compile/family_sums.h"
#include "compile/work.h"

#include <stdlib.h>

static void add_product(struct pool *pool, const struct product *product, struct products *out) {
    int excess = 0;
    for (int part = 0; part < PARTS; part++)
        excess += pool->families[product->family[part]].excess;
    if (excess > pool->set.count[NH_JOKER])
        return;
    if (out->count >= PRODUCTS_MAX) {
        pool_fail(pool, NH_ERROR_LIMIT);
        return;
    }
    if (pool_reserve(pool, (void **)&out->items, &out->capacity, out->count + 1,
                     sizeof *out->items))
        out->items[out->count++] = *product;
}

void products_add_target(struct pool *pool, const struct share shares[PARTS], uint8_t prevailing,
                         uint8_t seat, struct products *out) {
    struct product product = {.prevailing = prevailing, .seat = seat};
    for (int part = 0; part < PARTS; part++) {
        bool honours = part == PART_HONOUR;
        int excess = excess_of_share(pool, honours, &shares[part]);
        if (excess < 0)
            return;
        product.family[part] = family_of_shares(pool, honours, &shares[part], 1, excess);
    }
    if (pool->status == NH_OK)
        add_product(pool, &product, out);
}

void products_add_nothing(struct pool *pool, struct products *out) {
    struct product product = {
        {FAMILY_NO_SUIT, FAMILY_NO_SUIT, FAMILY_NO_SUIT, FAMILY_NO_HONOURS}, 0, 0};
    add_product(pool, &product, out);
}

/* Both are made while the player's winds have one value each: a product either
 * presumes it or none. */
static void add_sum_of_two(struct pool *pool, const struct product *a, const struct product *b,
                           struct products *out) {
    size_t first[PARTS];
    uint32_t count[PARTS];
    for (int part = 0; part < PARTS; part++) {
        first[part] = families_sum(pool, a->family[part], b->family[part], &count[part]);
        if (count[part] == 0)
            return;
    }
    struct product sum = {.prevailing = a->prevailing != 0 ? a->prevailing : b->prevailing,
                          .seat = a->seat != 0 ? a->seat : b->seat};
    uint32_t at[PARTS] = {0};
    for (int part = 0; part < PARTS;) {
        for (int i = 0; i < PARTS; i++)
            sum.family[i] = pool->results[first[i] + at[i]];
        add_product(pool, &sum, out);
        for (part = 0; part < PARTS && ++at[part] == count[part]; part++)
            at[part] = 0;
    }
}

void products_add_sum(struct pool *pool, const struct products *a, const struct products *b,
                      struct products *out) {
    for (size_t i = 0; i < a->count && pool_work(pool, STEPS_PRODUCT * (uint64_t)b->count); i++)
        for (size_t j = 0; j < b->count && pool->status == NH_OK; j++)
            add_sum_of_two(pool, &a->items[i], &b->items[j], out);
}

void products_append(struct pool *pool, const struct products *from, struct products *out) {
    for (size_t i = 0; i < from->count && pool->status == NH_OK; i++)
        add_product(pool, &from->items[i], out);
}

void products_free(const struct pool *pool, struct products *products) {
    memory_release(pool->allocator, products->items);
    *products = (struct products){0};
}

/* The sorting key of a product with one part set apart: what must be equal for
 * a merge stands first, the family of that part last. */
static void make_key(const struct pool *pool, const struct product *product, int apart,
                     uint64_t key[3]) {
    uint64_t others[PARTS - 1];
    int count = 0;
    for (int part = 0; part < PARTS; part++)
        if (part != apart)
            others[count++] = product->family[part];
    const struct family *family = &pool->families[product->family[apart]];
    key[0] = others[0] << 32 | others[1];
    key[1] = others[2] << 32 | (uint64_t)family->size << 16 | (uint64_t)family->excess << 8 |
             (uint64_t)product->prevailing << 4 | product->seat;
    key[2] = product->family[apart];
}

static struct product product_of_key(const uint64_t key[3], int apart) {
    struct product product = {.prevailing = (uint8_t)(key[1] >> 4 & 15u),
                              .seat = (uint8_t)(key[1] & 15u)};
    uint32_t others[PARTS - 1] = {(uint32_t)(key[0] >> 32), (uint32_t)key[0],
                                  (uint32_t)(key[1] >> 32)};
    int count = 0;
    for (int part = 0; part < PARTS; part++)
        product.family[part] = part == apart ? (uint32_t)key[2] : others[count++];
    return product;
}

static int key_compare(const void *a, const void *b) {
    const uint64_t *x = a, *y = b;
    for (int i = 0; i < 3; i++)
        if (x[i] != y[i])
            return x[i] < y[i] ? -1 : 1;
    return 0;
}

/* Merges products that differ in part `apart` only. True when there are fewer
 * products than before. */
static bool merge_part(struct pool *pool, struct products *products, int apart) {
    size_t count = products->count, kept = 0;
    if (!pool_work(pool, STEPS_PRODUCT * (uint64_t)count) ||
        !pool_reserve(pool, (void **)&pool->keys, &pool->key_capacity, count * 3, sizeof(uint64_t)))
        return false;
    uint64_t(*keys)[3] = (uint64_t(*)[3])pool->keys;
    for (size_t i = 0; i < count; i++)
        make_key(pool, &products->items[i], apart, keys[i]);
    qsort(keys, count, sizeof *keys, key_compare);
    for (size_t i = 0; i < count;) {
        size_t end = i + 1;
        while (end < count && keys[end][0] == keys[i][0] && keys[end][1] == keys[i][1])
            end++;
        struct product merged = product_of_key(keys[i], apart);
        if (keys[end - 1][2] != keys[i][2])
            merged.family[apart] = families_unite(pool, (const uint64_t(*)[3])(keys + i), end - i);
        products->items[kept++] = merged;
        i = end;
        if (pool->status != NH_OK)
            return false;
    }
    products->count = kept;
    return kept < count;
}

void products_merge(struct pool *pool, struct products *products) {
    static const uint8_t order[PARTS] = {PART_HONOUR, PART_BAM, PART_CRAK, PART_DOT};
    int unchanged = 0;
    for (int i = 0; unchanged < PARTS && products->count > 0 && pool->status == NH_OK; i++)
        unchanged = merge_part(pool, products, order[i % PARTS]) ? 0 : unchanged + 1;
}
