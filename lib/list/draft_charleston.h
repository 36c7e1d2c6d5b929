/* How tiles are passed before play. */
#ifndef NH_LIST_DRAFT_CHARLESTON_H
#define NH_LIST_DRAFT_CHARLESTON_H

#include "list/json_reader.h"

/* Reads the "charleston" of a list with hands of `hand` tiles. */
void draft_read_charleston(struct json_reader *reader, const cJSON *root, int hand,
                           nh_charleston *charleston);

#endif
