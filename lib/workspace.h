/* The scratch memory of all questions about one hand. */
#ifndef NH_WORKSPACE_H
#define NH_WORKSPACE_H

#include "distance/distances.h"
#include "pass/pass_scratch.h"
#include "rank/rank.h"

struct nh_workspace {
    nh_allocator allocator;
    const nh_list *list;
    struct row_memo memo;
    uint8_t *away; /* of each pattern */
    struct rank_scratch rank;
    struct pass_scratch pass;
};

#endif
