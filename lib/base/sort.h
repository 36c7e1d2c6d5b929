/* Sorting in place: qsort may allocate, and has nothing for the order to look at. */
#ifndef NH_BASE_SORT_H
#define NH_BASE_SORT_H

#include <stdbool.h>
#include <stddef.h>

/* Sorts `count` items of `size` bytes. `before` tells whether one stands before
 * another; it is given `context`. Items that are alike come in any order. */
void sort_in_place(void *items, size_t count, size_t size,
                   bool (*before)(const void *a, const void *b, const void *context),
                   const void *context);

#endif
