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

#define CHOICE_POINTS_MOST 1000000L

/* Rows of a task that answers for some patterns only. `member` is the pattern_choice of
 * its options, and has no parentheses. NOLINTBEGIN(bugprone-macro-parentheses) */
#define AIM_ROW(options, member)                                                                   \
    {                                                                                              \
        "aim", "PATTERN", "only patterns with this in their name; may be repeated",                \
            ADDS_TEXT(options, member.aims)                                                        \
    }
#define SECTION_ROW(options, member)                                                               \
    {                                                                                              \
        "section", "SECTION", "only sections with this in their name; may be repeated",            \
            ADDS_TEXT(options, member.sections)                                                    \
    }
#define POINTS_ROW(options, member)                                                                \
    {                                                                                              \
        "points-from", "N", "only patterns of at least N points",                                  \
            .seldom = true, SETS_NUMBER(options, member.points, 1, CHOICE_POINTS_MOST)             \
    }
/* NOLINTEND(bugprone-macro-parentheses) */

/* Whether any pattern is left out. */
bool patterns_restricted(const struct pattern_choice *choice);

/* Sets `*chosen` to NULL for every pattern, or to nh_list_size bytes of which those that
 * are not zero choose one that all of the options allow; to be freed. Says on standard
 * error what names nothing, or that nothing is left, and returns false. */
bool patterns_chosen(const nh_list *list, const struct pattern_choice *choice, uint8_t **chosen);

#endif
