/* Lists that some sets are taken from. */
#ifndef NH_RESTS_REST_H
#define NH_RESTS_REST_H

#include "compile/compiled.h"
#include "families/pool.h"

/* The families of rests that are worked out one after another: sums that several have in
 * common are worked out once. Starts from {.ready = false}, stays where it is, and belongs
 * to the rests of one loaded list. */
struct rest_pool {
    struct pool pool;
    bool ready;
};

void rest_pool_free(struct rest_pool *pool);

/* Answers nh_list_rest for the chosen patterns, a byte each (NULL: all); the others are
 * left without a target. The allocator, which the pool uses too, stays where it is. */
nh_status list_rest(const nh_list *list, const nh_set *sets, size_t set_count,
                    const uint8_t *chosen, struct rest_pool *pool, const nh_allocator *allocator,
                    nh_list **rest, nh_error *error);

#endif
