/* Memory that the questions about passes work in. */
#ifndef NH_PASS_PASS_SCRATCH_H
#define NH_PASS_PASS_SCRATCH_H

#include "pass/pass_bounds.h"

struct pass_scratch {
    struct expect_scratch expect;
    struct tile_alone *alone; /* room for the kinds of the largest hand */
    nh_choice *choices;       /* room for every pass */
    nh_choice *rows;          /* likewise, for the answer */
};

bool pass_scratch_init(struct pass_scratch *scratch, const nh_list *list,
                       const nh_allocator *allocator);
void pass_scratch_free(struct pass_scratch *scratch, const nh_allocator *allocator);

#endif
