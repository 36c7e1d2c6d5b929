/*
 * nearhand, chapter 11: reading another player: what they can still be making, and
 * which tiles are dangerous.
 */
#ifndef NEARHAND_READ_H
#define NEARHAND_READ_H

#include "nearhand_rank.h"

#ifdef __cplusplus
extern "C" {
#endif

/* What is known of another player. Start from NH_READ_QUESTION, which knows nothing.
 * Their sets on the table are those of the list: see nh_list_rest. */
typedef struct nh_read_question {
    size_t size;                   /* of this struct, as NH_READ_QUESTION sets it */
    const nh_tiles *mine;          /* NULL, or one's own concealed tiles */
    const nh_situation *situation; /* NULL, or the tiles that are gone beside `mine` and the
                                      sets of the list, and that player's winds */
    const nh_cancel *cancel;       /* NULL: the work is not cancelled */
    int hidden; /* their concealed tiles, 0 to NH_TARGET_MAX - 1; NH_HIDDEN_AS_LIST: one
                   less than a whole hand, nh_list_hand_size */
} nh_read_question;

#define NH_HIDDEN_AS_LIST (-1)

#define NH_READ_QUESTION                                                                           \
    { sizeof(nh_read_question), NULL, NULL, NULL, NH_HIDDEN_AS_LIST }

/* What is read. A **hidden hand** is any set of `hidden` of the unseen tiles, each tile
 * counted as different. It is **ready** for a tile when with it it is complete, jokers
 * standing where they may, and a copy of the tile is left: unseen beside the hidden hand,
 * or one of `mine`. A hand counts once, however many targets or tiles complete it. The
 * library owns a reading, so later versions may add fields at its end. */
typedef struct nh_reading {
    nh_natural hands; /* all hidden hands */
    nh_natural ready; /* those ready for any tile; the joker is one here */
    nh_status status; /* NH_OK, or NH_ERROR_LIMIT where counting all patterns together takes
                         too much work: then `ready` is 0, shares are 0 and no tile is given */
    int hidden;       /* tiles of a hidden hand */
    size_t patterns;  /* those given: with a hand that is ready, or not counted */
    size_t uncounted; /* those not counted, which stand behind the others */
    size_t tiles;     /* those given: of `mine`, or with a hand that is ready for them */
} nh_reading;

/* A pattern that another player can be making. */
typedef struct nh_read_pattern {
    nh_natural ready; /* hidden hands ready for a target of it */
    double share;     /* of those ready for any pattern. Shares can come to more than 1: a hand
                         may be ready for several patterns */
    nh_status status; /* NH_OK, or NH_ERROR_LIMIT where counting it takes too much work */
    uint32_t pattern; /* its index in the list */
} nh_read_pattern;

/* A tile that can complete another player's hand when it is let go; never a joker. */
typedef struct nh_read_tile {
    nh_natural wins; /* hidden hands ready for it */
    double danger;   /* of those ready for any tile, the share that it completes */
    uint8_t kind;
    uint8_t mine;   /* copies among `mine` */
    uint8_t unseen; /* copies among the unseen tiles */
} nh_read_tile;

/* Reads a player with the sets of `list` on the table, which is a loaded list where there
 * are none. Counts in whole numbers, without listing hands. All hidden hands that are one
 * tile short are taken as equally likely; what a player's discards tell is not counted.
 *
 * A NULL question is NH_READ_QUESTION; `error` may be NULL. On success `*reading` is
 * freed with nh_reading_free; otherwise it is NULL. `allocator` may be NULL for the C
 * library's.
 *
 * Returns NH_OK, also where the reading says that something could not be counted;
 * NH_ERROR_ARGUMENT for a value out of range; NH_ERROR_TILES when tiles are known that
 * the set does not hold, or fewer are unseen than are hidden; NH_ERROR_MEMORY;
 * NH_ERROR_CANCELLED. Thread-safe. Cost: some milliseconds with two sets of a shipped list
 * on the table, most of a second with none; memory: below 256 MiB. */
NH_API nh_status nh_read(const nh_list *list, const nh_read_question *question,
                         const nh_allocator *allocator, nh_reading **reading, nh_error *error);
NH_API void nh_reading_free(nh_reading *reading); /* NULL is ignored */

/* Pattern number `index` of a reading, by their hands, then in list order; NULL past the
 * last. */
NH_API const nh_read_pattern *nh_reading_pattern(const nh_reading *reading, size_t index);

/* Tile number `index` of a reading: those of `mine` first, then the most dangerous, then in
 * the order of hand notation; NULL past the last. */
NH_API const nh_read_tile *nh_reading_tile(const nh_reading *reading, size_t index);

#ifdef __cplusplus
}
#endif

#endif /* NEARHAND_READ_H */
