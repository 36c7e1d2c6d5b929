/* The sections of a list, and patterns chosen by section. */
#ifndef CLI_PATTERNS_SECTIONS_H
#define CLI_PATTERNS_SECTIONS_H

#include "nearhand.h"

#include <stdbool.h>
#include <stdint.h>

/* The section of a pattern, NULL for none: to choose patterns by (name_match.h). */
const char *pattern_section(const nh_pattern *pattern);

/* Whether pattern `index` is the first of its section. False without one. */
bool section_opens(const nh_list *list, size_t index);

/* Sets chosen[i] to 1 for the patterns of the section called `name`, in either
 * case, or else of all those with `name` in theirs. Where there are none, says
 * on standard error which sections there are, and returns false. */
bool section_choose(const nh_list *list, const char *name, uint8_t *chosen);

#endif
