/* Sets of draws: which draws of up to three tiles bring a hand nearer. draw_count.h counts
 * them.
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

#define ROWS_OF_THREE (NH_KINDS * (NH_KINDS + 1) / 2)

/* The row of kinds x <= y, in the order of x and then y. */
static inline int pair_row(int x, int y) {
    return x * (2 * NH_KINDS - 1 - x) / 2 + y;
}

struct draw_set {
    uint64_t single;
    uint64_t pair[NH_KINDS];
    /* likewise, those whose tiles are all of one part, as in struct gains; draws_end adds
     * them to `pair` and `triple` */
    union rows_of_pairs pairs_within[PARTS];
    union rows_of_triples triples_within[PARTS];
    uint64_t paired; /* bit x: the row x of `pair` is not empty; draws_end sets it */
    /* row x, bit y of a part above that of x: the row x y of `triple` is not empty */
    uint64_t tripled[NH_KINDS];
    uint64_t triple[ROWS_OF_THREE]; /* pair_row */
};

/* Empties a set of draws of at most so many tiles. */
void draws_clear(struct draw_set *set, unsigned most);

/* Draws of up to `most` tiles that bring products nearer by `gain`, 1 to 3 tiles.
 * A gain is shared out to the parts, at least one tile for each part that has a share
 * in it; m tiles of one part that gain g are at level m - g of its table. The four
 * functions add the ways to do so. Draws that are in the set through its single tiles
 * may be left out by those that come later, so single tiles are best added first. For a
 * gain of 3 all tiles of a draw are single ones of the tables that they are in. */

/* Any one of these kinds: a gain of 1. */
void draws_add_single(struct draw_set *set, uint64_t kinds);

/* More tiles, all of one part. */
void draws_add_within(struct draw_set *set, int part, const struct gains *gains, unsigned gain,
                      unsigned most);

/* One or two tiles of a part for all but 1 of a gain of 2 or 3, and one of another part
 * for that, where it is one of `others`. A pair of two parts is added by the lower. */
void draws_add_across(struct draw_set *set, int part, const struct gains *gains, unsigned gain,
                      uint64_t others, unsigned most);

/* One of these kinds in each of three parts: a gain of 3. */
void draws_add_three_parts(struct draw_set *set, uint64_t kinds);

/* Completes a set of draws of at most so many tiles, once all is added. */
void draws_end(struct draw_set *set, unsigned most);

/* The first of some kinds. */
static inline int lowest(uint64_t kinds) {
    return __builtin_ctzll(kinds);
}

/* The kinds of a part as bits, and those of the first part. */
#define PART_BITS ((UINT64_C(1) << PART_KINDS) - 1u)

static inline uint64_t part_kinds(int part) {
    return PART_BITS << part * PART_KINDS;
}

#endif
