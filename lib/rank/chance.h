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

/* A lack as a number, in the order of what is missing, hard, unseen. */
typedef uint32_t lack_number;

static inline lack_number number_of_lack(int missing, int hard, int unseen) {
    return (lack_number)missing << 16 | (lack_number)hard << 8 | (lack_number)unseen;
}

static inline struct lack lack_of_number(lack_number number) {
    return (struct lack){(uint8_t)(number >> 16), (uint8_t)(number >> 8 & 0xFF),
                         (uint8_t)(number & 0xFF)};
}

/* Adds a lack to `count` in ascending order. */
static inline void insert_lack(lack_number *lacks, int count, lack_number lack) {
    int at = count;
    for (; at > 0 && lack < lacks[at - 1]; at--)
        lacks[at] = lacks[at - 1];
    lacks[at] = lack;
}

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
