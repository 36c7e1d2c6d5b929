/* The limits of a pattern: what every target must satisfy as well. */
#ifndef NH_LIST_DRAFT_LIMITS_H
#define NH_LIST_DRAFT_LIMITS_H

#include "list/draft.h"
#include "list/json_reader.h"

/* Reads the "limits" of an object; those that it does not name stay as they are. */
void draft_read_limits(struct json_reader *reader, const cJSON *object,
                       struct draft_limits *limits);

struct draft_limits draft_no_limits(void);

/* Limits that can be looked at one by one, beside "tiles" and "ranks". */
#define DRAFT_LIMITS (2 + 2 * CLASSES)

/* Copies limit number `index` and returns its key; NULL where it limits
 * nothing. */
const char *draft_copy_limit(struct draft_limits *to, const struct draft_limits *from, int index);

#endif
