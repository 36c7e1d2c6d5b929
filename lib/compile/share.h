/* A share: the tiles that a target asks for in one part of the set. */
#ifndef NH_COMPILE_SHARE_H
#define NH_COMPILE_SHARE_H

#include "tiles/tiles.h"

/* The tiles of one part that a target asks for, and for how many of them a
 * joker may stand. joker[i] <= need[i]; all zero for a set without jokers. */
struct share {
    uint8_t need[PART_KINDS];
    uint8_t joker[PART_KINDS];
};

/* The number of tiles. */
int share_size(const struct share *share);

/* Sorts shares by their bytes, drops repeated ones, and those that another with
 * the same tiles makes needless by what jokers may be. The number left. `spare`
 * has room for as many. */
size_t shares_tidy(struct share *shares, struct share *spare, size_t count);

#endif
