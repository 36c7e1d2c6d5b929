/* The scratch memory of all questions about one hand, and the first of them:
 * how far each pattern is. */
#ifndef NH_WORKSPACE_H
#define NH_WORKSPACE_H

#include "distance/row_cache.h"
#include "pass/draw_set.h"
#include "rank/best_target.h"

/* A pattern's row of a ranking. */
struct row {
    uint32_t pattern;
    uint8_t away;
    struct best best;
};

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
    uint64_t work;             /* steps of the call: NH_PASS_WORK_MAX */
};

struct nh_workspace {
    nh_allocator allocator;
    const nh_list *list;
    struct row_memo memo;
    uint8_t *away; /* of each pattern */
    struct row *rows;
    struct best_scratch scratch;
    struct pass_scratch pass;
};

/* Fills `away` for the chosen patterns (all for NULL), NH_AWAY_NONE for others,
 * and tells the rows that the distances come from. The least of them. */
unsigned find_distances(struct query *query, const uint8_t *chosen, struct near_rows *near,
                        nh_workspace *workspace, uint8_t *away);

/* Checks that the hand, whose query is set, can pass `count` tiles: what nh_pass
 * says of it. */
nh_status check_passing(const struct query *query, unsigned count, nh_error *error);

#endif
