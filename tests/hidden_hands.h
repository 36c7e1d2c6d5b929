/*
 * Another player's hidden hands, listed one by one: the reference of readings.
 */
#ifndef NH_TESTS_HIDDEN_HANDS_H
#define NH_TESTS_HIDDEN_HANDS_H

#include "reference.h"

enum { HIDDEN_PATTERNS_MOST = 160, HIDDEN_HANDS_MOST = 4000 };

/* Targets of a pattern, or their rests. */
typedef struct hidden_targets {
    const ref_sum *sums;
    size_t count;
} hidden_targets;

/* What is known, and what comes of it by listing. */
typedef struct hidden_hands {
    nh_tiles unseen, mine;
    int hidden; /* tiles of a hand */
    size_t patterns;
    hidden_targets targets[HIDDEN_PATTERNS_MOST];
    uint64_t hands, ready, of_pattern[HIDDEN_PATTERNS_MOST], wins[NH_KINDS];
    long listed; /* different hands */
} hidden_hands;

/* Fills the counts, which start from 0. */
void list_hidden_hands(hidden_hands *all);

/* How many different hidden hands there are, or more than HIDDEN_HANDS_MOST. */
long different_hidden_hands(const nh_tiles *unseen, int hidden);

#endif
