/* The rules of the Charleston: what comes next, who gets what, and which passes are
 * legal. */
#include "base/status.h"
#include "table/table.h"
#include "tiles/tiles.h"

nh_wind nh_seat_wind(int seat) {
    return is_seat(seat) ? (nh_wind)(NH_WIND_EAST + seat) : NH_WIND_UNKNOWN;
}

static bool is_direction(nh_direction direction) {
    return (unsigned)direction <= NH_LEFT;
}

/* Seats that a pass goes on in turn. */
static int seats_onward(nh_direction direction) {
    static const int onward[] = {[NH_RIGHT] = 1, [NH_ACROSS] = 2, [NH_LEFT] = 3};
    return onward[direction];
}

int nh_seat_receiver(int seat, nh_direction direction) {
    return is_seat(seat) && is_direction(direction) ? (seat + seats_onward(direction)) % NH_SEATS
                                                    : -1;
}

int nh_seat_sender(int seat, nh_direction direction) {
    return is_seat(seat) && is_direction(direction)
               ? (seat + NH_SEATS - seats_onward(direction)) % NH_SEATS
               : -1;
}

/* --------------------------------------------------------------- steps --- */

static nh_step after_rounds(const nh_charleston *charleston) {
    return (nh_step){.stage = charleston->courtesy > 0 ? NH_STAGE_COURTESY : NH_STAGE_OVER};
}

static nh_step pass_step(const nh_charleston *charleston, unsigned round, unsigned pass) {
    bool last = pass == charleston->steps[round - 1];
    return (nh_step){
        .stage = NH_STAGE_PASS,
        .direction = (nh_direction)charleston->direction[round - 1][pass - 1],
        .round = (uint8_t)round,
        .pass = (uint8_t)pass,
        .blind = last && (charleston->blind >> (round - 1) & 1) != 0,
    };
}

static nh_step step_after_pass(const nh_charleston *charleston, nh_step step) {
    if (step.pass < charleston->steps[step.round - 1])
        return pass_step(charleston, step.round, step.pass + 1u);
    if (step.round < charleston->rounds)
        return (nh_step){.stage = NH_STAGE_VOTE, .round = (uint8_t)(step.round + 1)};
    return after_rounds(charleston);
}

nh_step nh_charleston_first(const nh_charleston *charleston) {
    return charleston->rounds > 0 ? pass_step(charleston, 1, 1) : after_rounds(charleston);
}

nh_step nh_charleston_next(const nh_charleston *charleston, nh_step step, bool agreed) {
    bool in_round = step.round > 0 && step.round <= charleston->rounds;
    if (step.stage == NH_STAGE_PASS && in_round)
        return step_after_pass(charleston, step);
    if (step.stage == NH_STAGE_VOTE && in_round && agreed)
        return pass_step(charleston, step.round, 1);
    if (step.stage == NH_STAGE_VOTE)
        return after_rounds(charleston);
    return (nh_step){.stage = step.stage == NH_STAGE_COURTESY ? NH_STAGE_EXCHANGE : NH_STAGE_OVER};
}

nh_status nh_charleston_pass(const nh_charleston *charleston, unsigned round, unsigned pass,
                             nh_step *step, nh_error *error) {
    if (round < 1 || round > charleston->rounds)
        return error_set(error, NH_ERROR_ARGUMENT, 0, "there is no round %u: the Charleston has %u",
                         round, charleston->rounds);
    if (pass < 1 || pass > charleston->steps[round - 1])
        return error_set(error, NH_ERROR_ARGUMENT, 0, "there is no pass %u: round %u has %u", pass,
                         round, charleston->steps[round - 1]);
    *step = pass_step(charleston, round, pass);
    return NH_OK;
}

/* Passes of the rounds from `first` on, which counts from 1. */
static unsigned passes_from(const nh_charleston *charleston, unsigned first) {
    unsigned passes = 0;
    for (unsigned round = first > 0 ? first : 1; round <= charleston->rounds; round++)
        passes += charleston->steps[round - 1];
    return passes;
}

unsigned nh_charleston_left(const nh_charleston *charleston, nh_step step) {
    if (step.stage == NH_STAGE_VOTE)
        return passes_from(charleston, step.round);
    unsigned passes = step.stage == NH_STAGE_PASS ? passes_from(charleston, step.round) : 0;
    return passes > step.pass ? passes - step.pass : 0;
}

unsigned nh_charleston_left_optional(const nh_charleston *charleston, nh_step step) {
    bool first_round = step.stage == NH_STAGE_PASS && step.round == 1;
    return first_round ? passes_from(charleston, 2) : nh_charleston_left(charleston, step);
}

/* --------------------------------------------------------- legal passes --- */

static bool is_kept(const nh_charleston *charleston, int kind) {
    return kind == NH_JOKER || charleston->keep.count[kind] > 0;
}

nh_tiles nh_charleston_passable(const nh_charleston *charleston, const nh_tiles *hand) {
    nh_tiles passable = *hand;
    for (int kind = 0; kind < NH_KINDS; kind++)
        if (is_kept(charleston, kind))
            passable.count[kind] = 0;
    return passable;
}

nh_status nh_charleston_check(const nh_charleston *charleston, const nh_tiles *hand,
                              const nh_tiles *pass, unsigned count, nh_error *error) {
    for (int kind = 0; kind < NH_KINDS; kind++) {
        int held = hand->count[kind], passed = pass->count[kind];
        const char *tile = nh_kind_notation(kind);
        if (passed > 0 && is_kept(charleston, kind))
            return error_set(error, NH_ERROR_TILES, 0, "%s may never be passed", tile);
        if (passed > held && held == 0)
            return error_set(error, NH_ERROR_TILES, 0, "the hand has no %s", tile);
        if (passed > held)
            return error_set(error, NH_ERROR_TILES, 0, "the hand has only %d of %s, not %d", held,
                             tile, passed);
    }
    unsigned total = (unsigned)nh_tiles_total(pass);
    if (total != count)
        return error_set(error, NH_ERROR_TILES, 0, "pass %u tile%s, not %u", count,
                         count == 1 ? "" : "s", total);
    return NH_OK;
}

nh_tiles nh_charleston_gone(const nh_tiles *set, const nh_tiles *hand, const nh_tiles *passed) {
    nh_tiles gone = *passed;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        int elsewhere = set->count[kind] - hand->count[kind];
        if (gone.count[kind] > elsewhere)
            gone.count[kind] = (uint8_t)(elsewhere > 0 ? elsewhere : 0);
    }
    return gone;
}
