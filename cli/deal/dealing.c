/* What the tasks that deal share: seeds, and sets that are too small. */
#include "deal/dealing.h"
#include "io/message.h"
#include "system/clock.h"
#include "task.h"

#include <sys/random.h>

#define FRESH_SEED_MOST ((UINT64_C(1) << 40) - 1)

uint64_t fresh_seed(void) {
    uint64_t seed;
    if (getrandom(&seed, sizeof seed, 0) != (ssize_t)sizeof seed)
        seed = clock_since_1970();
    return seed & FRESH_SEED_MOST;
}

int too_few_tiles(const nh_list *list) {
    complain("the list's set has %d tiles, too few for four hands of %d",
             nh_tiles_total(nh_list_set(list)), nh_list_hand_size(list));
    return STATUS_USAGE;
}
