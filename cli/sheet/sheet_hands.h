/* The hands of a sheet: dealt, or those that the player gives. */
#ifndef CLI_SHEET_SHEET_HANDS_H
#define CLI_SHEET_SHEET_HANDS_H

#include "deal/training.h"
#include "options/option_row.h"

#include <stdbool.h>
#include <stdint.h>

#define SHEET_HANDS_MOST 1000
#define SHEET_HANDS_DEFAULT 8

/* What lies on the table beside a hand, where another player is read. */
struct sheet_table {
    nh_set sets[NH_SETS_MAX]; /* of that player */
    size_t set_count;
    nh_wind player;          /* unknown where nobody said */
    nh_set own[NH_SETS_MAX]; /* one's own */
    size_t own_count;
    nh_set others[(NH_SEATS - 2) * NH_SETS_MAX]; /* of the other players */
    size_t other_count;
    nh_tiles discards; /* of all players */
};

struct sheet_hand {
    uint64_t number; /* on the sheet */
    uint64_t deal;   /* of this number, if that is shown; else 0 */
    char *label;     /* of a hand that was given, or NULL */
    nh_tiles tiles;
    nh_wind prevailing, seat; /* unknown where nobody said */
    bool winds_in_label;
    struct sheet_table table; /* empty unless a player is read */
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

/* Hands out of games: each the first of its game that draws beside a player with sets on the
 * table, and has tiles that are not equally dangerous. Returns as hands_dealt does. */
int hands_played(nh_workspace *workspace, nh_list *list, const struct sheet_deals *deals,
                 struct sheet_hands *hands);

/* ----------------------------------------------------------- given ones --- */

/* Where hands come from, and their winds, unknown where nobody said. */
struct sheet_source {
    const char *hand; /* one, in a text; NULL: from files */
    const struct texts *files;
    nh_wind prevailing, seat;
    bool drawn; /* the hands have drawn a tile; else they are those before play */
    const struct sheet_table *table; /* of all hands, or NULL */
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
