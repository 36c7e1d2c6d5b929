/* The best target of a pattern: of the nearest ones, the likeliest. */
#ifndef NH_BEST_H
#define NH_BEST_H

#include "chance.h"
#include "match.h"

/* What a share lacks, kind by kind, in ascending order: all that its chance
 * depends on. */
struct candidate {
    struct lack lacks[PART_KINDS];
    uint8_t count;
    struct fit fit;
    uint32_t share; /* index in the family */
};

/* Scratch: room for a candidate for every share of the largest family, in each
 * part. */
struct best_scratch {
    struct candidate *candidates[PARTS];
};

struct best {
    const struct product *product; /* NULL until there is one */
    uint32_t share[PARTS];
    nh_natural completing;
};

/* Finds the best target of a pattern whose distance is `away` (below FAR). */
void best_target(const struct query *query, const struct draws *draws, const struct near_rows *rows,
                 const struct list_pattern *pattern, unsigned away, struct best_scratch *scratch,
                 struct best *best);

#endif
