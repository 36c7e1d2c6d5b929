/* Other players at the table: what is known of them, and how dangerous tiles are. */
#ifndef CLI_PLAYERS_PLAYERS_H
#define CLI_PLAYERS_PLAYERS_H

#include "nearhand.h"
#include "options/option_row.h"

#include <stdbool.h>

#define PLAYERS_MOST (NH_SEATS - 1)

/* A player: the list less their sets on the table, and what is gone for them. */
struct other_player {
    nh_list *list;
    nh_situation situation; /* with the sets of the others */
};

/* Start from {.whole = the list}. */
struct other_players {
    nh_list *whole;
    struct other_player player[PLAYERS_MOST];
    size_t count;
    nh_tiles gone;     /* every tile that is known but one's own hand */
    int hidden;        /* tiles that one hides, or NH_HIDDEN_AS_LIST */
    nh_cancel *cancel; /* NULL: readings are not cancelled */
};

/* Adds a player by the texts of an option, their sets. False with a message. */
bool players_add(struct other_players *players, const char *option, const char *const *sets,
                 int count);

/* Adds a player by sets that are known to be good. False when memory is short. */
bool players_add_sets(struct other_players *players, const nh_set *sets, size_t count);

/* Adds a player for each text of --player. False with a message. */
bool players_add_each(struct other_players *players, const struct texts *texts);

/* Once all are there: tiles that are gone for everyone, and the winds. */
void players_know(struct other_players *players, const nh_situation *known);

/* From now on a stop cancels readings of these players. False with a message. */
bool players_cancel_on_stop(struct other_players *players);

void players_free(struct other_players *players);

/* ------------------------------------------------------------- dangers --- */

/* The danger of a tile from one player at least, who are taken as independent of one
 * another. */
struct tile_danger {
    uint8_t kind, mine, unseen;
    double danger;
};

/* All players read beside one hand. Start from {0}. */
struct players_reading {
    nh_reading *reading[PLAYERS_MOST];
    struct tile_danger tiles[NH_KINDS]; /* one's own first, then the most dangerous */
    size_t tile_count;
    bool counted;              /* the dangers are known; otherwise there are no tiles */
    bool misfit[PLAYERS_MOST]; /* no pattern goes with the player's sets, so they may be mistyped */
};

/* Reads them; players_reading_free frees the readings in any case. Returns what nh_read
 * did. */
nh_status players_reading_find(const struct other_players *players, const nh_tiles *hand,
                               struct players_reading *reading, nh_error *error);
void players_reading_free(struct players_reading *reading);

/* Whether a hand of any player is ready, as far as it was counted. */
bool players_reading_ready(const struct players_reading *reading);

/* The danger of a tile; 0 for one that completes no hand. */
double players_danger(const struct players_reading *reading, uint8_t kind);

/* What dangers mean, for people. */
#define PLAYERS_MODEL                                                                              \
    "Danger is the share of hidden hands one tile short that the tile completes, all of them "     \
    "taken as equally likely: what discards tell of a player's plans is not in it."
#define PLAYERS_MODEL_SEVERAL                                                                      \
    "It is the danger that at least one of the players is completed, taking them as "              \
    "independent of one another."
#define PLAYERS_TOO_MUCH                                                                           \
    "Counting all patterns together takes too much work, so how dangerous a tile is cannot be "    \
    "said."

#endif
