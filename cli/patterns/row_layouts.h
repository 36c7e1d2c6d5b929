/* The groups of ranked targets. */
#ifndef CLI_PATTERNS_ROW_LAYOUTS_H
#define CLI_PATTERNS_ROW_LAYOUTS_H

#include "nearhand.h"

/* Lays out the targets of `count` rows of a ranking. A layout that takes too much
 * work has no groups. */
void lay_out_rows(const nh_list *list, const nh_ranked *rows, size_t count, nh_layout *layouts);

#endif
