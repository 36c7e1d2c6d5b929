/* Where in the Charleston a player is, from the options that say so. */
#include "pass/walk.h"
#include "io/message.h"
#include "io/text.h"

static bool refused(void) {
    misused_option();
    return false;
}

static bool find_courtesy(const nh_charleston *charleston, struct walk *walk) {
    walk->step = (nh_step){.stage = NH_STAGE_COURTESY};
    if (charleston->courtesy > 0)
        return true;
    complain("this list has no courtesy exchange, and all its passes are over");
    return refused();
}

/* Counts the tiles given, pass by pass. */
static bool find_by_given(const nh_charleston *charleston, int given, struct walk *walk) {
    int least = 0, most = 0; /* tiles that the passes before this step come to */
    nh_step step = nh_charleston_first(charleston);
    for (; given > most && step.round > 0; step = nh_charleston_next(charleston, step, true)) {
        if (step.stage != NH_STAGE_PASS)
            continue;
        least += step.blind ? 0 : charleston->tiles;
        most += charleston->tiles;
    }
    if (given < least || given > most) {
        complain("--given has %d tile%s, but a pass has %u and there are at most %u passes; say "
                 "which pass is next with --round and --step",
                 given, plural((unsigned long)given), charleston->tiles,
                 nh_charleston_left(charleston, (nh_step){.stage = NH_STAGE_VOTE, .round = 1}));
        return refused();
    }
    if (step.stage == NH_STAGE_VOTE)
        step = nh_charleston_next(charleston, step, true);
    walk->step = step;
    return step.stage == NH_STAGE_PASS || find_courtesy(charleston, walk);
}

static bool find_by_number(const nh_charleston *charleston, const struct walk_options *options,
                           struct walk *walk) {
    unsigned round = options->round > 0 ? (unsigned)options->round : 1;
    unsigned pass = options->pass > 0 ? (unsigned)options->pass : 1;
    nh_error error;
    if (nh_charleston_pass(charleston, round, pass, &walk->step, &error) == NH_OK)
        return true;
    complain("%s", error.text);
    return refused();
}

bool walk_find(const nh_charleston *charleston, const struct walk_options *options,
               struct walk *walk) {
    bool placed = options->round > 0 || options->pass > 0;
    walk->on = true;
    if (options->courtesy && placed) {
        complain("--courtesy comes after all rounds: leave out --round and --step");
        return refused();
    }
    bool found = options->courtesy ? find_courtesy(charleston, walk)
                 : placed          ? find_by_number(charleston, options, walk)
                                   : find_by_given(charleston, options->given, walk);
    if (!found)
        return false;
    walk->passes = walk_in_courtesy(walk) ? 0 : charleston->steps[walk->step.round - 1];
    walk->left = nh_charleston_left(charleston, walk->step);
    walk->left_optional = nh_charleston_left_optional(charleston, walk->step);
    return true;
}

bool walk_in_courtesy(const struct walk *walk) {
    return walk->on && walk->step.stage == NH_STAGE_COURTESY;
}

bool walk_blind(const struct walk *walk) {
    return walk->on && walk->step.blind;
}

bool walk_optional(const struct walk *walk) {
    return walk->step.round > 1;
}

bool walk_at_agreement(const struct walk *walk) {
    return walk->on && walk_optional(walk) && walk->step.pass == 1;
}
