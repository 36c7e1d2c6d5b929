/* Sums of tiles. */
#include "tiles/tiles.h"

#include <string.h>

int nh_tiles_total(const nh_tiles *tiles) {
    int total = 0;
    for (int kind = 0; kind < NH_KINDS; kind++)
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
