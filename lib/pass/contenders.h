/* The products that can be near what is left of a hand, by their distance from the hand.
 *
 * Without some of its tiles a hand is never nearer: it holds fewer, and those are gone. So
 * a product that is within d of what is left is within d of the hand, and all that is left
 * of one hand needs to be held against these products only. They are listed as they are
 * asked for, those at one distance after those at the last. The distances here ignore that
 * jokers can run out, so they are lower bounds there, which serve as well. */
#ifndef NH_PASS_CONTENDERS_H
#define NH_PASS_CONTENDERS_H

#include "distance/row_cache.h"

struct contender {
    uint16_t family[PARTS]; /* numbers, as rows have them */
    uint32_t product, pattern;
};

struct contenders {
    struct contender *list;  /* room for every product */
    uint8_t *bound;          /* of each pattern: the least distance; FAR for those not chosen */
    uint32_t *found;         /* room for those of a run */
    struct query query;      /* of the hand */
    unsigned nearest;        /* the least distance of all; FAR when no target is live */
    unsigned listed;         /* distances below this are listed: */
    uint32_t first[FAR + 1]; /* those at d are first[d] to first[d + 1] - 1 */
};

bool contenders_init(struct contenders *contenders, const nh_list *list,
                     const nh_allocator *allocator);
void contenders_free(struct contenders *contenders, const nh_allocator *allocator);

/* For another hand, whose query is set. Rows that the memo has found are not valid after. */
void contenders_start(struct contenders *contenders, const struct query *query,
                      const uint8_t *chosen, struct row_memo *memo);

/* Lists those up to `away`, below FAR. Rows are not valid after, likewise. */
void contenders_list(struct contenders *contenders, unsigned away, struct row_memo *memo);

#endif
