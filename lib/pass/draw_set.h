/* Sets of draws: which draws of up to three tiles bring a hand nearer, and how
 * many draws of the unseen tiles these are.
 *
 * A set is given by multisets of tiles; a draw is in it when it contains one of
 * them. Kinds are numbers from 0 to 34, jokers aside, and bits of a word:
 *
 *      single          bit x: every draw with the tile x
 *      pair            row x, bit y >= x: every draw with the tiles x y
 *      triple          row x, row y >= x, bit z >= y: every draw with x y z
 */
#ifndef NH_PASS_DRAW_SET_H
#define NH_PASS_DRAW_SET_H

#include "pass/gain_tables.h"

struct draw_set {
    bool used; /* not empty */
    uint64_t single;
    uint64_t pair[NH_KINDS];
    uint64_t triple[NH_KINDS][NH_KINDS];
    /* likewise, those whose tiles are all of one part: as gain.h has them */
    uint64_t pairs_within[PARTS][PAIR_WORDS];
    uint64_t triples_within[PARTS][TRIPLE_WORDS];
};

/* Adds the draws that bring a product nearer by `gain`, 1 to 3 tiles, to a set.
 * Draws of more than `most` tiles are left out, and so may be those that are in
 * the set through its single tiles. */
void draws_add(struct draw_set *set, const struct gains *const gains[PARTS], unsigned gain,
               unsigned most);

/* The unseen tiles of each kind but jokers, and sums of them over any kinds. */
struct unseen {
    uint8_t count[NH_KINDS];
    uint32_t total;
    uint16_t sum[3][4096]; /* of the kinds 12 i + b, for the bits b of the index */
};

void unseen_set(struct unseen *unseen, const uint8_t count[NH_KINDS]);

/* C(n, k) for k up to 3. */
uint64_t draws_of(uint64_t n, unsigned k);

/* How many of the C(total, tiles) draws of `tiles` unseen tiles are in the set. */
uint64_t draws_count(const struct draw_set *set, const struct unseen *unseen, unsigned tiles);

#endif
