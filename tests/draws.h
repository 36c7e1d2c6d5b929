/*
 * What a pass comes to, the plain way: every draw after it is listed. The test
 * of passes and the fuzzing of them say how far a hand is, and compare.
 */
#ifndef DRAWS_H
#define DRAWS_H

#include "nearhand.h"

#include <stdbool.h>
#include <stdint.h>

/* A hand after a pass, with the passed tiles among those that were seen, and
 * what may come in. */
typedef struct remaining {
    nh_tiles hand, seen, unseen;
} remaining;

remaining pass_tiles(const nh_tiles *set, const nh_tiles *hand, const nh_tiles *seen,
                     const nh_tiles *pass);

/* How far the nearest target is; NH_AWAY_NONE where nothing is live. */
typedef int away_of(const remaining *rest, const void *context);

/* Sums over all draws: of the ways, of the distances, of those that end less
 * than `before` away; `none` where nothing was live after some draw. */
typedef struct draw_sums {
    uint64_t ways, expected, nearer;
    bool none;
} draw_sums;

/* Goes through all draws of `count` unseen tiles. */
draw_sums list_draws(const remaining *rest, unsigned count, int before, away_of *away,
                     const void *context);

/* How many different sets of so many tiles there are, tiles of a kind being
 * alike; at most NH_PASS_MAX tiles. */
long different_sets(const nh_tiles *tiles, unsigned count);

/* The tiles of a hand that the list lets be passed. */
nh_tiles passable_tiles(const nh_list *list, const nh_tiles *hand);

/* The order of passes: negative where a comes first, 0 only for one pass. */
int compare_choices(const nh_choice *a, const nh_choice *b);

/* The same pass, with the same figures. */
bool same_choice(const nh_choice *a, const nh_choice *b);

#endif /* DRAWS_H */
