/* Letters and winds of a variant are given values. */
#ifndef NH_COMPILE_LETTERS_H
#define NH_COMPILE_LETTERS_H

#include "compile/compiler.h"

/* Appends the sums of the groups of a variant, over all assignments. */
void add_assignments(struct compiler *compiler, const struct draft_groups *groups,
                     struct products *out);

/* Whether the letters have values with which every group, taken apart from the
 * others, has a choice. */
bool letters_can_fit(struct compiler *compiler, const struct draft_groups *groups);

#endif
