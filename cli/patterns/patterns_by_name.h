/* Patterns chosen by what they are called. */
#ifndef CLI_PATTERNS_PATTERNS_BY_NAME_H
#define CLI_PATTERNS_PATTERNS_BY_NAME_H

#include "nearhand.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Sets chosen[i] to 1 for the patterns whose ref (or, for those without one,
 * whose place in the list, from 1) is `word`; or else for those called so, in
 * either case; or else for all with `word` in their name. How many they are. */
size_t patterns_find(const nh_list *list, const char *word, uint8_t *chosen);

/* The same for an option. Where there are none, says so on standard error and
 * returns false. */
bool patterns_choose(const nh_list *list, const char *option, const char *word, uint8_t *chosen);

#endif
