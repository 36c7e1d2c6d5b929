/* The time: since when something takes, and what the day is. */
#define _POSIX_C_SOURCE 200809L
#include "system/clock.h"

#include <time.h>

#define SECOND INT64_C(1000000000) /* in nanoseconds */

static int64_t read_clock(clockid_t clock) {
    struct timespec time = {0, 0};
    clock_gettime(clock, &time);
    return (int64_t)time.tv_sec * SECOND + time.tv_nsec;
}

int64_t clock_nanoseconds(void) {
    return read_clock(CLOCK_MONOTONIC);
}

double clock_seconds(void) {
    return (double)clock_nanoseconds() / (double)SECOND;
}

uint64_t clock_since_1970(void) {
    return (uint64_t)read_clock(CLOCK_REALTIME);
}

void clock_date(char text[CLOCK_DATE_SIZE]) {
    struct tm parts;
    time_t now = time(NULL);
    text[0] = '\0';
    if (gmtime_r(&now, &parts) != NULL)
        strftime(text, CLOCK_DATE_SIZE, "%Y-%m-%dT%H:%M:%SZ", &parts);
}
