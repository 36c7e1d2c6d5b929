/* The limits that every target of a pattern keeps. */
#ifndef NH_COMPILE_PATTERN_LIMITS_H
#define NH_COMPILE_PATTERN_LIMITS_H

#include "compile/compiler.h"

/* Appends the products, or the parts of them, within the limits of the pattern. */
void add_within_limits(struct compiler *compiler, const struct products *from,
                       struct products *out);

#endif
