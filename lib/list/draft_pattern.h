/* The patterns of a list. */
#ifndef NH_LIST_DRAFT_PATTERN_H
#define NH_LIST_DRAFT_PATTERN_H

#include "list/draft.h"
#include "list/json_reader.h"

/* Reads the "patterns" of a list, whose hand size is known. */
void draft_read_patterns(struct json_reader *reader, const cJSON *root, struct draft *draft);

#endif
