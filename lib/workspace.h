/* The scratch memory of all questions about one hand. */
#ifndef NH_WORKSPACE_H
#define NH_WORKSPACE_H

#include "distance/distances.h"
#include "pass/draw_set.h"
#include "rank/rank.h"

/* A product that is near enough to be brought nearer than the nearest one. */
struct near_product {
    uint32_t product;
    uint8_t away;
};

/* What is worked out for passes: pass.c. */
struct pass_scratch {
    struct gain_memo gains;
    struct draw_set *nearer; /* by 1, 2, ... NH_PASS_MAX tiles */
    struct unseen unseen;
    struct near_product *near; /* room for every product */
    struct nh_choice *choices; /* room for every pass */
    struct nh_choice *rows;    /* likewise, for the answer */
    uint64_t work;             /* steps of the call, see pass.c */
};

struct nh_workspace {
    nh_allocator allocator;
    const nh_list *list;
    struct row_memo memo;
    uint8_t *away; /* of each pattern */
    struct rank_scratch rank;
    struct pass_scratch pass;
};

/* Answers nh_pass, whose question is checked and says how many tiles: full rows of
 * this version. */
nh_status find_passes(nh_workspace *workspace, const nh_tiles *hand,
                      const nh_pass_question *question, nh_choice *choices, size_t capacity,
                      nh_passing *passing, nh_error *error);

/* Answers nh_pass_ahead, whose question is checked. */
nh_status simulate_passes(nh_workspace *workspace, const nh_tiles *hand,
                          const nh_ahead_question *question, nh_ahead *ahead, nh_error *error);

/* Checks that the hand, whose query is set, can pass `count` tiles: what nh_pass
 * says of it. */
nh_status check_passing(const struct query *query, unsigned count, nh_error *error);

#endif
