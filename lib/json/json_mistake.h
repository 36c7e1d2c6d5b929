/* What is wrong with a text that is not JSON, in words for someone who wrote it
 * by hand. */
#ifndef NH_JSON_JSON_MISTAKE_H
#define NH_JSON_JSON_MISTAKE_H

#include <stddef.h>

struct json_mistake {
    size_t at; /* the byte where it stands */
    char text[160];
};

/* The first mistake of a text of UTF-8. `stopped` is where a parser gave up,
 * for texts in which nothing wrong is found here. */
struct json_mistake json_mistake_find(const char *json, size_t length, size_t stopped);

#endif
