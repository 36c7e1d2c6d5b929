/* Families of shares and products of families: how the targets of a pattern are held.
 *
 * A target falls into four shares, one for each part of the set (three suits,
 * the honours). A family is a set of shares, all of one size; a product of four
 * families, one for each part, stands for every target that takes one share
 * from each. A pattern is a union of products. "Four sets and a pair", which
 * has 11,498,658 targets, is 140 products of some 20 families. */
#ifndef NH_FAMILIES_FAMILY_H
#define NH_FAMILIES_FAMILY_H

#include "families/share.h"

/* A set of distinct shares with the same number of tiles and the same excess:
 * tiles beyond the copies of the set, which only jokers can be. Suit families
 * serve for each suit alike. */
struct family {
    uint32_t first, count; /* in the shares of the pool */
    uint32_t hash;
    uint8_t size;
    uint8_t excess;
    bool honours;
    uint8_t jokers; /* the most tiles of a share that jokers may be; filled in a loaded list */
};

/* A product, and the winds that it presumes (nh_wind, unknown for any). */
struct product {
    uint32_t family[PARTS];
    uint8_t prevailing, seat;
};

#endif
