/* One of the other players, for people and for programs. */
#ifndef CLI_PLAYERS_PLAYER_SHOWN_H
#define CLI_PLAYERS_PLAYER_SHOWN_H

#include "io/json.h"
#include "io/text.h"
#include "players/players.h"

/* Adds "Player 1: EEE 444D on the table, 7 tiles hidden: 3 of 63 patterns left.", without
 * the number unless `numbered`; of a player who can make nothing, what to check. */
void player_add(struct text *text, const struct other_players *players,
                const struct players_reading *reading, size_t index, bool numbered);

/* Adds the sets on the table with spaces between them: "EEE 444D". */
void player_sets_add(struct text *text, const struct other_player *player);

/* The keys "exposed", "hidden", "hands" and "ready". */
void player_json(struct json *json, const struct other_players *players,
                 const struct players_reading *reading, size_t index);

/* A count in digits, which may be more than JSON numbers hold; null when not counted. */
void count_json(struct json *json, const char *key, const nh_natural *number, bool counted);

#endif
