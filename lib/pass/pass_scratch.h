/* Memory that the questions about passes work in. */
#ifndef NH_PASS_PASS_SCRATCH_H
#define NH_PASS_PASS_SCRATCH_H

#include "pass/pass_bounds.h"

/* A pass with its bound, the quick one or a better one. */
struct bounded_pass {
    uint64_t bound;
    const nh_choice *choice;
    unsigned looks; /* that the better bound rests on: pass_bounds.h */
    bool better;
};

struct pass_scratch {
    struct expect_scratch expect;
    struct tile_alone *alone;  /* room for the kinds of the largest hand */
    nh_choice *choices;        /* room for every pass */
    nh_choice *rows;           /* likewise, for the answer */
    struct bounded_pass *heap; /* likewise */
};

bool pass_scratch_init(struct pass_scratch *scratch, const nh_list *list,
                       const nh_allocator *allocator);
void pass_scratch_free(struct pass_scratch *scratch, const nh_allocator *allocator);

#endif
