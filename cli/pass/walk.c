/* Where in the Charleston a player is: which pass comes next, and what remains
 * behind it. */
#include "pass/walk.h"
#include "io/message.h"
#include "pass/charleston.h"

static bool refused(void) {
    misused_option();
    return false;
}

static unsigned passes_before(const nh_charleston *charleston, unsigned round) {
    unsigned passes = 0;
    for (unsigned i = 1; i < round; i++)
        passes += charleston->steps[i - 1];
    return passes;
}

static bool courtesy_next(const nh_charleston *charleston, struct walk *walk) {
    walk->courtesy = true;
    if (charleston->courtesy > 0)
        return true;
    complain("the Charleston of this list ends without a courtesy exchange: no pass remains");
    return refused();
}

/* Counts the tiles given off, pass by pass. */
static bool follow(const nh_charleston *charleston, int given, struct walk *walk) {
    unsigned tiles = charleston->tiles;
    unsigned all = passes_before(charleston, charleston->rounds + 1u);
    unsigned made = tiles == 0 ? 0 : (unsigned)given / tiles;
    if (tiles * made != (unsigned)given || made > all) {
        complain("--given has %d tiles, but they are passed by %u, in at most %u passes: "
                 "--round and --step tell which pass is next",
                 given, tiles, all);
        return refused();
    }
    if (made == all)
        return courtesy_next(charleston, walk);
    walk->round = 1;
    while (made >= charleston->steps[walk->round - 1])
        made -= charleston->steps[walk->round++ - 1];
    walk->step = made + 1;
    return true;
}

static bool place(const nh_charleston *charleston, const struct walk_told *told,
                  struct walk *walk) {
    walk->round = told->round > 0 ? (unsigned)told->round : 1;
    walk->step = told->step > 0 ? (unsigned)told->step : 1;
    if (walk->round > charleston->rounds) {
        complain("--round %u: the Charleston of this list has %u round%s", walk->round,
                 charleston->rounds, charleston->rounds == 1 ? "" : "s");
        return refused();
    }
    unsigned steps = charleston->steps[walk->round - 1];
    if (walk->step > steps) {
        complain("--step %u: round %u has %u pass%s", walk->step, walk->round, steps,
                 steps == 1 ? "" : "es");
        return refused();
    }
    return true;
}

bool walk_find(const nh_charleston *charleston, const struct walk_told *told, struct walk *walk) {
    bool placed = told->round > 0 || told->step > 0;
    walk->on = true;
    if (told->courtesy && placed) {
        complain("--courtesy comes behind all rounds: leave out --round and --step");
        return refused();
    }
    bool found = told->courtesy ? courtesy_next(charleston, walk)
                 : placed       ? place(charleston, told, walk)
                                : follow(charleston, told->given, walk);
    if (!found || walk->courtesy)
        return found;
    unsigned all = passes_before(charleston, charleston->rounds + 1u);
    unsigned round_end = passes_before(charleston, walk->round + 1);
    walk->steps = charleston->steps[walk->round - 1];
    walk->direction = (nh_direction)charleston->direction[walk->round - 1][walk->step - 1];
    walk->optional = walk->round > 1;
    walk->remaining = all - passes_before(charleston, walk->round) - walk->step;
    walk->remaining_optional = walk->optional ? walk->remaining : all - round_end;
    return true;
}

const char *walk_direction(const struct walk *walk) {
    return charleston_direction(walk->direction);
}

bool walk_at_agreement(const struct walk *walk) {
    return walk->on && walk->optional && walk->step == 1;
}
