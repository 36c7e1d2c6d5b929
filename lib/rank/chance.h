/* The chance of a target: how many of all possible sets of draws complete it.
 */
#ifndef NH_RANK_CHANCE_H
#define NH_RANK_CHANCE_H

#include "base/binomials.h"
#include "tiles/tiles.h"

/* A kind that a target lacks: how many tiles are missing, how many of these no
 * joker may be, and how many tiles of the kind are unseen. */
struct lack {
    uint8_t missing, hard, unseen;
};

/* What all targets of a ranking have in common. */
struct draws {
    const nh_natural *binomials; /* C(n, k) at BINOMIAL(n, k), for n <= SET_MAX */
    unsigned unseen;             /* tiles that may be drawn, jokers among them */
    unsigned jokers_unseen, jokers_held;
    unsigned draws; /* at most `unseen` */
};

/* The number of sets of `draws` of the unseen tiles that complete a target
 * with these lacks, at most PARTS * PART_KINDS of them. */
nh_natural chance_count(const struct draws *draws, const struct lack *lacks, int count);

#endif
