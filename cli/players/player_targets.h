/* Targets that another player can have, as examples of the patterns that are left. */
#ifndef CLI_PLAYERS_PLAYER_TARGETS_H
#define CLI_PLAYERS_PLAYER_TARGETS_H

#include "players/players.h"

/* What they are found with: a workspace of the player's list, and room for a row of each
 * pattern. */
struct target_finder {
    nh_workspace *workspace;
    nh_ranked *ranked;
    uint8_t *chosen;
};

/* False when memory is short; target_finder_end is called in any case. */
bool target_finder_start(struct target_finder *finder, const nh_list *list);
void target_finder_end(struct target_finder *finder);

/* For each of the first `count` patterns of a reading the likeliest target that can be
 * hidden beside `hand`, with its groups, or no tiles. */
nh_status player_targets_find(struct target_finder *finder, const struct other_players *players,
                              size_t player, const nh_reading *reading, const nh_tiles *hand,
                              size_t count, nh_ranked *rows, nh_layout *layouts, nh_error *error);

#endif
