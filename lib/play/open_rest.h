/* A rest for a few hands: what is left of some patterns once one more set lies open. */
#ifndef NH_PLAY_OPEN_REST_H
#define NH_PLAY_OPEN_REST_H

#include "rank/rank.h"
#include "rests/rest.h"

struct open_rest {
    nh_allocator allocator;
    nh_list *list;
    struct row_memo rows;
    struct rank_scratch scratch;
    uint8_t *away;
    struct rank_memory memory;
};

/* Works it out for the chosen patterns; the others have no target. See list_rest for the pool. To
 * be freed in any case. */
nh_status open_rest_make(struct open_rest *rest, const nh_list *list, const nh_set *set,
                         const uint8_t *chosen, struct rest_pool *pool,
                         const nh_allocator *allocator, nh_error *error);
void open_rest_free(struct open_rest *rest);

#endif
