/* The hands of a sheet: dealt, or those that the player gives. */
#ifndef CLI_SHEET_SHEET_HANDS_H
#define CLI_SHEET_SHEET_HANDS_H

#include "deal/training.h"
#include "options/option_row.h"

#include <stdbool.h>
#include <stdint.h>

#define SHEET_HANDS_MOST 1000
#define SHEET_HANDS_DEFAULT 8

struct sheet_hand {
    uint64_t number; /* on the sheet */
    uint64_t deal;   /* of this number, if that is shown; else 0 */
    char *label;     /* of a hand that was given, or NULL */
    nh_tiles tiles;
    nh_wind prevailing, seat; /* unknown where nobody said */
    bool winds_in_label;
};

/* Start from {0}. */
struct sheet_hands {
    struct sheet_hand *hand;
    size_t count;
};

void sheet_hands_free(struct sheet_hands *hands);

/* ----------------------------------------------------------- dealt ones --- */

/* Which deals. */
struct sheet_deals {
    uint64_t first, count, seed;
    nh_wind seat;
    const struct training_options *training;
    bool drawn; /* players who do not deal have drawn a tile */
};

/* Deals the hands. Returns STATUS_ANSWERED, or the status to exit with after saying what
 * is wrong. */
int hands_dealt(nh_workspace *workspace, const struct sheet_deals *deals,
                struct sheet_hands *hands);

/* ----------------------------------------------------------- given ones --- */

/* Where hands come from, and their winds, unknown where nobody said. */
struct sheet_source {
    const char *hand; /* one, in a text; NULL: from files */
    const struct texts *files;
    nh_wind prevailing, seat;
    bool drawn; /* the hands have drawn a tile; else they are those before play */
};

/* Whether standard input is a file or a pipe, so that there may be hands in it. */
bool hands_piped(void);

/* Whether standard input has something that nobody reads: in a file, or in a pipe before
 * a second has gone by. Reads none of it. */
bool hands_unused(void);

/* Reads the hands. Returns STATUS_ANSWERED, or the status to exit with after saying what
 * is wrong, all lines of it. `*empty` says that there was no line at all. */
int hands_given(const nh_list *list, const struct sheet_source *source, struct sheet_hands *hands,
                bool *empty);

#endif
