/* Lower bounds for passes, from what each of their tiles is by itself.
 *
 * When only the best passes are asked for, most need not be looked at. A draw after
 * which the hand without a pass P is at most a away, leaves it so without any single
 * tile of P: a hand with fewer tiles gone is never farther. So the draws that come to
 * a after P are among those that do so after each tile of P by itself, and their
 * number is at most that of the draws which these have in common. That bounds the sum
 * of distances, since d is the number of a = 0, 1, 2, ... below d.
 *
 * The tiles by themselves are looked at with as many tiles coming as for a whole pass. */
#ifndef NH_PASS_PASS_BOUNDS_H
#define NH_PASS_PASS_BOUNDS_H

#include "pass/expectation.h"

/* A tile by itself: of what hand it is known once, and the draws. */
struct tile_alone {
    unsigned looked; /* number of the close look, from 1 on; 0 before */
    struct expectation expectation;
    struct reach_lists lists;
};

/* Of tiles without which the hand is farther only draws that come two nearer are found at
 * first, by a brief look: that is enough to rule most passes with them out. */
struct pass_bounds {
    const struct outlook *outlook;
    const nh_tiles *hand;
    unsigned tiles;           /* of a pass, 2 or 3 */
    struct tile_alone *alone; /* room for the kinds of a hand */
    uint8_t place[NH_KINDS];  /* of a kind in `alone` */
    unsigned looks;           /* close looks so far */
};

/* Looks at every kind of the passable tiles by itself. */
void bounds_set(struct pass_bounds *bounds, const nh_tiles *passable);

/* Looks closely at the tiles of a pass that this was left out for. Whether its bounds may be
 * better than those it had after `looks` close looks. */
bool bounds_look_closely(struct pass_bounds *bounds, const nh_tiles *pass, unsigned looks);

/* A lower bound for the sum of distances after a pass, from numbers of draws alone;
 * UINT64_MAX where no target is left. */
uint64_t bound_quickly(const struct pass_bounds *bounds, const nh_tiles *pass);

/* A better bound, by what the draws have in common, or if `roughly` by their numbers in groups,
 * which takes a fraction of the time; or anything above `worst` where it is. `quick` is the
 * pass's quick bound, below UINT64_MAX. */
uint64_t bound_better(const struct pass_bounds *bounds, const nh_tiles *pass, uint64_t quick,
                      uint64_t worst, bool roughly);

#endif
