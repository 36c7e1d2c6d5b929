/* What the tasks that deal share: seeds, and sets that are too small. */
#ifndef CLI_DEAL_DEALING_H
#define CLI_DEAL_DEALING_H

#include "nearhand.h"

#include <stdint.h>

/* A random seed, for a task that was given none: below 2^40, short enough to copy
 * by hand. */
uint64_t fresh_seed(void);

/* Says on standard error that the list's set is too small to be dealt. Returns
 * STATUS_USAGE. */
int too_few_tiles(const nh_list *list);

#endif
