/* Sequences of numbers, each kept once and known by its place: sets of families as
 * bits, steps of a trie, states of a count. */
#ifndef NH_READ_SEQUENCES_H
#define NH_READ_SEQUENCES_H

#include "read/read_work.h"

#define SEQUENCE_NONE UINT32_MAX

struct sequence {
    size_t first; /* in the numbers of all */
    uint32_t length, hash;
};

/* Starts as {work}. */
struct sequences {
    struct read_work *work;
    uint32_t *numbers;
    size_t number_count, number_capacity;
    struct sequence *items;
    size_t count, capacity;
    uint32_t *slots; /* of a table by hashes, at most half full: a place and 1 */
    size_t slot_count;
};

/* The place of a sequence of one number or more, which is kept when it is new: then the count has
 * grown. SEQUENCE_NONE when the work is to end. `numbers` must not be the table's own. */
uint32_t sequences_place(struct sequences *sequences, const uint32_t *numbers, uint32_t length);

/* The numbers at a place, until the next one is kept. */
static inline const uint32_t *sequences_at(const struct sequences *sequences, uint32_t place) {
    return sequences->numbers + sequences->items[place].first;
}

void sequences_free(struct sequences *sequences);

#endif
