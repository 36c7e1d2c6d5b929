/* Memory that the questions about passes work in. */
#ifndef NH_PASS_PASS_SCRATCH_H
#define NH_PASS_PASS_SCRATCH_H

#include "pass/pass_bounds.h"

/* How well a pass is bounded: see pass_bounds.h. */
enum bounding { BOUND_QUICK, BOUND_ROUGH, BOUND_BEST };

/* A pass with its bound. */
struct bounded_pass {
    uint64_t bound;
    const nh_choice *choice;
    unsigned looks; /* that a better bound than the quick one rests on: pass_bounds.h */
    uint8_t bounding;
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
