/* The limits that every target of a pattern keeps. */
#ifndef NH_COMPILE_PATTERN_LIMITS_H
#define NH_COMPILE_PATTERN_LIMITS_H

#include "compile/compiler.h"

/* Appends the products, or the parts of them, within the limits of the pattern. */
void add_within_limits(struct compiler *compiler, const struct products *from,
                       struct products *out);

/* Whether a single target is within the limits. */
bool tiles_within_limits(const struct draft_limits *limits, const nh_tiles *target);

#endif
