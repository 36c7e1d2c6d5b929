/* Deals that train patterns. */
#ifndef CLI_DEAL_TRAINING_H
#define CLI_DEAL_TRAINING_H

#include "nearhand.h"

#include <stdbool.h>
#include <stdint.h>

/* Most deals that are looked at in a search. */
#define TRAINING_DEALS_MAX 100000

/* What a deal must have for a seat. */
struct training {
    const nh_list *list;
    nh_workspace *workspace;
    const uint8_t *chosen; /* patterns; NULL: any deal will do */
    int within;            /* one of them is at most so many tiles away; -1: none is closer than one
                              of them */
    int seat;
    uint64_t seed;
};

/* The first deal from number `first` on that trains the patterns. Returns false where the
 * next TRAINING_DEALS_MAX have none, the set is too small, or a signal asked to stop. */
bool training_deal(const struct training *training, uint64_t first, uint64_t *number);

#endif
