/* Whether a hand, to the last tile, is a target. */
#ifndef NH_PLAY_COMPLETE_H
#define NH_PLAY_COMPLETE_H

#include "distance/query.h"

/* A target that a hand is. */
struct complete_target {
    nh_tiles tiles;
    nh_tiles joked;           /* those that jokers stand for */
    uint8_t prevailing, seat; /* winds that the target presumes */
};

/* Calls `each` with every target of the pattern that the query's hand is, until it
 * returns false; some may come more than once. Returns false where it was stopped so.
 * Needs query_add_bits. */
bool complete_each(const struct query *query, const struct list_pattern *pattern,
                   bool (*each)(const struct complete_target *target, void *context),
                   void *context);

/* Whether there is one. */
bool is_complete(const struct query *query, const struct list_pattern *pattern);

#endif
