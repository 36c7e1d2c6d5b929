/* Sets that lie on the table: which tiles make one, and who may claim it. */
#ifndef NH_TILES_TABLE_SETS_H
#define NH_TILES_TABLE_SETS_H

#include "nearhand.h"

/* NH_OK for a set that can lie on a table, or an error that says what it is. */
nh_status check_set(const nh_set *set, nh_error *error);

/* Whether three in a row of one suit can begin at this kind. */
bool chow_begins_at(int kind);

/* Whether a discard may be claimed for a set of this shape, no matter who discarded it. */
bool rules_allow(const nh_play_rules *rules, int shape);

#endif
