/* Which draws bring a family nearer: tables, remembered.
 *
 * Take a family, the tiles that the hand holds of its part, and j jokers for it;
 * let D be its distance. A share at distance D + e that has use for all of m drawn
 * tiles comes to D + e - m, so these tiles bring the family m - e nearer. A table
 * holds, for e = 0, 1, 2 and up to three tiles, all multisets of tiles of the part
 * that some share at D + e has use for:
 *
 *      single          bit x: the tile of slot x
 *      pair[e]         row x, bit y >= x: the tiles x y
 *      triple[e]       row x y, bit z >= y: the tiles x y z
 *
 * That is all there is to know of the family: a draw brings it g nearer exactly
 * when it contains one of the multisets of m tiles at e = m - g. For if a draw Q
 * brings it g nearer, some share at D + e comes to D - g; those tiles of Q that the
 * share has use for are e + g, and they are in the table.
 *
 * "Has use for" counts the jokers. With o of a share's missing tiles open to
 * jokers it lacks closed + max(o - j, 0). A tile of a kind counts as a closed one
 * as long as these are missing, and brings the share nearer; after that as an open
 * one, and only max(o - j, 0) of those bring it nearer. */
#ifndef NH_PASS_GAIN_TABLES_H
#define NH_PASS_GAIN_TABLES_H

#include "distance/cache_tag.h"
#include "distance/query.h"

#define PAIR_ROWS PART_KINDS
#define TRIPLE_ROWS 45 /* pairs x <= y of nine slots */
#define PAIR_WORDS 3   /* rows of 16 bits, in words of 64 */
#define TRIPLE_WORDS 12

/* The row of slots x <= y in a table of triples. */
static inline int triple_row(int x, int y) {
    return x * (2 * PART_KINDS - 1 - x) / 2 + y;
}

/* Rows side by side, and all of them as words. */
union rows_of_pairs {
    uint64_t words[PAIR_WORDS];
    uint16_t row[4 * PAIR_WORDS];
};

union rows_of_triples {
    uint64_t words[TRIPLE_WORDS];
    uint16_t row[4 * TRIPLE_WORDS];
};

struct gains {
    struct tag tag; /* what the table depends on */
    uint16_t single;
    uint16_t pair_rows[NH_PASS_MAX - 1]; /* those of pair[e] that are not 0 */
    uint8_t levels;                      /* bit e: some share at D + e has use for tiles */
    uint8_t depth; /* the table has what shares up to D + depth have use for */
    /* of levels that are set only */
    union rows_of_pairs pair[NH_PASS_MAX - 1];
    union rows_of_triples triple[NH_PASS_MAX];
};

/* No limit on the excess of shares. */
#define ANY_EXCESS 31u

/* Which table: that of a family in a part with so many jokers for it, and only of those
 * shares whose excess is at most `excess`. `away` is D, below FAR. */
struct gains_wanted {
    uint32_t family;
    uint8_t jokers, excess, away;
};

/* The tables of one hand and of what is left of it. They lie one behind the other in
 * the order in which they come up, since few serve another hand, and are found by a
 * hash: a place has 16 bits more of it, and the number of the table, from 1 on. */
struct gain_memo {
    nh_allocator allocator;
    struct gains *tables;
    struct {
        uint16_t check, table;
    } * places;
    unsigned used;
    uint32_t *matches; /* indices of shares: room for the largest family */
    uint64_t work;     /* steps since the caller set it to 0: expectation.h */
};

bool gain_memo_init(struct gain_memo *memo, const nh_list *list, const nh_allocator *allocator);
void gain_memo_free(struct gain_memo *memo);

/* Forgets all tables: for another hand. */
void gains_forget(struct gain_memo *memo);

/* Makes room for so many tables, at most GAINS_RESERVED: those found since stay valid
 * until the next call. */
#define GAINS_RESERVED 2048u
void gains_reserve(struct gain_memo *memo, unsigned tables);

/* The table for a query's hand, up to D + depth at least. Needs query_add_bits. */
const struct gains *gains_find(const struct query *query, struct gain_memo *memo, int part,
                               const struct gains_wanted *wanted, unsigned depth);

#endif
