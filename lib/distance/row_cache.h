/* Rows of distances, remembered.
 *
 * A family's distance depends only on the tiles that the hand holds of
 * one part, and those that are gone. All suits share one table, since families
 * serve for each suit alike. A row has one byte for each family, its distances
 * with 0 to KERNEL_JOKERS jokers (kernel.h); rows that were worked out are kept
 * in a table of slots, so that over many hands most are found there:
 *
 *     tags:   key live | key live | key live | key live     one bucket
 *     slots:  row      | row      | row      | row
 *
 * A bucket is found by a hash of key and live, the tiles held and what matters of those
 * left, and its tags hold both in full: a row is only ever taken for exactly its
 * contents. */
#ifndef NH_DISTANCE_ROW_CACHE_H
#define NH_DISTANCE_ROW_CACHE_H

#include "distance/cache_tag.h"
#include "distance/joker_shortage.h"

/* Bytes for the slots of suits, and of honours. */
#define SUIT_SLOT_BYTES ((size_t)12 << 20)
#define HONOUR_SLOT_BYTES ((size_t)4 << 20)

struct row_table {
    struct tag *tags;
    uint8_t *slots;
    unsigned bucket_bits; /* of the number of buckets */
    uint32_t row_stride;
    uint32_t turn; /* which slot of a full bucket is given away next */
};

struct row_memo {
    nh_allocator allocator;
    struct row_table suits, honours;
    uint8_t *many[PARTS]; /* plain rows for more jokers, which are not remembered */
    struct shortage_memo shortage;
};

bool row_memo_init(struct row_memo *memo, const nh_list *list, const nh_allocator *allocator);

/* The same for a list that a few dozen hands are asked about: quickly made. */
#define SMALL_SLOT_BYTES ((size_t)32 << 10)
bool row_memo_init_small(struct row_memo *memo, const nh_list *list, const nh_allocator *allocator);
void row_memo_free(struct row_memo *memo);

/* The rows for a query's hand, and where its jokers can run out. Both stay valid
 * until the next call. */
void rows_find(struct query *query, struct row_memo *memo, struct near_rows *rows);

/* The rows alone: where jokers can run out was found otherwise. */
void rows_look_up(struct query *query, struct row_memo *memo, struct near_rows *rows);

#endif
