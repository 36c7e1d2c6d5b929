/* See timing.h. The checksum is FNV-1a over words in place of bytes. */
#define _POSIX_C_SOURCE 200809L
#include "timing.h"

#include <stdlib.h>
#include <time.h>

static double read_clock(clockid_t clock, double units_a_second) {
    struct timespec time;
    clock_gettime(clock, &time);
    return (double)time.tv_sec * units_a_second + (double)time.tv_nsec * (units_a_second / 1e9);
}

double cpu_ms(void) {
    return read_clock(CLOCK_PROCESS_CPUTIME_ID, 1e3);
}

double passed_ns(void) {
    return read_clock(CLOCK_MONOTONIC, 1e9);
}

static int compare_times(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

struct spread spread_of(double *times, size_t count) {
    qsort(times, count, sizeof *times, compare_times);
    return (struct spread){times[count / 2], times[count * 9 / 10], times[count * 99 / 100],
                           times[count - 1]};
}

uint64_t checksum_add(uint64_t sum, const uint64_t *figures, size_t count) {
    for (size_t i = 0; i < count; i++)
        sum = (sum ^ figures[i]) * UINT64_C(1099511628211);
    return sum;
}
