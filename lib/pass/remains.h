/* What is left of a hand when tiles have gone, and the products that tiles to come
 * can bring nearer than its nearest one.
 *
 * With c its distance and k tiles to come, each of which brings a product one tile
 * nearer at most, only products up to c + k - 1 away matter: those at c + l must come
 * at least l + 1 nearer. */
#ifndef NH_PASS_REMAINS_H
#define NH_PASS_REMAINS_H

#include "pass/contenders.h"

/* A product that is near enough. */
struct near_product {
    uint32_t contender; /* its number */
    uint8_t away;
    bool scarce; /* jokers can run out in it */
};

/* Memory for one hand at a time. */
struct remains_scratch {
    struct contenders contenders;
    uint8_t *away;             /* of each pattern that is near */
    struct near_product *near; /* room for every product */
};

bool remains_scratch_init(struct remains_scratch *scratch, const nh_list *list,
                          const nh_allocator *allocator);
void remains_scratch_free(struct remains_scratch *scratch, const nh_allocator *allocator);

struct remains {
    struct query query;
    struct near_rows rows;
    struct fits_memo *fits; /* NULL for a list without jokers */
    unsigned away;          /* NH_AWAY_NONE when no target is live */
    unsigned nearest;       /* patterns that are as near */
    unsigned within_one;    /* patterns at most one tile farther */
    const struct contender *contenders;
    const struct near_product *near; /* those that tiles to come can bring nearer, or more */
    size_t near_count;
};

/* Looks at what is left of the hand whose contenders the scratch has, with the tiles that
 * are gone in `situation`, and finds the products up to `reach` farther than it is. The rows
 * stay valid until the memo's next query. */
void remains_set(struct remains *remains, const nh_tiles *left, const nh_situation *situation,
                 unsigned reach, struct row_memo *memo, struct remains_scratch *scratch);

#endif
