/* Which kinds of tiles the words of a group name. */
#ifndef NH_COMPILE_NAMED_KINDS_H
#define NH_COMPILE_NAMED_KINDS_H

#include "compile/compiler.h"

/* Whether a suited tile, wind or dragon is one of a class (enum tile_class). */
bool in_class(int kind, uint8_t class);

/* Kinds as bits. */
static inline uint64_t kind_bit(int kind) {
    return UINT64_C(1) << kind;
}

static inline bool kinds_have(uint64_t kinds, int kind) {
    return (kinds >> kind & 1u) != 0;
}

/* The kinds that a group names under the current assignment. */
uint64_t named_kinds(const struct compiler *compiler, const struct draft_group *group);

/* Whether the set has the kind and the limits of the pattern allow it. */
bool may_occur(const struct compiler *compiler, int kind);

/* Whether a run from `kind` stays within its suit and what may occur. */
bool run_fits(const struct compiler *compiler, int kind, int length);

#endif
