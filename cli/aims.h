/* Patterns chosen by name. */
#ifndef CLI_AIMS_H
#define CLI_AIMS_H

#include "nearhand.h"

#include <stdbool.h>
#include <stdint.h>

/* Sets chosen[i] to 1 for the patterns called `name`, in either case, or else
 * for all those with `name` in theirs. Where there are none, says so on
 * standard error and returns false. */
bool aim_choose(const nh_list *list, const char *name, uint8_t *chosen);

#endif
