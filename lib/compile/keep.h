/* From the pool to the loaded list. */
#ifndef NH_COMPILE_KEEP_H
#define NH_COMPILE_KEEP_H

#include "compile/compiled.h"
#include "families/products.h"

/* Copies the products, and the families and shares that they use, to the list; they may
 * be too many (NH_ERROR_LIMIT). */
nh_status list_keep_used(struct pool *pool, const struct products *products, nh_list *list);

/* Adds what is read of shares, and the binomial coefficients; false when memory is
 * short. */
bool list_add_tables(nh_list *list);

#endif
