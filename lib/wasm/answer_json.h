/* Answers as JSON: what a value of the library is there. The keys are those that the
 * program prints. */
#ifndef NH_WASM_ANSWER_JSON_H
#define NH_WASM_ANSWER_JSON_H

#include "nearhand.h"

#include <cjson/cJSON.h>

void add_tiles(cJSON *object, const char *key, const nh_tiles *tiles);
void add_text(cJSON *object, const char *key, const char *text);            /* NULL is null */
void add_double(cJSON *object, const char *key, double value);              /* every bit of it */
void add_natural(cJSON *object, const char *key, const nh_natural *number); /* its digits */

/* "part/whole", as it is. */
void add_ratio(cJSON *object, const char *key, const nh_natural *part, const nh_natural *whole);

/* As a number, and under KEY_exact in lowest terms; `whole` is not 0. */
void add_fraction(cJSON *object, const char *key, uint64_t part, uint64_t whole);

/* Tiles away; null for NH_AWAY_NONE. */
void add_away(cJSON *object, const char *key, uint8_t away);

/* "pattern", "section", "ref", "points". */
void add_pattern(cJSON *object, const nh_pattern *pattern);

/* A set as a word: "444D", "EEEJ"; and "exposed", the sets that a list is the rest of. */
void add_set(cJSON *object, const char *key, const nh_set *set);
void add_set_to(cJSON *array, const nh_set *set);
void add_exposed(cJSON *object, const nh_list *list);

/* "marked": the groups of a layout of the row's target, each with what the hand has of it. */
void add_marked(cJSON *object, const nh_ranked *row, const nh_layout *layout);

#endif /* NH_WASM_ANSWER_JSON_H */
