/* Clocks of the benchmarks, the spread of what they measure, and checksums of the
 * answers, which two builds must have alike. */
#ifndef TIMING_H
#define TIMING_H

#include <stddef.h>
#include <stdint.h>

/* Time that this process has run on a processor, in milliseconds: for work in one thread
 * on a machine that others use too. */
double cpu_ms(void);

/* Time that has passed, in nanoseconds: for work in several threads. */
double passed_ns(void);

struct spread {
    double median, p90, p99, worst;
};

/* Sorts the times, of which there is at least one. */
struct spread spread_of(double *times, size_t count);

#define CHECKSUM_START UINT64_C(14695981039346656037)

uint64_t checksum_add(uint64_t sum, const uint64_t *figures, size_t count);

#endif
