/* Rows of distances, remembered.
 *
 * What a family's distance hangs on is little: the tiles that the hand holds of
 * one part, those that are gone, and the number of jokers. All suits share one
 * table, since families serve for each suit alike. A row has the distance of
 * every family; rows that were worked out are kept in a table of slots, so that
 * over many hands most are found there:
 *
 *     tags:   key live | key live | key live | key live     one bucket
 *     slots:  rows     | rows     | rows     | rows         (0, 1, ... jokers)
 *
 * A bucket is found by a hash of key and live, and its tags hold both in full: a
 * row is only ever taken for exactly its contents. */
#ifndef NH_ROWS_H
#define NH_ROWS_H

#include "match.h"

/* Bytes for the slots of suits, and of honours. */
#define SUIT_SLOT_BYTES ((size_t)12 << 20)
#define HONOUR_SLOT_BYTES ((size_t)4 << 20)

struct row_table {
    struct row_tag *tags;
    uint8_t *slots;
    size_t slot_size;
    unsigned shift; /* of the hash: 64 less the bits of a bucket's number */
    uint32_t row_stride;
    uint32_t turn; /* which slot of a full bucket is given away next */
};

struct row_memo {
    nh_allocator allocator;
    struct row_table suits, honours;
    unsigned jokers_kept;    /* rows for more jokers are not remembered */
    uint8_t *scratch[PARTS]; /* rows that are not, or not now */
};

bool row_memo_init(struct row_memo *memo, const nh_list *list, const nh_allocator *allocator);
void row_memo_free(struct row_memo *memo);

/* The rows for a query's hand. They stay valid until the next call. */
void rows_find(struct query *query, struct row_memo *memo, struct near_rows *rows);

#endif
