/* Binomial coefficients of all numbers of tiles. */
#ifndef NH_BASE_BINOMIALS_H
#define NH_BASE_BINOMIALS_H

#include "base/natural.h"

/* C(n, k), for n <= SET_MAX, stands at BINOMIAL(n, k) of BINOMIALS numbers. */
#define BINOMIAL(n, k) ((n) * ((n) + 1u) / 2u + (k))
#define BINOMIALS BINOMIAL(SET_MAX + 1u, 0u)

/* Fills BINOMIALS numbers. */
void binomials_fill(nh_natural *binomials);

#endif
