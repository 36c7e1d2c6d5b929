/* Products kept apart by which of the sets on the table they account for.
 *
 * Some sets lie open on the table. A way to lay out a pattern's groups gives each of
 * them a group of its own; the other groups make up the rest of the target. While
 * groups are summed, products stand in lists by the sets that have their group so
 * far: bit i of a mask is set number i. */
#ifndef NH_RESTS_MASKED_H
#define NH_RESTS_MASKED_H

#include "families/products.h"
#include "nearhand_play.h"

#define MASKS (1u << NH_SETS_MAX)

struct masked {
    struct products of[MASKS];
};

/* The sets on the table, and how many masks they have. */
struct shown {
    const nh_set *sets;
    size_t count;
    unsigned full; /* the mask of all */
    int least;     /* tiles that a player with these sets holds when the hand is whole; 0 or
                      less where the sets are all of it */
};

/* The one product of nothing, for no set. */
void masked_add_nothing(struct pool *pool, struct masked *out);

/* Appends the sums of what stands in `a` with what stands in `b`, where no set has two
 * groups. Masks that lack a set outside of `later` are left out: no group that is
 * still to come can be it. */
void masked_add_sum(struct pool *pool, const struct shown *shown, const struct masked *a,
                    const struct masked *b, unsigned later, struct masked *out);

void masked_append(struct pool *pool, const struct shown *shown, const struct masked *from,
                   struct masked *out);
void masked_merge(struct pool *pool, const struct shown *shown, struct masked *masked);
void masked_free(const struct pool *pool, const struct shown *shown, struct masked *masked);

/* Whether there is no product at all. */
bool masked_empty(const struct shown *shown, const struct masked *masked);

#endif
