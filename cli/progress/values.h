/* Numbers whose median is asked for: times of rounds, costs of passes. */
#ifndef CLI_PROGRESS_VALUES_H
#define CLI_PROGRESS_VALUES_H

#include "sorting/spill_file.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Start from {.most = at least 1}. */
struct values {
    size_t most; /* held in memory; more go to a file */
    double *held;
    size_t count, room; /* of those in memory */
    struct spill_file file;
};

/* No value is negative, nor a negative zero. False with a message. */
bool values_include(struct values *values, double value);

uint64_t values_count(const struct values *values);

/* Of at least one value, and exact. False with a message. */
bool values_median(struct values *values, double *median);

/* None is left. */
void values_clear(struct values *values);
void values_free(struct values *values);

#endif
