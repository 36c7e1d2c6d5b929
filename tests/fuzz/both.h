/* A small list that a grammar makes of the bytes, read by the library and by the
 * plain reference. */
#ifndef NH_FUZZ_BOTH_H
#define NH_FUZZ_BOTH_H

#include "../reference.h"
#include "grammar.h"

struct both {
    ref_list *plain;
    nh_list *list; /* NULL where it was refused, for these mistakes */
    nh_mistakes *mistakes;
    nh_workspace *workspace;
    size_t patterns;
    ref_targets targets[GRAMMAR_PATTERNS_MAX];
    nh_situation situation;
    int draws; /* for the chance */
};

/* Makes the list; shows it where NEARHAND_SHOW is set. */
void both_read(struct both *both, struct decisions *decisions, const struct grammar_size *size);
void both_free(struct both *both);

/* Has the reference write out every pattern with the winds of the situation;
 * false, with nothing left, when one has more than `bound` sums. */
bool both_expand(struct both *both, size_t bound);
void both_release(struct both *both);

#endif
