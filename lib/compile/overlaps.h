/* Which patterns have products that overlap in targets with the same tiles that
 * differ in what jokers may be. */
#ifndef NH_COMPILE_OVERLAPS_H
#define NH_COMPILE_OVERLAPS_H

#include "compile/compiled.h"
#include "families/products.h"

/* Notes for each pattern of the list whether its products overlap so; `all` are
 * those of the list. Does nothing useful once the pool has failed. */
void find_overlaps(struct pool *pool, const struct products *all, nh_list *list);

#endif
