/* The distance of a hand to families, products and patterns.
 *
 * A share is also held as 36 bits, a few for each kind in unary: a kind of which
 * n tiles are asked for has its n lowest bits set. A suit has 9 kinds of 4 bits,
 * the honour part 7 kinds of 4 bits and the flower with 8. A hand is written so
 * too, and what both have in common is the number of bits of their AND:
 *
 *      bit   35..32  31..28        7..4   3..0
 *      suit   nine   eight   ...    two    one
 *      bit   35..28  27..24        7..4   3..0
 *      rest  flower   Wh     ...     S      E
 *
 * Tiles of a share beyond the set's copies have no bits: no hand holds them. */
#ifndef NH_MATCH_H
#define NH_MATCH_H

#include "list.h"

uint64_t share_bits(const uint8_t count[PART_KINDS], bool honours);

/* How many tiles: the number of bits of a word of 36. */
static inline unsigned bit_count(uint64_t bits) {
    bits -= bits >> 1 & 0x5555555555555555u;
    bits = (bits & 0x3333333333333333u) + (bits >> 2 & 0x3333333333333333u);
    bits = (bits + (bits >> 4)) & 0x0F0F0F0F0F0F0F0Fu;
    return (unsigned)(bits * 0x0101010101010101u >> 56);
}

/* A hand and what is known beside it, as the matcher needs it. */
struct query {
    const nh_list *list;
    nh_tiles hand, left;               /* left: the set less the tiles that are gone */
    uint64_t have[PARTS], live[PARTS]; /* hand and left as bits */
    unsigned jokers;                   /* held */
    unsigned jokers_left;              /* held or unseen */
    bool short_of_jokers;              /* jokers could run out for tiles that only they can be */
    uint8_t prevailing, seat;
};

/* How a share compares with the hand. away = missing - min(jokers, open). */
struct fit {
    uint8_t missing; /* tiles that the hand lacks */
    uint8_t open;    /* those that jokers may be */
    uint8_t excess;  /* tiles that are gone: only jokers can be them */
    bool live;
};

struct fit fit_share(const struct query *query, int part, const struct family *family,
                     uint32_t index);

#define FAR 100 /* farther than any target; four of them fit 16 bits */

/* Fills a table of the least distances of each family in each part, with at
 * most j of the hand's jokers used there:
 * near[(part * families + family) * (jokers + 1) + j]. */
void distances_fill(const struct query *query, uint8_t *near);

/* The least number of tiles away over the products of a pattern, FAR or more
 * when none is live; per product likewise. */
unsigned product_away(const struct query *query, const uint8_t *near,
                      const struct product *product);
unsigned pattern_away(const struct query *query, const uint8_t *near,
                      const struct list_pattern *pattern);

bool product_applies(const struct query *query, const struct product *product);

/* Bytes of the table for a list. */
size_t distances_size(const nh_list *list);

nh_status query_set(struct query *query, const nh_list *list, const nh_tiles *hand,
                    const nh_situation *situation, nh_error *error);

#endif
