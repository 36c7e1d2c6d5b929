/* A group that is taken several times, with different tiles each time. */
#ifndef NH_COMPILE_DISTINCT_H
#define NH_COMPILE_DISTINCT_H

#include "families/products.h"

/* How often a choice is taken, and the winds of the player that the choices
 * presume, 0 for none. `wanted` is NULL, or choices of which one must be among them. */
struct distinct {
    int times;
    uint8_t prevailing, seat;
    const struct products *wanted;
};

/* Appends the sums of that many different choices of those in `once`. */
void add_distinct(struct pool *pool, const struct products *once, const struct distinct *distinct,
                  struct products *out);

#endif
