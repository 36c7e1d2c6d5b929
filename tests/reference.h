/*
 * The plain reference: what the library answers, worked out the slow way.
 *
 * It reads a valid list with cJSON alone, writes out every sum of choices of a
 * pattern by nested loops, and goes through all of them for every question. It
 * shares nothing with the library but the types of the public header. A list
 * that is not valid fails an assertion.
 */
#ifndef REFERENCE_H
#define REFERENCE_H

#include "nearhand.h"

#include <stdbool.h>
#include <stddef.h>

typedef struct ref_list ref_list;

ref_list *reference_read(const char *json);
void reference_free(ref_list *list);
size_t reference_patterns(const ref_list *list);
int reference_hand(const ref_list *list);
const nh_tiles *reference_set(const ref_list *list);
bool reference_uses(const ref_list *list, size_t pattern, const char *word);

/* A multiset of tiles that a pattern comes to, and how many of each kind lie
 * in groups of three or more alike, where a joker may stand for them. */
typedef struct ref_sum {
    nh_tiles tiles;
    nh_tiles jokerable;
} ref_sum;

/* The different sums that are targets, sorted by tiles: sums with the same
 * tiles are one target, and stand together. */
typedef struct ref_targets {
    ref_sum *sums;
    size_t count;    /* sums */
    size_t distinct; /* targets */
} ref_targets;

/* Writes out a pattern. False, with nothing to free, when some array of sums
 * would hold more than `bound`. */
bool reference_expand(const ref_list *list, size_t pattern, nh_wind prevailing, nh_wind seat,
                      size_t bound, ref_targets *targets);
void reference_release(ref_targets *targets);

/* One past the last sum that has the same tiles as sum `first`. */
size_t reference_next(const ref_targets *targets, size_t first);

/* The first sum with these tiles, or targets->count. */
size_t reference_find(const ref_targets *targets, const nh_tiles *tiles);

typedef struct ref_count {
    nh_natural targets;
    nh_natural ways;
    nh_natural dealt_ways;
    nh_natural joker_only;
} ref_count;

ref_count reference_count(const ref_list *list, const ref_targets *targets);

nh_relation reference_relation(const ref_targets *a, const ref_targets *b);

/* Tiles away from one sum, from the target whose sums are first..next-1, and
 * from the nearest target; NH_AWAY_NONE where nothing is live. */
int reference_sum_away(const ref_list *list, const ref_sum *sum, const nh_tiles *hand,
                       const nh_tiles *seen);
int reference_target_away(const ref_list *list, const ref_targets *targets, size_t first,
                          const nh_tiles *hand, const nh_tiles *seen);
int reference_away(const ref_list *list, const ref_targets *targets, const nh_tiles *hand,
                   const nh_tiles *seen);

/* How many sets of `draws` unseen tiles complete the target whose first sum is
 * `first`, in whichever of its sums that goes; and the largest such number
 * among the targets that are nearest. */
nh_natural reference_completing(const ref_list *list, const ref_targets *targets, size_t first,
                                const nh_tiles *hand, const nh_tiles *seen, int draws);
nh_natural reference_best_completing(const ref_list *list, const ref_targets *targets,
                                     const nh_tiles *hand, const nh_tiles *seen, int draws);

/* Whole numbers below 2^192. */
nh_natural reference_number(unsigned long long value);
nh_natural reference_add(nh_natural a, nh_natural b);
nh_natural reference_subtract(nh_natural a, nh_natural b);
nh_natural reference_multiply(nh_natural a, nh_natural b);
nh_natural reference_choose(int n, int k); /* 0 <= n <= 160 */
nh_natural reference_digits(const char *digits);
int reference_compare(nh_natural a, nh_natural b);

#endif /* REFERENCE_H */
