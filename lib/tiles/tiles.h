/* The four parts of a set of tiles, and tiles added and taken away. */
#ifndef NH_TILES_TILES_H
#define NH_TILES_TILES_H

#include "nearhand.h"

/* Tiles fall into four parts: three suits of nine ranks, and the honours with
 * the flower. A kind is part * PART_KINDS + slot; slots of a suit are ranks
 * less one, slots of the honour part are E S W N R G Wh F. Jokers take the
 * honour part's last slot, but no target has any. */
enum { PART_BAM, PART_CRAK, PART_DOT, PART_HONOUR, PARTS };
#define PART_KINDS 9
#define SUITS 3
#define HONOURS 7 /* winds and dragons */

/* Copies of each kind in the fullest set. */
#define COPIES 4
#define FLOWERS_MAX 8
#define JOKERS_MAX 16

/* Tiles together, and what is left of them; every count fits. */
static inline nh_tiles tiles_with(const nh_tiles *tiles, const nh_tiles *more) {
    nh_tiles sum;
    for (int kind = 0; kind < NH_KINDS; kind++)
        sum.count[kind] = (uint8_t)(tiles->count[kind] + more->count[kind]);
    return sum;
}

static inline nh_tiles tiles_without(const nh_tiles *tiles, const nh_tiles *fewer) {
    nh_tiles rest;
    for (int kind = 0; kind < NH_KINDS; kind++)
        rest.count[kind] = (uint8_t)(tiles->count[kind] - fewer->count[kind]);
    return rest;
}

/* NH_OK for a wind, or an error that names the `which` wind. */
nh_status check_wind(const char *which, nh_wind wind, nh_error *error);

#endif
