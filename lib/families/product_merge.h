/* Products merged where they differ in one part only: A x C and B x C are (A and B) x C. */
#ifndef NH_FAMILIES_PRODUCT_MERGE_H
#define NH_FAMILIES_PRODUCT_MERGE_H

#include "families/products.h"

/* Drops repeated products and merges those that differ in one part only, until
 * none do; those left are sorted. */
void products_merge(struct pool *pool, struct products *products);

/* The same, but leaves them in any order. */
void products_merge_unsorted(struct pool *pool, struct products *products);

#endif
