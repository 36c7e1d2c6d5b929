/* Pascal's triangle. */
#include "base/binomials.h"

void binomials_fill(nh_natural *binomials) {
    for (unsigned n = 0; n <= SET_MAX; n++) {
        binomials[BINOMIAL(n, 0)] = natural_from(1);
        binomials[BINOMIAL(n, n)] = natural_from(1);
        for (unsigned k = 1; k < n; k++)
            binomials[BINOMIAL(n, k)] =
                natural_add(binomials[BINOMIAL(n - 1, k - 1)], binomials[BINOMIAL(n - 1, k)]);
    }
}
