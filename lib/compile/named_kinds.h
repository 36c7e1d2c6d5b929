/* Which kinds of tiles the words of a group name. */
#ifndef NH_COMPILE_NAMED_KINDS_H
#define NH_COMPILE_NAMED_KINDS_H

#include "compile/compiler.h"

/* Whether a suited tile, wind or dragon is one of a class (enum tile_class). */
bool in_class(int kind, uint8_t class);

/* Marks the kinds that a group names under the current assignment. */
void mark_kinds(const struct compiler *compiler, const struct draft_group *group,
                bool marked[NH_KINDS]);

/* Whether the set has the kind and the limits of the pattern allow it. */
bool may_occur(const struct compiler *compiler, int kind);

/* Whether a run from `kind` stays within its suit and what may occur. */
bool run_fits(const struct compiler *compiler, int kind, int length);

#endif
