/* What a hidden hand may hold of one part, and which families it fits.
 *
 * Tiles of a part **fit** a family when they, with jokers for the others, are one of its
 * shares. Tiles and one more tile t fit the families that the larger hand fits, so one
 * table of tiles answers both: each entry leads to those with one tile more. Suits share
 * a table, since a family serves each suit alike. */
#ifndef NH_READ_PART_HANDS_H
#define NH_READ_PART_HANDS_H

#include "compile/compiled.h"
#include "read/sequences.h"

/* Tiles of a part, four bits for each kind. */
static inline unsigned tiles_of_slot(uint64_t tiles, int slot) {
    return (unsigned)(tiles >> (4 * slot)) & 15u;
}

#define PART_HAND_NONE UINT32_MAX

struct part_hand {
    uint64_t tiles;
    uint32_t fits;             /* in `sets`: the families that it fits */
    uint32_t plus[PART_KINDS]; /* the entry with one tile more of a kind, or none */
};

struct part_hands {
    const nh_list *list;
    struct read_work *work;
    bool honours;
    uint32_t *number;   /* of each family of the list among those in use */
    uint32_t *families; /* those in use */
    uint32_t family_count;
    uint32_t width; /* numbers of 32 bits for a set of families */
    struct part_hand *items;
    size_t count, capacity;
    uint32_t *slots; /* of a table by hashes, at most half full: an entry and 1 */
    size_t slot_count;
    struct sequences sets; /* of families, as bits; the first is empty */
};

/* What bounds the tiles of the table. */
struct part_bounds {
    uint8_t most[PART_KINDS]; /* of each kind */
    int jokers;               /* for so many tiles of a share jokers may stand */
};

/* Fills the table for the families that products have in the parts of its kind. False
 * when the work is to end; part_hands_free frees it in any case. */
bool part_hands_fill(struct part_hands *hands, const nh_list *list, bool honours,
                     const struct product *products, size_t product_count,
                     const struct part_bounds *bounds, struct read_work *work);
void part_hands_free(struct part_hands *hands);

#endif
