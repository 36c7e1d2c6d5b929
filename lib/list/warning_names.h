/* The names of warnings, with which a pattern accepts them. */
#ifndef NH_LIST_WARNING_NAMES_H
#define NH_LIST_WARNING_NAMES_H

#include "list/draft.h"
#include "list/json_reader.h"

/* Reads the warnings that a pattern accepts. */
void read_accepted(struct json_reader *reader, const cJSON *object, struct draft_pattern *pattern);

#endif
