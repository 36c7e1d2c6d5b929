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
 * All this depends only on what is left, and serves every hand until that changes. */
#ifndef NH_DISTANCE_JOKER_SHORTAGE_H
#define NH_DISTANCE_JOKER_SHORTAGE_H

#include "distance/family_fits.h"

/* The most excess of the families of a part, with these tiles of it left. */
struct excess_row {
    uint64_t live; /* as bits */
    bool known;
    uint8_t jokers;  /* left, for the room */
    uint8_t most;    /* excess of all families */
    uint8_t *excess; /* by family number */
    uint8_t *room;   /* likewise: jokers + 1 less the excess, or 0; as a row of kernel.h */
};

/* Rows that are remembered of each part: a power of 2. Passes of one hand leave some
 * dozens of contents of a part, each of which occurs many times. */
#define EXCESS_ROWS 32

struct shortage_memo {
    struct shortage shortage;
    struct fits_memo fits;
    bool known, possible; /* possible: in some pattern */
    nh_tiles left;        /* that it is known for */
    struct excess_row rows[PARTS][EXCESS_ROWS];
    uint8_t *excess, *room; /* of all rows */
    struct near_rows near;  /* the room of the parts */
    bool *pattern;
};

bool shortage_memo_init(struct shortage_memo *memo, const nh_list *list,
                        const nh_allocator *allocator);
void shortage_memo_free(struct shortage_memo *memo, const nh_allocator *allocator);

/* Writes to a query where its jokers can run out. Valid until the next call. */
void shortage_find(struct query *query, struct shortage_memo *memo);

/* The same for those who look at single products: it is not found out in which patterns
 * jokers can run out, and a query may count as short of them where no product is. Likewise
 * valid until the next call of either. */
void shortage_find_excess(struct query *query, struct shortage_memo *memo);

#endif
