/* Sums of tiles. */
#include "tiles/tiles.h"

#include <string.h>

/* Eight counts at a time, as four sums of 16 bits, which add up in the highest. */
int nh_tiles_total(const nh_tiles *tiles) {
    const uint64_t every_other = UINT64_C(0x00FF00FF00FF00FF);
    uint64_t sums = 0, eight;
    size_t kind = 0;
    for (; kind + sizeof eight <= NH_KINDS; kind += sizeof eight) {
        memcpy(&eight, tiles->count + kind, sizeof eight);
        sums += (eight & every_other) + (eight >> 8 & every_other);
    }
    int total = (int)(sums * UINT64_C(0x0001000100010001) >> 48);
    for (; kind < NH_KINDS; kind++)
        total += tiles->count[kind];
    return total;
}

bool nh_tiles_equal(const nh_tiles *a, const nh_tiles *b) {
    return memcmp(a->count, b->count, sizeof a->count) == 0;
}

bool nh_tiles_add(nh_tiles *tiles, const nh_tiles *more) {
    for (int kind = 0; kind < NH_KINDS; kind++)
        if (tiles->count[kind] + more->count[kind] > UINT8_MAX)
            return false;
    *tiles = tiles_with(tiles, more);
    return true;
}

bool nh_tiles_take(nh_tiles *tiles, const nh_tiles *fewer) {
    for (int kind = 0; kind < NH_KINDS; kind++)
        if (fewer->count[kind] > tiles->count[kind])
            return false;
    *tiles = tiles_without(tiles, fewer);
    return true;
}
