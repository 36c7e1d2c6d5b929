/* What one group of a pattern can be. */
#ifndef NH_COMPILE_CHOICES_H
#define NH_COMPILE_CHOICES_H

#include "compile/compiler.h"

/* Appends the products of a group under the current assignment. */
void add_group(struct compiler *compiler, const struct draft_group *group, struct products *out);

#endif
