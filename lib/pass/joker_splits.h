/* The ways to share jokers out to the four parts of a product.
 *
 * A product with J jokers is taken once for each way to share them out, since the
 * best of these is the product's distance (match.c), for the hand and after each
 * draw. A part takes no more jokers than its shares can have. Where jokers can run
 * out, the excess (tiles that jokers alone can be) is shared out as well: with an
 * excess of at most x, only those shares of a part count that need no more than x. Of
 * the ways that leave a part's shares the same, and of those that leave excess unused
 * that some part could take, one is enough. */
#ifndef NH_PASS_JOKER_SPLITS_H
#define NH_PASS_JOKER_SPLITS_H

#include "pass/gain_tables.h"
#include "pass/remains.h"

/* One way, and how far the product is with it. The tables of its four families. */
struct split {
    struct gains_wanted part[PARTS];
    unsigned away;
};

/* Called for each way; false stops the search. */
typedef bool split_found(void *context, const struct split *split);

struct split_search {
    const struct remains *remains;
    unsigned jokers;   /* to be shared out: held and drawn */
    unsigned farthest; /* ways by which a product is farther are left out */
    split_found *found;
    void *context;
    uint64_t steps; /* counted on: ways that were looked at, whole or in part */
    bool stopped;
    /* of the product at hand */
    bool scarce;
    struct split split;
    struct family_fits fits[PARTS];      /* where jokers can run out or are many */
    uint8_t away[PARTS][JOKERS_MAX + 1]; /* of each part, by its jokers */
    unsigned open[PARTS + 1];            /* jokers that this part and those behind it take */
    unsigned excess[PARTS + 1],
        behind[PARTS + 1]; /* likewise: the excess; the distance, at least */
};

/* Finds the ways for a near product of what remains. */
void find_splits(struct split_search *search, const struct near_product *near);

#endif
