/* Ranking: distances, best targets, their order. */
#ifndef NH_RANK_RANK_H
#define NH_RANK_RANK_H

#include "distance/distances.h"
#include "rank/best_target.h"

/* A pattern's row of a ranking. */
struct row {
    uint32_t pattern;
    uint8_t away;
    struct best best;
};

/* Scratch memory: a row for each pattern, and that of best targets. */
struct rank_scratch {
    struct row *rows;
    struct best_scratch best;
};

bool rank_scratch_init(struct rank_scratch *scratch, const nh_list *list,
                       const nh_allocator *allocator);
void rank_scratch_free(struct rank_scratch *scratch, const nh_allocator *allocator);

/* The memory that a ranking works in. */
struct rank_memory {
    struct row_memo *rows;
    uint8_t *away; /* a byte for each pattern */
    struct rank_scratch *scratch;
};

/* Answers nh_rank for a query that is set and a question that is checked, and
 * writes rows as large as the question says. */
void rank_patterns(struct query *query, const nh_rank_question *question,
                   const struct rank_memory *memory, nh_ranked *rows, size_t capacity,
                   nh_ranking *ranking);

#endif
