/* One pattern worked out into products. */
#ifndef NH_COMPILE_COMPILE_PATTERN_H
#define NH_COMPILE_COMPILE_PATTERN_H

#include "compile/compiler.h"

/* Appends the products of the compiler's pattern to those of the list, and notes
 * for each variant whether it has any. How many products there are. What stands
 * in the way is noted as a mistake, and in the pool's status when it is a limit or
 * memory. */
size_t compile_pattern(struct compiler *compiler, bool *variant_live, struct products *all,
                       nh_mistakes *mistakes);

#endif
