/* Records in the order of their bytes, however many they are: what does not fit in the
 * memory allowed is sorted in parts, which lie in a temporary file and are merged. */
#ifndef CLI_SORTING_SORTER_H
#define CLI_SORTING_SORTER_H

#include "sorting/spill_file.h"

#include <stdbool.h>
#include <stddef.h>

struct sorter_run;

/* Start from {.memory = bytes}. A record that is larger than that still has its room. */
struct sorter {
    size_t memory;
    unsigned char *arena; /* records from its start, where each begins from its end back */
    size_t room, used, count;
    size_t given;                /* records, of those in memory */
    struct sorter_run *given_of; /* whose record was given last */
    struct spill_file file;
    struct sorter_run *runs; /* parts, the oldest first */
    size_t run_count, run_room, merged;
    bool failed; /* with a message */
};

/* Before the first sorter_begin. False with a message. */
bool sorter_include(struct sorter *sorter, const void *record, size_t length);

/* Begins with the first record, or does so again. False with a message. */
bool sorter_begin(struct sorter *sorter);

/* The next record, which lasts until the next call. NULL at the end, and where it
 * `failed`. */
const unsigned char *sorter_next(struct sorter *sorter, size_t *length);

void sorter_free(struct sorter *sorter);

#endif
