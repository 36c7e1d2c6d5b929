/* Sums over contents of one part, and over whole targets or hands. */
#ifndef NH_COUNT_TOTALS_H
#define NH_COUNT_TOTALS_H

#include "count/contents.h"

/* C(copies, n) of each kind. */
struct kind_ways {
    uint32_t ways[PARTS * PART_KINDS][NH_TARGET_MAX + 1];
};

struct kind_ways kind_ways_of(const nh_tiles *copies);

/* Of contents of one part that have as many tiles. */
struct tally {
    uint64_t all;  /* how many */
    uint64_t held; /* those for which there are tiles */
    uint64_t ways; /* with each single tile counted as different: at most 6^9 each */
};

/* Adds contents of a part to those of a tally. */
void tally_add_contents(struct tally *tally, const struct kind_ways *ways, int part,
                        uint64_t contents);

/* Of everything that parts come to together. */
struct totals {
    nh_natural all, held;
    nh_natural ways[NH_TARGET_MAX + 1]; /* by the number of tiles */
    uint8_t least, most;                /* all ways are of these numbers of tiles */
};

/* Those of nothing at all, and of the one way to have no tiles. */
struct totals totals_of_none(void);
struct totals totals_of_empty(void);

/* Adds contents of `tiles` tiles, each with everything in `rest`. */
void totals_add(struct totals *totals, const struct tally *tally, unsigned tiles,
                const struct totals *rest);

/* The ways of all numbers of tiles together. */
nh_natural totals_ways(const struct totals *totals);

#endif
