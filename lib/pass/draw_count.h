/* How many draws of the unseen tiles are in a set, and in several. */
#ifndef NH_PASS_DRAW_COUNT_H
#define NH_PASS_DRAW_COUNT_H

#include "pass/draw_set.h"

/* Kinds in whole registers of eight. */
#define KIND_LANES ((NH_KINDS + 7) / 8 * 8)

/* The unseen tiles of each kind but jokers, and sums of them over any kinds. */
struct unseen {
    uint8_t count[KIND_LANES];
    uint32_t total;
    uint8_t sum[PARTS][1 << PART_KINDS]; /* of those kinds of a part that are bits of the index */
    uint64_t kinds;                      /* those of which there are any */
    uint64_t pairs[KIND_LANES];          /* draws of two tiles of a kind */
    uint64_t digit[4];                   /* kinds whose count has this binary digit */
    const struct draw_kernels *kernels;  /* that count; draw_kernels_best at first */
};

void unseen_set(struct unseen *unseen, const uint8_t count[NH_KINDS]);

/* C(n, k) for k up to 3. */
uint64_t draws_of(uint64_t n, unsigned k);

/* How many of the C(total, tiles) draws of `tiles` unseen tiles are in the set, which is
 * complete. */
uint64_t draws_count(const struct draw_set *set, const struct unseen *unseen, unsigned tiles);

/* Draws one by one, of two or three tiles, so that sets can be intersected. */
struct draw_list {
    /* of two tiles: bit y >= x of row x is the draw x y.
     * Of three tiles x <= y <= z: bit z of row x y (pair_row) is the draw x y z, where bit y
     * of listed[x] is set; other rows are not to be read */
    uint64_t row[ROWS_OF_THREE];
    uint64_t listed[NH_KINDS];
    /* how many draws x y z there are, for each x and each part of z */
    uint32_t number[NH_KINDS][PARTS];
};

/* Lists the draws of a complete set; how many there are: draws_count. */
uint64_t draws_list(const struct draw_set *set, const struct unseen *unseen, unsigned tiles,
                    struct draw_list *list);

/* An upper bound of how many draws of three tiles `count` lists, 2 or 3, have in common: the
 * least of their numbers for each first tile and each part of the last, added up. */
uint64_t draws_in_common_at_most(const struct draw_list *const lists[], unsigned count);

/* How many draws they have in common. Where that is less than `least` the count may stop
 * early, with a number that is not below it and less than `least`. */
uint64_t draws_in_common(const struct draw_list *const lists[], unsigned count,
                         const struct unseen *unseen, unsigned tiles, uint64_t least);

/* ---------------------------------------------------------------- kernels --- */

/* What takes the time, for draws x y z of three tiles x <= y <= z. */
struct draw_kernels {
    const char *name;
    /* How many of the draws of `kinds` are in the set. None of these kinds is single there. */
    uint64_t (*count)(const struct draw_set *set, uint64_t kinds, const struct unseen *unseen);
    /* Writes listed[x], the rows x y, and number[x], which is 0 before, as the ways to draw
     * y z after x, where y is not x. */
    void (*list_from)(const struct draw_set *set, int x, const struct unseen *unseen,
                      struct draw_list *list);
    /* The ways to draw y z after x, where y is not x, that three lists have in common. */
    uint64_t (*common_after)(const struct draw_list *a, const struct draw_list *b,
                             const struct draw_list *c, int x, const struct unseen *unseen);
};

/* Kernels by number, from 0, the portable ones, on; NULL past the last. Those that the
 * processor cannot run are left out. */
const struct draw_kernels *draw_kernels_at(int index);

/* The fastest of them. */
const struct draw_kernels *draw_kernels_best(void);

/* ------------------------------------------- between the files of the kernels --- */

/* The kernels for wider vectors; NULL where the processor does not run them. */
const struct draw_kernels *draw_kernels_of_processor(void);

/* The kinds y from x on for which all draws x y z are in the set, of `from`, all unseen kinds
 * from x on. */
static inline uint64_t whole_from(const struct draw_set *set, int x, uint64_t from) {
    return (set->single >> x & 1u) != 0 ? from : (set->pair[x] | set->single) & from;
}

static inline uint64_t above_kind(int kind) {
    return ~UINT64_C(0) << (kind + 1);
}

static inline uint64_t below_kind(int kind) {
    return (UINT64_C(1) << kind) - 1u;
}

/* How many unseen tiles there are of some kinds. */
static inline uint64_t unseen_of(const struct unseen *unseen, uint64_t kinds) {
    return (uint64_t)unseen->sum[0][kinds & PART_BITS] +
           unseen->sum[1][kinds >> PART_KINDS & PART_BITS] +
           unseen->sum[2][kinds >> 2 * PART_KINDS & PART_BITS] +
           unseen->sum[3][kinds >> 3 * PART_KINDS & PART_BITS];
}

/* The kinds z with which x <= y <= z are in the set by pairs and triples. */
static inline uint64_t thirds(const struct draw_set *set, int x, int y) {
    return set->pair[x] | set->pair[y] | set->triple[pair_row(x, y)];
}

/* Ways to draw two tiles x, and a third from x on that is one of `third`. */
static inline uint64_t count_alike(const struct unseen *unseen, int x, uint64_t third) {
    return unseen->pairs[x] * unseen_of(unseen, third & above_kind(x)) +
           (third >> x & 1u) * draws_of(unseen->count[x], 3);
}

/* The kinds y from x on for which three lists may have draws x y z in common. */
static inline uint64_t common_from(const struct draw_list *a, const struct draw_list *b,
                                   const struct draw_list *c, int x) {
    return a->listed[x] & b->listed[x] & c->listed[x];
}

#endif
