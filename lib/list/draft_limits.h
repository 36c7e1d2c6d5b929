/* The limits of a pattern: what every target must satisfy as well. */
#ifndef NH_LIST_DRAFT_LIMITS_H
#define NH_LIST_DRAFT_LIMITS_H

#include "list/draft.h"
#include "list/json_reader.h"

/* Reads the "limits" of an object; without them nothing is limited. */
void draft_read_limits(struct json_reader *reader, const cJSON *object,
                       struct draft_limits *limits);

#endif
