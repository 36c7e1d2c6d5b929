/* One pattern worked out into products. */
#ifndef NH_COMPILE_COMPILE_PATTERN_H
#define NH_COMPILE_COMPILE_PATTERN_H

#include "compile/compiler.h"

/* Appends the products of the compiler's pattern to those of the list, and notes
 * for each variant whether it has any. How many products there are; where there are
 * none, the reason is noted as a mistake. The pool's status says whether a limit or
 * memory stood in the way. */
size_t compile_pattern(struct compiler *compiler, bool *variant_live, struct products *all,
                       nh_mistakes *mistakes);

/* Appends the products of one variant; returns whether there are any. */
bool compile_variant(struct compiler *compiler, const struct draft_variant *variant,
                     struct products *out);

#endif
