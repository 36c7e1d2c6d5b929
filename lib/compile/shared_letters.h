/* The sums of a variant of many letters, without trying every way to give them values. */
#ifndef NH_COMPILE_SHARED_LETTERS_H
#define NH_COMPILE_SHARED_LETTERS_H

#include "compile/compiler.h"

/* Appends the sums of the groups that use letters or winds, over all assignments. The
 * letters can all differ. */
void add_shared_assignments(struct compiler *compiler, const struct draft_groups *groups,
                            struct products *out);

#endif
