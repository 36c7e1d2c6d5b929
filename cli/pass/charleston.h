/* Passes before play: which tiles may go, where they go, and hands that change
 * so that no tile is lost. Seats are those of nh_deal, 0 east to 3 north; the
 * player on the right sits in the seat that comes next. */
#ifndef CLI_PASS_CHARLESTON_H
#define CLI_PASS_CHARLESTON_H

#include "nearhand.h"

/* Tiles of a hand that the list lets go in a pass. */
nh_tiles charleston_passable(const nh_list *list, const nh_tiles *hand);

/* "right", "across", "left". */
const char *charleston_direction(nh_direction direction);

/* Who gets what a seat passes. */
int charleston_receiver(int seat, nh_direction direction);

/* All four pass at once: every pass, which is part of its hand, goes to its
 * receiver. */
void charleston_turn(nh_tiles hand[NH_SEATS], const nh_tiles pass[NH_SEATS],
                     nh_direction direction);

/* A seat and the one opposite exchange tiles of their hands. */
void charleston_courtesy(nh_tiles hand[NH_SEATS], int seat, const nh_tiles *mine,
                         const nh_tiles *theirs);

/* What of the tiles that a player passed is surely not to come again: a tile
 * that is back in the hand is no longer gone. */
nh_tiles charleston_gone(const nh_list *list, const nh_tiles *hand, const nh_tiles *passed);

void tiles_add(nh_tiles *tiles, const nh_tiles *more);
void tiles_take(nh_tiles *tiles, const nh_tiles *fewer);

#endif
