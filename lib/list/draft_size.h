/* Sizes: how many tiles the choices of a pattern's groups can come to. */
#ifndef NH_LIST_DRAFT_SIZE_H
#define NH_LIST_DRAFT_SIZE_H

#include "list/draft.h"

/* Whether every choice of the groups fits a hand of `hand` tiles, with one more
 * for each kong: then `*largest` is raised to the size of the largest.
 * Otherwise `*misfit` is a size that does not fit. */
bool draft_size_fits(const struct draft_groups *groups, int hand, int *largest, int *misfit);

/* Writes the sizes of the groups as a sum, "3 + 3 + 4 + 2"; an empty text where
 * some group can have several sizes or `size` bytes are too few. */
void draft_size_sum(const struct draft_groups *groups, char *text, size_t size);

#endif
