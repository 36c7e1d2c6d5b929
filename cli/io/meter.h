/* How far a batch is, for people who wait: a line on the terminal that is
 * written anew now and then, and the sums at the end. */
#ifndef CLI_IO_METER_H
#define CLI_IO_METER_H

#include <stdbool.h>

/* Lines of input that were answered, and those that could not be read. */
struct progress_sums {
    unsigned long answered, unread;
};

struct progress {
    struct progress_sums sums;
    bool watched;         /* the line is wanted */
    double started, told; /* seconds of a clock that is never set */
    int width;            /* columns of the line that stands there, 0 for none */
};

/* `quiet` where the terminal serves for something else: typing hands. */
void progress_start(struct progress *progress, bool quiet);

/* Takes the line away, before anything else is written. */
void progress_clear(struct progress *progress);

/* Adds to the sums, and tells them where that is due. */
void progress_add(struct progress *progress, struct progress_sums sums);

/* Tells the sums and the time on standard error. */
void progress_summary(const struct progress *progress);

#endif
