/* What sets on the table leave of a list, remembered: the same sets come again while
 * players think about a claim, make it, and play on. */
#ifndef NH_TABLE_REMEMBERED_RESTS_H
#define NH_TABLE_REMEMBERED_RESTS_H

#include "nearhand_game.h"

struct remembered_rests;

nh_status rests_new(const nh_list *list, const nh_allocator *allocator,
                    struct remembered_rests **rests);
void rests_free(struct remembered_rests *rests); /* NULL is ignored */

/* A workspace of what sets leave; of the list itself where there are none. It lives until
 * NH_GAME_RESTS others were asked for. */
nh_status rests_find(struct remembered_rests *rests, const nh_set *sets, size_t count,
                     nh_workspace **workspace, nh_error *error);

/* The same for the sets that a seat has: it lives until that seat has others. */
nh_status rests_find_for(struct remembered_rests *rests, int seat, const nh_set *sets, size_t count,
                         nh_workspace **workspace, nh_error *error);

#endif
