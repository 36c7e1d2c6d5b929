/* Where in the Charleston a player is, from the options that say so. */
#ifndef CLI_PASS_WALK_H
#define CLI_PASS_WALK_H

#include "nearhand.h"

#include <stdbool.h>

/* What the options say; 0 where they do not. */
struct walk_options {
    long round, pass;
    int given; /* tiles passed so far */
    bool courtesy;
};

struct walk {
    bool on;                      /* the Charleston is followed at all */
    nh_step step;                 /* the pass that comes next, or the courtesy */
    unsigned passes;              /* of the round; 0 in the courtesy */
    unsigned left, left_optional; /* passes after this one, without the courtesy */
};

/* Finds the pass that comes next. Where the options name none, it follows from the
 * number of tiles given: with passes of which some tiles may go on unseen, the first
 * one that fits. Says on standard error what cannot be, and returns false. */
bool walk_find(const nh_charleston *charleston, const struct walk_options *options,
               struct walk *walk);

/* Whether the players are about to agree on another round. */
bool walk_at_agreement(const struct walk *walk);

/* Whether tiles that come in may go on unseen, in place of one's own. */
bool walk_blind(const struct walk *walk);

/* Whether it is the courtesy's turn, and whether the round is an optional one. */
bool walk_in_courtesy(const struct walk *walk);
bool walk_optional(const struct walk *walk);

#endif
