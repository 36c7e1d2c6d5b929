/* Families added and united. Every sum and union is worked out once and remembered. */
#ifndef NH_FAMILIES_FAMILY_SUMS_H
#define NH_FAMILIES_FAMILY_SUMS_H

#include "families/pool.h"

/* The sums of a share of one family and a share of another, parted by excess: one
 * family, or `count` of them in the pool's results. */
struct family_sum {
    uint32_t count;
    uint32_t first; /* the family where there is one, else the place of the first in the results */
};

struct family_sum families_sum(struct pool *pool, uint32_t a, uint32_t b);

/* Family number `index` of a sum. */
static inline uint32_t family_of_sum(const struct pool *pool, struct family_sum sum,
                                     uint32_t index) {
    return sum.count == 1 ? sum.first : pool->results[sum.first + index];
}

/* The union of different families of one size and excess, in ascending order. */
uint32_t families_unite(struct pool *pool, const uint32_t *families, size_t count);

#endif
