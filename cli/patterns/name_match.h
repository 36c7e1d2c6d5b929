/* Patterns chosen by what they, or their sections, are called. */
#ifndef CLI_PATTERNS_NAME_MATCH_H
#define CLI_PATTERNS_NAME_MATCH_H

#include "nearhand.h"

#include <stdbool.h>
#include <stdint.h>

/* Sets chosen[i] to 1 for the patterns whose `called` is `name`, in either case,
 * or else for all those with `name` in it. How many they are. `called` may give
 * NULL for a pattern that has no such text. */
size_t named_choose(const nh_list *list, const char *(*called)(const nh_pattern *pattern),
                    const char *name, uint8_t *chosen);

#endif
