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

/* Eight counts side by side, the first one lowest. */
static inline uint64_t eight_counts(const uint8_t count[8]) {
    return (uint64_t)count[0] | (uint64_t)count[1] << 8 | (uint64_t)count[2] << 16 |
           (uint64_t)count[3] << 24 | (uint64_t)count[4] << 32 | (uint64_t)count[5] << 40 |
           (uint64_t)count[6] << 48 | (uint64_t)count[7] << 56;
}

/* The bits of eight kinds. A count below 128 is at least n where adding 128 - n to it sets
 * its highest bit: so each of the four bits comes about for eight kinds at a time. */
static inline uint64_t bits_of_eight(uint64_t counts) {
    const uint64_t each = UINT64_C(0x0101010101010101), highest = each << 7;
    uint64_t bits = ((counts + each * 127) & highest) >> 7 |
                    ((counts + each * 126) & highest) >> 6 |
                    ((counts + each * 125) & highest) >> 5 | ((counts + each * 124) & highest) >> 4;
    bits = (bits | bits >> 4) & UINT64_C(0x00FF00FF00FF00FF);
    bits = (bits | bits >> 8) & UINT64_C(0x0000FFFF0000FFFF);
    return (bits | bits >> 16) & UINT32_MAX;
}

static inline uint64_t bits_of_one(unsigned tiles, unsigned most) {
    return (UINT64_C(1) << (tiles < most ? tiles : most)) - 1u;
}

/* Counts are below 128. */
static inline uint64_t share_bits(const uint8_t count[PART_KINDS], bool honours) {
    uint64_t eight = bits_of_eight(eight_counts(count));
    if (!honours)
        return eight | bits_of_one(count[PART_KINDS - 1], COPIES) << 32;
    return (eight & (UINT32_MAX >> 4)) | bits_of_one(count[PART_KINDS - 2], FLOWERS_MAX) << 28;
}

#endif
