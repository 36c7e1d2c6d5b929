/* The tables of one reading, and the counts that are made with them. */
#ifndef NH_READ_READER_H
#define NH_READ_READER_H

#include "read/ready_count.h"

struct reader {
    const nh_list *list;
    struct read_work *work;
    struct hidden_tiles tiles, last; /* `last`: when all jokers are in the hidden hand */
    struct tail_tables tails;
    struct part_hands suits, honours;
    struct ready_count count;    /* a joker may be the missing tile */
    struct ready_count no_joker; /* none is left to be it */
    bool uses_last;
    nh_natural *ready; /* hands by their tiles */
};

/* Makes the tables for products. reader_free frees them in any case. */
bool reader_start(struct reader *reader, const nh_list *list, const struct hidden_tiles *tiles,
                  const struct product *products, size_t product_count, struct read_work *work);
void reader_free(struct reader *reader);

/* The hidden hands that are ready for products first to first + product_count - 1. */
bool reader_ready(struct reader *reader, size_t first, size_t product_count, nh_natural *ready);

/* The hidden hands that each kind completes: adds to NH_KINDS numbers. */
bool reader_wins(struct reader *reader, nh_natural *wins);

#endif
