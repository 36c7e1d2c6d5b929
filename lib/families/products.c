/* Products added up. */
#include "families/products.h"
#include "families/family_sums.h"

#include <string.h>

/* Whether the jokers of the set are enough for the excess of its families. */
static bool jokers_suffice(const struct pool *pool, const struct product *product) {
    int excess = 0;
    for (int part = 0; part < PARTS; part++)
        excess += pool->families[product->family[part]].excess;
    return excess <= pool->set.count[NH_JOKER];
}

static void add_product(struct pool *pool, const struct product *product, struct products *out) {
    if (!jokers_suffice(pool, product))
        return;
    if (out->count >= PATTERN_PRODUCTS_MAX) {
        pool_past_limit(pool, LIMIT_PATTERN);
        return;
    }
    if (pool_reserve(pool, (void **)&out->items, &out->capacity, out->count + 1,
                     sizeof *out->items))
        out->items[out->count++] = *product;
}

void products_add_target(struct pool *pool, const struct packed_share shares[PARTS],
                         uint8_t prevailing, uint8_t seat, struct products *out) {
    struct product product = {.prevailing = prevailing, .seat = seat};
    pool_work(pool, STEPS_TARGET);
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
    struct family_sum part_sums[PARTS];
    bool several = false;
    struct product sum = {.prevailing = a->prevailing != 0 ? a->prevailing : b->prevailing,
                          .seat = a->seat != 0 ? a->seat : b->seat};
    for (int part = 0; part < PARTS; part++) {
        part_sums[part] = families_sum(pool, a->family[part], b->family[part]);
        if (part_sums[part].count == 0)
            return;
        several |= part_sums[part].count > 1;
        sum.family[part] = part_sums[part].first;
    }
    if (!several) {
        add_product(pool, &sum, out);
        return;
    }
    uint32_t at[PARTS] = {0};
    for (int part = 0; part < PARTS;) {
        for (int i = 0; i < PARTS; i++)
            sum.family[i] = family_of_sum(pool, part_sums[i], at[i]);
        add_product(pool, &sum, out);
        for (part = 0; part < PARTS && ++at[part] == part_sums[part].count; part++)
            at[part] = 0;
    }
}

void products_add_sum(struct pool *pool, const struct products *a, const struct products *b,
                      struct products *out) {
    for (size_t i = 0; i < a->count && pool_work(pool, STEPS_PRODUCT * (uint64_t)b->count); i++)
        for (size_t j = 0; j < b->count && pool->status == NH_OK; j++)
            add_sum_of_two(pool, &a->items[i], &b->items[j], out);
}

static void append_within(struct pool *pool, const struct products *from, size_t most,
                          enum work_limit limit, struct products *out) {
    if (out->count + from->count > most)
        pool_past_limit(pool, limit);
    if (from->count == 0 || pool->status != NH_OK ||
        !pool_reserve(pool, (void **)&out->items, &out->capacity, out->count + from->count,
                      sizeof *out->items))
        return;
    memcpy(out->items + out->count, from->items, from->count * sizeof *from->items);
    out->count += from->count;
}

void products_append(struct pool *pool, const struct products *from, struct products *out) {
    append_within(pool, from, PATTERN_PRODUCTS_MAX, LIMIT_PATTERN, out);
}

void products_append_pattern(struct pool *pool, const struct products *from, struct products *all) {
    append_within(pool, from, LIST_PRODUCTS_MAX, LIMIT_LIST, all);
}

void products_free(const struct pool *pool, struct products *products) {
    memory_release(pool->allocator, products->items);
    *products = (struct products){0};
}
