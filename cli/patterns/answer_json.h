/* What JSON answers say of tiles, patterns, groups and sets. */
#ifndef CLI_PATTERNS_ANSWER_JSON_H
#define CLI_PATTERNS_ANSWER_JSON_H

#include "io/json.h"
#include "nearhand.h"

void tiles_json(struct json *json, const char *key, const nh_tiles *tiles);

/* The keys of a pattern: its name, where it stands, its points. */
void pattern_json(struct json *json, const nh_pattern *pattern);

/* The groups of a layout in notation, without spaces: "99BF". */
void groups_json(struct json *json, const nh_layout *layout);

/* The sets that the list is the rest of, as players write them. */
void exposed_json(struct json *json, const nh_list *list);

/* "prevailing" or "seat", unless the wind is unknown. */
void wind_json(struct json *json, const char *key, uint8_t wind);

#endif
