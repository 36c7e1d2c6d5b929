/* Where a value stands in a JSON text, so that a mistake can name its line. */
#ifndef NH_JSON_JSON_PLACE_H
#define NH_JSON_JSON_PLACE_H

#include <stddef.h>
#include <stdint.h>

/* One step down into a JSON value: a member's key, or an element's index where
 * the key is NULL. */
struct step {
    const char *key;
    int index;
};

struct place {
    uint32_t line, column; /* from 1; the column in characters */
};

/* The line and column of a byte. */
struct place locate_byte(const char *json, size_t length, size_t at);

/* The place of the value at the end of a path, or of its nearest ancestor that
 * is found. `json` must be valid JSON. A member is found at its key. */
struct place locate_path(const char *json, size_t length, const struct step *path, int depth);

#endif
