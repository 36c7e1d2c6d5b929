/*
 * What is left of a pattern when sets lie on the table, the plain way: every target of
 * the reference is laid out in every way, and each way to give the sets groups of their
 * own leaves a rest.
 */
#ifndef NH_TESTS_LISTED_RESTS_H
#define NH_TESTS_LISTED_RESTS_H

#include "trial.h"

/* The rests of one pattern; `sums` is freed by the caller. */
typedef struct rests {
    ref_sum *sums;
    size_t count, capacity;
} rests;

/* The sets on the table. */
typedef struct table {
    nh_set sets[NH_SETS_MAX];
    size_t count;
    nh_tiles tiles; /* as they lie there */
} table;

/* Sets of a random target's layout, and now and then one of no target. */
table lay_table(const trial *at);

/* All rests of a pattern, each once. */
rests rests_of(const trial *at, size_t pattern, const table *on);

/* The same of one variant alone. */
#define ANY_VARIANT UINT32_MAX
rests rests_of_variant(const trial *at, size_t pattern, uint32_t variant, const table *on);

/* The distance of the nearest rest; NH_AWAY_NONE where none is live. `seen` has the
 * tiles on the table too. */
int rests_away(const trial *at, const rests *all, const nh_tiles *hand, const nh_tiles *seen);

/* A hand of `size` tiles, most often near a rest, taken out of the pool. */
nh_tiles hand_near_rests(const trial *at, const rests *all, int size, nh_tiles *pool);

#endif
