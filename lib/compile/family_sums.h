/* Families added and united. Every sum is worked out once and remembered. */
#ifndef NH_COMPILE_FAMILY_SUMS_H
#define NH_COMPILE_FAMILY_SUMS_H

#include "compile/pool.h"

/* The families of the sums of a share of `a` and a share of `b`: `*count` of
 * them in the pool's results, from the number returned on. */
size_t families_sum(struct pool *pool, uint32_t a, uint32_t b, uint32_t *count);

/* The union of families of one size and excess; the number of each is the third
 * word of its key. */
uint32_t families_unite(struct pool *pool, const uint64_t (*keys)[3], size_t count);

#endif
