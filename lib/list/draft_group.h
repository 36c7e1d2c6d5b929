/* Groups of tiles: one shape key with what stands beside it. */
#ifndef NH_LIST_DRAFT_GROUP_H
#define NH_LIST_DRAFT_GROUP_H

#include "list/draft.h"
#include "list/json_reader.h"

/* Reads an array of groups whose letters have these values; false after a
 * mistake. */
bool draft_read_groups(struct json_reader *reader, const cJSON *array,
                       const struct draft_letter *letters, struct draft_groups *groups);

#endif
