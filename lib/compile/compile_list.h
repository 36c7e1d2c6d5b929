/* A draft worked out into products: the step from a list as it is written to a
 * list that can be matched. */
#ifndef NH_COMPILE_COMPILE_LIST_H
#define NH_COMPILE_COMPILE_LIST_H

#include "compile/compiled.h"
#include "list/draft.h"

/* Fills the list's patterns, products, families and shares. Mistakes that show
 * only here (a pattern without any target, one too large to hold) are noted. */
nh_status compile_list(const struct draft *draft, nh_list *list, nh_mistakes *mistakes);

#endif
