/*
 * Random lists that are valid, and random hands for them.
 *
 * The same seed gives the same lists on every machine. A list is kept only
 * when the plain reference can write out each of its patterns and finds a
 * target in it.
 */
#ifndef RANDOM_LIST_H
#define RANDOM_LIST_H

#include "nearhand.h"

#include <stdbool.h>
#include <stdint.h>

/* A sequence of random numbers (splitmix64); the state may start anywhere. */
typedef struct random_source {
    uint64_t state;
} random_source;

/* The seed that NEARHAND_SEED names, or else `otherwise`. */
uint64_t random_seed(uint64_t otherwise);

/* How many lists, games or hands to try: NEARHAND_TRIES is the per cent of `usual`, 100
 * where it is not set. At least one. */
int random_tries(int usual);

uint64_t random_next(random_source *source);
int random_below(random_source *source, int limit); /* 0 to limit - 1 */
bool random_percent(random_source *source, int percent);

/* Most sums of choices of one pattern of a random list. */
enum { RANDOM_SUMS_MAX = 20000 };

/* The JSON text of a list of `patterns` patterns; the caller frees it. Hands
 * have at most `hand_most` tiles. */
char *random_list(random_source *source, int patterns, int hand_most);

/* The same, of the grammar of version 0.1 alone: the same source gives the same
 * lists for ever. */
char *random_list_0_1(random_source *source, int patterns, int hand_most);

/* Takes `count` tiles out of the pool, or all of it when it has fewer. */
nh_tiles random_draw(random_source *source, nh_tiles *pool, int count);

/* A hand of `size` tiles of the set that holds much of the target: jokers
 * stand for some of the tiles that they may stand for, `strangers` tiles are
 * not from the target. */
nh_tiles random_near(random_source *source, const nh_tiles *set, const nh_tiles *target,
                     const nh_tiles *jokerable, int size, int strangers);

#endif /* RANDOM_LIST_H */
