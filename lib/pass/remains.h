/* What is left of a hand when tiles have gone, and the products that tiles to come
 * can bring nearer than its nearest one.
 *
 * With c its distance and k tiles to come, each of which brings a product one tile
 * nearer at most, only products up to c + k - 1 away matter: those at c + l must come
 * at least l + 1 nearer. */
#ifndef NH_PASS_REMAINS_H
#define NH_PASS_REMAINS_H

#include "distance/distances.h"

/* A product that is near enough. */
struct near_product {
    uint32_t product;
    uint8_t away;
    bool scarce; /* jokers can run out in it */
};

/* Memory for one hand at a time. */
struct remains_scratch {
    uint8_t *away;             /* of each pattern */
    struct near_product *near; /* room for every product */
    uint32_t *found;           /* likewise, for those of a run */
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
    const struct near_product *near;
    size_t near_count;
};

/* Looks at a hand with the tiles that are gone in `situation`; near products are not
 * sought yet. The rows stay valid until the memo's next query. */
void remains_set(struct remains *remains, const nh_list *list, const nh_tiles *hand,
                 const nh_situation *situation, const uint8_t *chosen, struct row_memo *memo,
                 struct remains_scratch *scratch);

/* Finds the products that `coming` tiles can bring nearer. */
void remains_find_near(struct remains *remains, unsigned coming, struct remains_scratch *scratch);

#endif
