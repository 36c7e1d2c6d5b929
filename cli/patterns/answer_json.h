/* What JSON answers say of tiles, patterns, groups and sets. */
#ifndef CLI_PATTERNS_ANSWER_JSON_H
#define CLI_PATTERNS_ANSWER_JSON_H

#include "io/json.h"
#include "nearhand.h"

void tiles_json(struct json *json, const char *key, const nh_tiles *tiles);

/* Tiles away; null for NH_AWAY_NONE. */
void away_json(struct json *json, const char *key, uint8_t away);

/* A fraction as a number, and in lowest terms as text with a key that ends in _exact;
 * `whole` is not 0. */
void fraction_json(struct json *json, const char *key, uint64_t part, uint64_t whole);

/* A fraction of large numbers as text, not reduced. */
void naturals_json(struct json *json, const nh_natural *part, const nh_natural *whole);

/* The keys of a pattern: its name, where it stands, its points. */
void pattern_json(struct json *json, const nh_pattern *pattern);

/* The groups of a layout in notation, without spaces: "99BF". */
void groups_json(struct json *json, const nh_layout *layout);

/* The sets that the list is the rest of, as players write them. */
void exposed_json(struct json *json, const nh_list *list);

/* "prevailing" or "seat", unless the wind is unknown. */
void wind_json(struct json *json, const char *key, uint8_t wind);

#endif
