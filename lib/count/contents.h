/* What a hand, or a target, has in one part of the set: its contents, as a number
 * with five bits for each kind, the first kind highest. Contents that are sorted as
 * numbers are sorted by their tiles. */
#ifndef NH_COUNT_CONTENTS_H
#define NH_COUNT_CONTENTS_H

#include "base/memory.h"
#include "tiles/tiles.h"

#define CONTENTS_SLOT_BITS 5
#define CONTENTS_BITS (CONTENTS_SLOT_BITS * PART_KINDS)

_Static_assert(NH_TARGET_MAX < 1 << CONTENTS_SLOT_BITS, "the tiles of a target fit a slot");

static inline int contents_shift(int slot) {
    return CONTENTS_SLOT_BITS * (PART_KINDS - 1 - slot);
}

static inline uint64_t contents_of(const uint8_t count[PART_KINDS]) {
    uint64_t contents = 0;
    for (int slot = 0; slot < PART_KINDS; slot++)
        contents |= (uint64_t)count[slot] << contents_shift(slot);
    return contents;
}

static inline unsigned contents_slot(uint64_t contents, int slot) {
    return (unsigned)(contents >> contents_shift(slot)) & ((1u << CONTENTS_SLOT_BITS) - 1u);
}

static inline unsigned contents_tiles(uint64_t contents) {
    unsigned tiles = 0;
    for (int slot = 0; slot < PART_KINDS; slot++)
        tiles += contents_slot(contents, slot);
    return tiles;
}

/* Sorted runs of numbers, one after the other: run r is items[ends[r - 1]] to
 * items[ends[r] - 1], and the first begins at 0. */
struct number_runs {
    uint64_t *items, *spare; /* `spare` has as much room */
    size_t *ends;
    size_t run_count;
};

/* Merges the runs into one sorted array, where every number stands once, and returns
 * how many there are. It is in `items`, which may be what was `spare`. */
size_t merge_runs(struct number_runs *runs);

#endif
