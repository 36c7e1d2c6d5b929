/* A draft worked out into products: the step from a list as it is written to a
 * list that can be matched. */
#ifndef NH_COMPILE_COMPILE_LIST_H
#define NH_COMPILE_COMPILE_LIST_H

#include "compile/compiled.h"
#include "families/products.h"
#include "list/draft.h"

/* Fills the list's patterns, products, families and shares. Mistakes that show
 * only here (a pattern without any target, one too large to hold) are noted. */
nh_status compile_list(const struct draft *draft, nh_list *list, nh_mistakes *mistakes);

/* Steps of the same, for lists that are worked out in other ways. Room for the
 * patterns in the list's arena: */
bool make_room(const struct draft *draft, nh_list *list);

/* Puts what the pool has into the list, and frees both pool and products as soon as
 * nothing more is needed of them. NH_OK, NH_ERROR_LIMIT or NH_ERROR_MEMORY. */
nh_status finish_list(struct pool *pool, struct products *all, nh_list *list);

#endif
