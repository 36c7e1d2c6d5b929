/* From the pool to the loaded list. Each step is false when memory is short. */
#ifndef NH_COMPILE_KEEP_H
#define NH_COMPILE_KEEP_H

#include "compile/compiled.h"
#include "families/products.h"

/* Copies the products, and the families and shares that they use, to the list. */
bool list_keep_used(const struct pool *pool, const struct products *products, nh_list *list);

/* Adds what is read of shares, and the binomial coefficients. */
bool list_add_tables(nh_list *list);

#endif
