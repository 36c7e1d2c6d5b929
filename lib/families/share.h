/* A share: the tiles that a target asks for in one part of the set. */
#ifndef NH_FAMILIES_SHARE_H
#define NH_FAMILIES_SHARE_H

#include "tiles/tiles.h"

/* The tiles of one part that a target asks for, and for how many of them a
 * joker may stand. joker[i] <= need[i]; all zero for a set without jokers. */
struct share {
    uint8_t need[PART_KINDS];
    uint8_t joker[PART_KINDS];
};

#endif
