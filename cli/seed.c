/* A seed for deals where nobody named one. */
#define _POSIX_C_SOURCE 200809L
#include "seed.h"

#include <sys/random.h>
#include <sys/types.h>
#include <time.h>

#define SEED_FRESH_MOST ((UINT64_C(1) << 40) - 1)

uint64_t seed_fresh(void) {
    uint64_t seed;
    if (getrandom(&seed, sizeof seed, 0) != (ssize_t)sizeof seed) {
        struct timespec now;
        clock_gettime(CLOCK_REALTIME, &now);
        seed = (uint64_t)now.tv_sec * 1000000000u + (uint64_t)now.tv_nsec;
    }
    return seed & SEED_FRESH_MOST;
}
