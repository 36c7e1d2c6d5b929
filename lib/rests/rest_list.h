/* A list that some sets are taken from. */
#ifndef NH_RESTS_REST_LIST_H
#define NH_RESTS_REST_LIST_H

#include "compile/compiled.h"
#include "families/pool.h"
#include "families/products.h"

/* Fills the list, whose allocator, arena, draft and sets are there, with the products of
 * the rests of the chosen patterns (NULL: all). NH_OK, NH_ERROR_LIMIT or NH_ERROR_MEMORY. */
nh_status compile_rests(nh_list *list, const uint8_t *chosen, struct pool *pool);

/* Appends what is left of one variant; returns whether that is anything. */
bool compile_rest_variant(struct pool *pool, const nh_list *list, size_t pattern, size_t variant,
                          struct products *out);

#endif
