/* What a game and the rules see of its table beside the interface. */
#ifndef NH_TABLE_TABLE_H
#define NH_TABLE_TABLE_H

#include "nearhand_table.h"

static inline bool is_seat(int seat) {
    return seat >= 0 && seat < NH_SEATS;
}

/* The random numbers of the game, from where they stand. */
nh_random *table_random(nh_table *table);

/* What a seat gave in the step that was played last: its own tiles, and those that it
 * handed on unseen. */
nh_tiles table_gave(const nh_table *table, int seat);

/* All that a seat passed. */
const nh_tiles *table_passed(const nh_table *table, int seat);

/* NH_OK for a player's workspace that is of the list that is played, or an error. */
nh_status check_same_list(const nh_view *view, const nh_workspace *workspace, nh_error *error);

#endif
