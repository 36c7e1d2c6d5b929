/* The parts of a line of the history, checked one by one: each reads the value of a key,
 * or returns false where it is not there or not as it must be. */
#ifndef CLI_HISTORY_REVIEW_ITEMS_H
#define CLI_HISTORY_REVIEW_ITEMS_H

#include "nearhand.h"

#include <cjson/cJSON.h>
#include <stdbool.h>
#include <stddef.h>

const cJSON *item_of(const cJSON *object, const char *key);
bool read_text(const cJSON *object, const char *key, const char **text);

/* From 0 to `most`. */
bool read_number(const cJSON *object, const char *key, double most, double *number);
bool read_whole(const cJSON *object, const char *key, unsigned most, unsigned *whole);
bool read_tiles(const cJSON *object, const char *key, nh_tiles *tiles);

/* An array with at most so many elements. */
bool read_array(const cJSON *object, const char *key, size_t most, const cJSON **array);

#endif
