/* Sizes: how many tiles the choices of a pattern's groups can come to. */
#ifndef NH_LIST_DRAFT_SIZE_H
#define NH_LIST_DRAFT_SIZE_H

#include "list/draft.h"

/* Whether every choice of the groups fits a hand of `hand` tiles, with one more
 * for each kong: then `*largest` is raised to the size of the largest.
 * Otherwise `*misfit` is a size that does not fit. */
bool draft_size_fits(const struct draft_groups *groups, int hand, int *largest, int *misfit);

#endif
