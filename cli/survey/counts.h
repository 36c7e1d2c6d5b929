/* What a survey counts. All are whole numbers, so that parts of a survey add up to the
 * same in any order; every other figure is worked out from them (figures.h). */
#ifndef CLI_SURVEY_COUNTS_H
#define CLI_SURVEY_COUNTS_H

#include "nearhand.h"

#include <stdbool.h>
#include <stdint.h>

#define FINGERPRINT_SIZE 17 /* of the text in hexadecimal */

/* The settings of a survey: parts with others are no parts of it. */
struct survey_key {
    const char *list;             /* its title */
    char print[FINGERPRINT_SIZE]; /* of what it says (fingerprint.h) */
    uint64_t seed;
    nh_way way;
};

/* Games from `first` to `last`. */
struct game_range {
    uint64_t first, last;
};

struct pattern_counts {
    uint64_t dealt, dealt_alone;   /* hands to which it is among the nearest, or the nearest
                                      alone, before any tile is passed */
    uint64_t passed, passed_alone; /* likewise after the passes */
    uint64_t drawn, claimed;       /* wins, by one's own draw and by a discard */
    uint64_t turns;                /* of these wins, added up */
};

struct counts {
    const nh_list *list;
    struct game_range *range; /* sorted, apart from one another */
    size_t ranges, range_capacity;
    uint64_t games, walls, turns, wall_left;
    uint64_t seat_wins[NH_SEATS];
    struct pattern_counts *pattern; /* one for each of the list */
    uint64_t *variant_wins;         /* those of pattern i begin at variant_at[i] */
    size_t *variant_at;             /* and one more: how many there are */
};

/* False with a message when memory is short; either way counts_free is due. */
bool counts_new(struct counts *counts, const nh_list *list);
void counts_free(struct counts *counts);

/* Empties them. */
void counts_clear(struct counts *counts);

/* The hand's nearest patterns: `away` of each. */
void counts_add_hand(struct counts *counts, const uint8_t *away, bool passed);
void counts_add_end(struct counts *counts, const nh_game_end *end);

/* Notes games as counted. False without change where one of them was before; `*again` is
 * its number, or 0 when memory is short. */
bool counts_add_range(struct counts *counts, struct game_range range, uint64_t *again);
bool counts_has(const struct counts *counts, uint64_t game);

/* How many games of a range are counted. */
uint64_t counts_within(const struct counts *counts, struct game_range range);

/* Adds the numbers of another survey of the list, except its ranges. */
void counts_add(struct counts *counts, const struct counts *more);

/* Wins of a pattern, and the points that they paid together. */
uint64_t counts_wins(const struct counts *counts, size_t pattern);
double counts_points(const struct counts *counts, size_t pattern);

#endif
