/* Tiles of a part as 36 bits, a few for each kind in unary: a kind of which n
 * tiles are asked for has its n lowest bits set. A suit has 9 kinds of 4 bits,
 * the honour part 7 kinds of 4 bits and the flower with 8. A hand is written so
 * too, and what both have in common is the number of bits of their AND:
 *
 *      bit   35..32  31..28        7..4   3..0
 *      suit   nine   eight   ...    two    one
 *      bit   35..28  27..24        7..4   3..0
 *      rest  flower   Wh     ...     S      E
 *
 * Tiles of a share beyond the set's copies have no bits: no hand holds them. */
#ifndef NH_COMPILE_SHARE_BITS_H
#define NH_COMPILE_SHARE_BITS_H

#include "tiles/tiles.h"

static inline uint64_t share_bits(const uint8_t count[PART_KINDS], bool honours) {
    uint64_t bits = 0;
    int kinds = honours ? PART_KINDS - 2 : PART_KINDS;
    for (int slot = 0; slot < kinds; slot++) {
        unsigned tiles = count[slot] < COPIES ? count[slot] : COPIES;
        bits |= ((UINT64_C(1) << tiles) - 1u) << (4 * slot);
    }
    unsigned flowers = !honours ? 0 : count[kinds] < FLOWERS_MAX ? count[kinds] : FLOWERS_MAX;
    return bits | ((UINT64_C(1) << flowers) - 1u) << (4 * (PART_KINDS - 2));
}

#endif
