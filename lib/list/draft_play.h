/* How tiles are passed before play, and claimed in it. */
#ifndef NH_LIST_DRAFT_PLAY_H
#define NH_LIST_DRAFT_PLAY_H

#include "list/json_reader.h"

/* Reads the "charleston" of a list with hands of `hand` tiles. */
void draft_read_charleston(struct json_reader *reader, const cJSON *root, int hand,
                           nh_charleston *charleston);

/* Reads the "play" of a list. */
void draft_read_play(struct json_reader *reader, const cJSON *root, nh_play_rules *play);

#endif
