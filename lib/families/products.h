/* Products of four families, one for each part: a pattern is a union of them. */
#ifndef NH_FAMILIES_PRODUCTS_H
#define NH_FAMILIES_PRODUCTS_H

#include "families/pool.h"

struct products {
    struct product *items;
    size_t count, capacity;
};

/* Adds the product of the single target whose four shares are given; nothing
 * when no set of tiles holds it. */
void products_add_target(struct pool *pool, const struct packed_share shares[PARTS],
                         uint8_t prevailing, uint8_t seat, struct products *out);

/* Appends the sums of every target of `a` with every one of `b`. */
void products_add_sum(struct pool *pool, const struct products *a, const struct products *b,
                      struct products *out);

void products_append(struct pool *pool, const struct products *from, struct products *out);

/* Appends the products of a pattern to those of the list. */
void products_append_pattern(struct pool *pool, const struct products *from, struct products *all);

void products_free(const struct pool *pool, struct products *products);

/* The one product of nothing: all shares empty. */
void products_add_nothing(struct pool *pool, struct products *out);

#endif
