/* Which patterns of a list a task is about. */
#ifndef CLI_PATTERNS_CHOICE_H
#define CLI_PATTERNS_CHOICE_H

#include "nearhand.h"
#include "options/option_row.h"

#include <stdbool.h>
#include <stdint.h>

/* What the options --aim, --section and --points-from say; all zero: every pattern. */
struct pattern_choice {
    struct texts aims, sections; /* names: any of them will do */
    long points;                 /* at least so many; 0: any, and none */
};

/* Sets `*chosen` to NULL for every pattern, or to nh_list_size bytes of which those that
 * are not zero choose one that all of the options allow; to be freed. Says on standard
 * error what names nothing, or that nothing is left, and returns false. */
bool patterns_chosen(const nh_list *list, const struct pattern_choice *choice, uint8_t **chosen);

#endif
