/* Sets of draws: which draws of up to three tiles bring a hand nearer, and how
 * many draws of the unseen tiles they are.
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
    /* likewise, those whose tiles are all of one part: as in struct gains */
    uint64_t pairs_within[PARTS][PAIR_WORDS];
    uint64_t triples_within[PARTS][TRIPLE_WORDS];
    uint64_t tripled[NH_KINDS];     /* row x, bit y: the row x y of `triple` is not empty */
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

/* The kinds of a part as bits. */
static inline uint64_t part_kinds(int part) {
    return ((UINT64_C(1) << PART_KINDS) - 1u) << part * PART_KINDS;
}

/* The unseen tiles of each kind but jokers, and sums of them over any kinds. */
struct unseen {
    uint8_t count[NH_KINDS];
    uint32_t total;
    uint8_t sum[PARTS][1 << PART_KINDS]; /* of those kinds of a part that are bits of the index */
};

void unseen_set(struct unseen *unseen, const uint8_t count[NH_KINDS]);

/* C(n, k) for k up to 3. */
uint64_t draws_of(uint64_t n, unsigned k);

/* How many of the C(total, tiles) draws of `tiles` unseen tiles are in the set. */
uint64_t draws_count(const struct draw_set *set, const struct unseen *unseen, unsigned tiles);

/* Draws one by one, of two or three tiles, so that sets can be intersected. */
struct draw_list {
    /* of three tiles x <= y <= z: bit y of row x where all of them that begin with x y are
     * in the list, and where some are */
    uint64_t whole[NH_KINDS], some[NH_KINDS];
    /* bit y >= x of row x: the draw x y; or bit z >= y of row x y (pair_row) where all or
     * some are in the list: the draw x y z */
    uint64_t row[ROWS_OF_THREE];
    /* how many of the draws x y z, for each x and each part of z */
    uint32_t number[NH_KINDS][PARTS];
};

/* Lists the draws of a set; how many there are: draws_count. */
uint64_t draws_list(const struct draw_set *set, const struct unseen *unseen, unsigned tiles,
                    struct draw_list *list);

/* At least as many draws, of three tiles, as `count` lists, 2 or 3, have in common: their
 * numbers are compared by the first tile and the part of the last. */
uint64_t draws_in_common_at_most(const struct draw_list *const lists[], unsigned count);

/* How many draws they have in common; or, where that is less than `least`, a number from it
 * up to less than `least`. */
uint64_t draws_in_common(const struct draw_list *const lists[], unsigned count,
                         const struct unseen *unseen, unsigned tiles, uint64_t least);

#endif
