/* All that a list says of a pattern, and a hand that completes it. */
#ifndef CLI_PATTERNS_DESCRIBED_H
#define CLI_PATTERNS_DESCRIBED_H

#include "nearhand.h"

/* Writes it in lines of at most LINE_WIDTH columns, each `indent` columns in:
 *
 *   Boathouse (Charts 10.6), 15 points
 *   Two runs of bams and craks, a pair of dots
 *   such as 234678B 456C 33D EEE
 *
 * The hand is one that nothing is needed for but tiles of the set. */
void described_out(const nh_list *list, nh_workspace *workspace, size_t pattern, int indent);

/* The first of these lines alone. */
void pattern_heading_out(const nh_pattern *pattern, int indent);

#endif
