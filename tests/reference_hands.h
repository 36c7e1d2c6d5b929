/*
 * The plain reference for audits: every hand that is complete for a pattern, jokers
 * among its tiles, written out one by one.
 */
#ifndef REFERENCE_HANDS_H
#define REFERENCE_HANDS_H

#include "reference.h"

typedef struct ref_hands {
    nh_tiles *item; /* sorted, each once */
    size_t count;
} ref_hands;

/* Writes out the hands that tiles as there are in `copies` complete to one of the
 * sums. False, with nothing to free, when there would be more than `bound` of them,
 * each sum by itself. */
bool reference_hands(const nh_tiles *copies, const ref_sum *sums, size_t count, size_t bound,
                     ref_hands *hands);
void reference_release_hands(ref_hands *hands);

/* How many hands of `size` tiles these are with each single tile counted as different. */
nh_natural reference_dealt(const nh_tiles *copies, const ref_hands *hands, int size);

nh_relation reference_hands_relation(const ref_hands *a, const ref_hands *b);

/* The ways of those hands without a joker that stand in both; of the hands of one when
 * it is given twice. */
nh_natural reference_common_ways(const nh_tiles *copies, const ref_hands *a, const ref_hands *b);

#endif /* REFERENCE_HANDS_H */
