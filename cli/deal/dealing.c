/* What the tasks that deal share: seeds, and sets that are too small. */
#define _POSIX_C_SOURCE 200809L
#include "deal/dealing.h"
#include "io/message.h"
#include "task.h"

#include <sys/random.h>
#include <time.h>

#define FRESH_SEED_MOST ((UINT64_C(1) << 40) - 1)

uint64_t fresh_seed(void) {
    uint64_t seed;
    if (getrandom(&seed, sizeof seed, 0) != (ssize_t)sizeof seed) {
        struct timespec now;
        clock_gettime(CLOCK_REALTIME, &now);
        seed = (uint64_t)now.tv_sec * 1000000000u + (uint64_t)now.tv_nsec;
    }
    return seed & FRESH_SEED_MOST;
}

int too_few_tiles(const nh_list *list) {
    complain("the list's set has %d tiles, too few for four hands of %d",
             nh_tiles_total(nh_list_set(list)), nh_list_hand_size(list));
    return STATUS_USAGE;
}
