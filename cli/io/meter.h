/* A line on the terminal that shows how far long work is, and is renewed now and then. */
#ifndef CLI_IO_METER_H
#define CLI_IO_METER_H

#include <stdbool.h>

struct meter {
    double patience;       /* seconds until the first line */
    double interval;       /* seconds between two lines */
    bool watched;          /* someone can see the line */
    double started, shown; /* by clock_seconds */
    int width;             /* columns of the line that stands there, 0 for none */
};

/* Starts to count the time. */
void meter_start(struct meter *meter, double patience, double interval, bool watched);

/* The seconds since then. */
double meter_seconds(const struct meter *meter);

/* Whether it is time for a line. */
bool meter_is_due(const struct meter *meter);

/* Takes the old line away and shows a new one. */
__attribute__((format(printf, 2, 3))) void meter_show(struct meter *meter, const char *format, ...);

/* Takes the line away, before anything else is written. */
void meter_clear(struct meter *meter);

#endif
