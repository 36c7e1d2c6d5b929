/* What to make smaller in a list that stands for too many combinations. */
#ifndef NH_COMPILE_TOO_LARGE_H
#define NH_COMPILE_TOO_LARGE_H

#include "compile/compiler.h"
#include "json/mistakes.h"

/* The pattern of a list that took most work, and how much. */
struct heaviest {
    const struct draft_pattern *pattern;
    uint64_t work;
};

/* Notes as a mistake which limit the pool has passed, with the pattern and the group
 * that have most to do with it. The compiler is as it was then. */
void complain_of_size(const struct compiler *compiler, const struct heaviest *heaviest,
                      nh_mistakes *mistakes);

#endif
