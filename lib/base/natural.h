/* Natural numbers below 2^192. */
#ifndef NH_BASE_NATURAL_H
#define NH_BASE_NATURAL_H

#include "nearhand.h"

/* Most tiles in a set: 34 kinds of 4, 8 flowers, 16 jokers. */
#define SET_MAX 160

nh_natural natural_from(uint64_t value);

/* Sum, and product with a 64-bit factor, modulo 2^192. No count of this
 * library reaches 2^192: C(160, 80) is below 2^157, and every other count is
 * one of sub-multisets or subsets of such a set. */
nh_natural natural_add(nh_natural a, nh_natural b);
nh_natural natural_multiply(nh_natural a, nh_natural b);
nh_natural natural_scale(nh_natural a, uint64_t factor);
/* Adds a number times a factor to a sum. */
void natural_add_product(nh_natural *sum, const nh_natural *number, uint64_t factor);
nh_natural natural_subtract(nh_natural a, nh_natural b); /* a >= b */

#endif
