/* The time: since when something takes, and what the day is. */
#ifndef CLI_SYSTEM_CLOCK_H
#define CLI_SYSTEM_CLOCK_H

#include <stdint.h>

/* A clock that only goes forward, to time things by. A signal handler may call it. */
int64_t clock_nanoseconds(void);
double clock_seconds(void);

/* Nanoseconds since the beginning of 1970. */
uint64_t clock_since_1970(void);

/* Now as ISO 8601 has it, in coordinated universal time: 2026-11-26T08:40:00Z. */
#define CLOCK_DATE_SIZE 32

void clock_date(char text[CLOCK_DATE_SIZE]);

#endif
