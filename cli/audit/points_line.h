/* Points against odds: the line that a list's patterns follow, and how far each is
 * from it.
 *
 * The line gives so many points more each time that a pattern is twice as rare. Its
 * slope is the median of the slopes between any two patterns, its height the median of
 * what is left (H. Theil 1950, P. K. Sen 1968), so that a few patterns with odd points
 * do not turn it. A pattern is far when it is more than three times as far from the
 * line as half of all patterns are. */
#ifndef CLI_AUDIT_POINTS_LINE_H
#define CLI_AUDIT_POINTS_LINE_H

#include <stdbool.h>
#include <stddef.h>

/* Fewer patterns with points and odds make no line. */
#define LINE_PATTERNS_LEAST 8

struct points_line {
    bool drawn;
    double odds;     /* one deal in so many: a power of ten in the middle of the patterns */
    double points;   /* of such a pattern, by the line */
    double doubling; /* points more for a pattern that is twice as rare */
};

/* Where a pattern stands to the line. */
struct points_place {
    bool counts;    /* it has points and odds */
    double chance;  /* of being dealt */
    double points;  /* of the pattern */
    double by_line; /* that the line gives it; 0 where there is none */
    int far;        /* 1 when it is far above the line, -1 far below, else 0 */
};

/* Draws the line of the places that count, and fills where they stand to it. `places`
 * are `count` pointers. False when memory is short. */
bool points_line_draw(struct points_place *const *places, size_t count, struct points_line *line);

#endif
