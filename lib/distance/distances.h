/* Tiles away of every pattern. */
#ifndef NH_DISTANCE_DISTANCES_H
#define NH_DISTANCE_DISTANCES_H

#include "distance/row_cache.h"

/* Fills `away` for the chosen patterns (all for NULL), NH_AWAY_NONE for others,
 * and `near`, the rows that the distances come from. Returns the least of them. */
unsigned find_distances(struct query *query, const uint8_t *chosen, struct row_memo *memo,
                        struct near_rows *near, uint8_t *away);

#endif
