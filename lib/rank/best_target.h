/* The best target of a pattern: of the nearest ones, the likeliest. */
#ifndef NH_RANK_BEST_TARGET_H
#define NH_RANK_BEST_TARGET_H

#include "distance/match.h"
#include "rank/chance_memo.h"

/* What a share lacks, kind by kind, in ascending order: all that its chance
 * depends on. */
struct candidate {
    lack_number lacks[PART_KINDS];
    uint8_t count;
    struct fit fit;
    bool several;   /* jokers may serve in other ways for the same tiles */
    uint32_t share; /* index in the family */
};

/* Candidates of a family in a part that have been found for the hand at hand,
 * if `stamp` is the scratch's. */
struct found_candidates {
    uint32_t stamp;
    uint32_t first, count;
    uint8_t farthest; /* the distance up to which they were looked for */
    bool all;         /* none was dropped */
};

/* Scratch memory. Products of one pattern, and patterns, share families. */
struct best_scratch {
    nh_allocator allocator;
    struct found_candidates *found; /* [part * families + family] */
    struct candidate *candidates;
    size_t used, capacity; /* of candidates */
    uint32_t *matches;     /* indices of shares: room for the largest family */
    uint32_t *products;    /* numbers of products: room for the largest run */
    struct chance_memo chances;
    uint32_t stamp;
    uint64_t work; /* steps for the hand */
};

bool best_scratch_init(struct best_scratch *scratch, const nh_list *list,
                       const nh_allocator *allocator);
void best_scratch_free(struct best_scratch *scratch);

/* Forgets what was found: to be called before the targets of another hand. */
void best_scratch_clear(struct best_scratch *scratch);

struct best {
    const struct product *product; /* NULL until there is one */
    uint32_t share[PARTS];
    nh_natural completing;
    lack_number lacks[PARTS * PART_KINDS]; /* of the whole target, ascending */
    int lack_count;
};

/* Finds the best target of a pattern whose distance is `away` (below FAR). */
void best_target(const struct query *query, const struct draws *draws, const struct near_rows *rows,
                 const struct list_pattern *pattern, unsigned away, struct best_scratch *scratch,
                 struct best *best);

#endif
