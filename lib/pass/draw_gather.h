/* The draws that bring a hand nearer, put together from the ways of its products.
 *
 * With n the distance of the nearest way, one at n + l brings the hand i nearer where
 * it comes i + l nearer itself. Set i - 1 gets all draws that do so. What a way adds is
 * made of the tables of its four families: within each of them, and across parts. Many
 * ways share tables, so those in use are listed, each with the single tiles that some
 * way has for it in other parts, and added once. */
#ifndef NH_PASS_DRAW_GATHER_H
#define NH_PASS_DRAW_GATHER_H

#include "pass/draw_count.h"
#include "pass/joker_splits.h"

/* Tables in use of one part, and splits, that are listed; when there are more, what is
 * listed is added to the sets and the lists start again. */
#define TABLES_MAX 512
#define SPLITS_MAX 2048
#define HASHED (2 * TABLES_MAX) /* a power of 2 */

/* A table in use. */
struct used_table {
    struct gains_wanted wanted;
    uint8_t levels;  /* bit l: in a way at n + l */
    uint16_t *place; /* where its number is written */
    const struct gains *gains;
};

/* Those of a part. Table 0 is that of a family that no tile brings nearer. The places of
 * tables for any excess and few jokers are found by number of family and jokers, those of
 * others by a hash; a place has the number of a table in use, or 0. */
struct used_tables {
    struct used_table table[TABLES_MAX];
    uint64_t single[TABLES_MAX];              /* by kinds of the whole set */
    uint64_t others[NH_PASS_MAX][TABLES_MAX]; /* by level: single tiles of the ways that have it */
    unsigned count;
    uint16_t *placed, *hashed;
};

#define JOKERS_PLACED 3u

struct gather {
    nh_allocator allocator;
    struct used_tables used[PARTS];
    struct {
        uint16_t table[PARTS];
        uint8_t level;
    } split[SPLITS_MAX];
    size_t splits;
    size_t room;            /* so many more ways can be listed, at least */
    unsigned jokers_placed; /* so many of a table's, at most JOKERS_PLACED */
    struct gain_memo gains;
    struct draw_set set[NH_PASS_MAX];
    /* the question */
    const struct query *query;
    unsigned nearest; /* n */
    unsigned tiles;   /* of the draws, 1 to 3 */
    unsigned first;   /* the first set that is wanted: 0 or 1 */
};

bool gather_init(struct gather *gather, const nh_list *list, const nh_allocator *allocator);
void gather_free(struct gather *gather);

/* Empties the sets of draws of so many tiles for a query's hand. Sets before the first one
 * that is wanted are not filled. */
void gather_start(struct gather *gather, const struct query *query, unsigned nearest,
                  unsigned tiles, unsigned first);

/* Takes a way that is at most nearest + tiles - 1 - first away. */
void gather_split(struct gather *gather, const struct split *split);

/* The same for a product with these family numbers where there are no jokers to share out. */
void gather_plainly(struct gather *gather, const uint16_t family[PARTS],
                    const struct near_rows *rows, unsigned away);

/* To be called after the last way: completes the sets. */
void gather_end(struct gather *gather);

#endif
