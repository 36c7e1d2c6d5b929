/* Products as kernels read them: the numbers of their four families side by side,
 * and apart by part. */
#ifndef NH_COMPILE_LANES_H
#define NH_COMPILE_LANES_H

#include "tiles/tiles.h"

/* Lanes of the widest kernel: runs of products are padded to a multiple. */
#define LANES 64

/* A number is low + 256 * high. */
struct lanes {
    const uint16_t (*together)[PARTS];
    const uint8_t *low[PARTS], *high[PARTS];
};

/* Products of one pattern that presume the same winds: `count` lanes at `first`, and
 * padding up to a multiple of LANES. */
struct run {
    uint32_t first, count;
    uint32_t product; /* the number of the first in the list's products */
    uint8_t prevailing, seat;
};

#endif
