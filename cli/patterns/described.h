/* All that a list says of a pattern: in words, and with hands that complete it. */
#ifndef CLI_PATTERNS_DESCRIBED_H
#define CLI_PATTERNS_DESCRIBED_H

#include "nearhand.h"

/* Writes it in lines of at most LINE_WIDTH columns, each `indent` columns in:
 *
 *   Boathouse (Odds and ends 10.6), 15 points
 *   Anything goes in once, but nothing twice.
 *   Four of these, all different (a chow; a pung of winds), a pair of twos to eights.
 *   with a chow: 789B | 789C | 789D | NNN | 88D
 *   with a pung of winds: 456D | 789D | WWW | NNN | 88D
 *
 * There is a hand for each variant, and for each alternative of its groups. */
void described_out(const nh_list *list, size_t pattern, int indent);

/* The first of these lines alone. */
void pattern_heading_out(const nh_pattern *pattern, int indent);

#endif
