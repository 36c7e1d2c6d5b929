/* Where in the Charleston a player is: which pass comes next, and what remains
 * behind it. */
#ifndef CLI_PASS_WALK_H
#define CLI_PASS_WALK_H

#include "nearhand.h"

#include <stdbool.h>

/* What was told; 0 where nothing was. */
struct walk_told {
    long round, step;
    int given; /* tiles passed away so far */
    bool courtesy;
};

struct walk {
    bool on;       /* the Charleston is followed at all */
    bool courtesy; /* it is the courtesy exchange's turn; no round and step then */
    unsigned round, step, steps;
    nh_direction direction;
    bool optional;      /* the round has to be agreed to */
    unsigned remaining; /* passes behind this one, without the courtesy exchange */
    unsigned remaining_optional;
};

/* Finds the pass that comes next. Round and step follow from the tiles given
 * where they are not told. Says on standard error what cannot be, and returns
 * false. */
bool walk_find(const nh_charleston *charleston, const struct walk_told *told, struct walk *walk);

/* "right", "across", "left". */
const char *walk_direction(const struct walk *walk);

/* Whether the players are about to agree on another round. */
bool walk_at_agreement(const struct walk *walk);

#endif
