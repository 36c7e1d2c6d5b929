/* Where jokers can run out.
 *
 * A target that needs more of a kind than are left is live as long as jokers
 * can be the rest of it: its excess. A live target's excess is the sum of its
 * shares' excess, and each of these is at most the largest of a live share of
 * its family. Where the four largest together are no more than the jokers that
 * are left, every sum of live shares of the product is a live target, so that
 * the rows give its distance. Only other products are searched strictly
 * (match.c).
 *
 * What is said here hangs on what is left alone, and serves every hand until
 * that changes. */
#ifndef NH_DISTANCE_JOKER_SUPPLY_H
#define NH_DISTANCE_JOKER_SUPPLY_H

#include "distance/family_fits.h"

struct shortage_memo {
    struct shortage shortage;
    struct fits_memo fits;
    bool known, possible; /* possible: in some pattern */
    uint64_t live[PARTS]; /* the same as bits */
    nh_tiles left;        /* that it is known for */
    uint8_t *excess[PARTS];
    bool *pattern;
};

bool shortage_memo_init(struct shortage_memo *memo, const nh_list *list,
                        const nh_allocator *allocator);
void shortage_memo_free(struct shortage_memo *memo, const nh_allocator *allocator);

/* Tells a query where its jokers can run out. Valid until the next call. */
void shortage_find(struct query *query, struct shortage_memo *memo);

#endif
