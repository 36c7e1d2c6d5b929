/* Which tile, and of which suit: the words beside a shape. */
#ifndef NH_LIST_DRAFT_TILE_H
#define NH_LIST_DRAFT_TILE_H

#include "list/draft.h"
#include "list/json_reader.h"

/* Reads the value of a shape, one tile or an array of them, into the group's
 * atoms, where the letters have these values; false after a mistake. */
bool draft_read_tiles(struct json_reader *reader, const cJSON *item,
                      const struct draft_letter *letters, struct draft_group *group);

/* Reads the "suit" of a group. */
void draft_read_suit(struct json_reader *reader, const cJSON *object, struct draft_group *group);

#endif
