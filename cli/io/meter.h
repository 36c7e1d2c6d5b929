/* Shows how far a batch is: a line on the terminal that is renewed now and then, and
 * the sums at the end. */
#ifndef CLI_IO_METER_H
#define CLI_IO_METER_H

#include <stdbool.h>

/* Lines of input that were answered, and those that could not be read. */
struct meter_sums {
    unsigned long answered, unread;
};

struct meter {
    struct meter_sums sums;
    bool watched;          /* someone can see the line */
    double started, shown; /* seconds of a monotonic clock */
    int width;             /* columns of the line that stands there, 0 for none */
};

/* `quiet` if the hands are typed on the terminal. */
void meter_start(struct meter *meter, bool quiet);

/* Takes the line away, before anything else is written. */
void meter_clear(struct meter *meter);

/* Adds to the sums, and shows them if the line is due. */
void meter_add(struct meter *meter, struct meter_sums sums);

/* Writes the sums and the time to standard error. */
void meter_summary(const struct meter *meter);

#endif
