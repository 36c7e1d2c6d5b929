/* The fits of a family: what its live shares lack, can have jokers for, and need
 * jokers for.
 *
 * Where jokers can run out, the distance of a family alone says too little: the
 * parts of a target share the jokers for tiles that are gone (the excess). But of
 * all live shares only those matter that no other share beats: one with as few
 * missing tiles, as few of these closed to jokers, and as small an excess serves
 * in its place, for all other parts and any number of jokers.
 * (A share lacks missing - min(j, open) with j jokers for it, which falls from
 * missing to closed, one by one: where both ends are no larger, all between are.)
 * Large families come to a handful of fits, and these are remembered. */
#ifndef NH_DISTANCE_FAMILY_FITS_H
#define NH_DISTANCE_FAMILY_FITS_H

#include "distance/cache_tag.h"
#include "distance/query.h"

struct family_fits {
    const struct fit *fits; /* those that no other beats */
    uint32_t count;         /* 0: no share is live */
    uint32_t excess;        /* bit x: a live share has an excess of x */
};

/* Tables of fits, found like rows (row_cache.h); the fits lie in one array, which
 * starts again when it is full. */
struct fits_memo {
    nh_allocator allocator;
    struct tag *tags;
    struct family_fits *slots;
    struct fit *fits;
    size_t used;
    uint32_t turn; /* the slot of a full bucket to use next */
    uint64_t work; /* steps of about 10 ns in products where jokers can run out */
};

/* Allocates nothing for a list without jokers, which has no use for fits. */
bool fits_memo_init(struct fits_memo *memo, const nh_list *list, const nh_allocator *allocator);
void fits_memo_free(struct fits_memo *memo);

/* Forgets all fits, so that the work that is counted does not depend on earlier hands. */
void fits_forget(struct fits_memo *memo);

/* Makes room for the fits of a product: those of its four families stay valid
 * until the next call. */
void fits_reserve(struct fits_memo *memo);

/* The fits of a family in a part. Needs query_add_bits. */
struct family_fits fits_find(const struct query *query, struct fits_memo *memo, int part,
                             uint32_t family);

/* The least that a share lacks whose excess is at most `excess`, with `jokers` for
 * it; FAR when there is none. */
unsigned fits_away(const struct family_fits *fits, unsigned jokers, unsigned excess);

/* What the families of a product come to in the query's hand: its distance when
 * that is below `nearest`, else `nearest`. `bound` is a lower bound, and least[part]
 * one for each part. */
unsigned fits_away_together(const struct query *query, const struct family_fits fits[PARTS],
                            const unsigned least[PARTS], unsigned bound, unsigned nearest);

#endif
