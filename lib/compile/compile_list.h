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

/* Steps of the same, for lists that are worked out in other ways: room for the
 * patterns in the list's arena; and what the pool has, put into the list. */
bool make_room(const struct draft *draft, nh_list *list);
nh_status finish_list(struct pool *pool, const struct products *all, nh_list *list,
                      nh_mistakes *mistakes);

#endif
