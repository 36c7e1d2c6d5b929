/* JSON on standard output, written as it comes: no tree is built first. */
#ifndef CLI_IO_JSON_H
#define CLI_IO_JSON_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

/* Whether a comma is due before the next value. Start from {0}. */
struct json {
    bool comma;
    char *start; /* of what json_room gave room for */
};

/* Opens the object of an answer, which begins with the version of its format:
 * that is raised when a key goes or changes its meaning, not when one is added. */
#define JSON_FORMAT 1
void json_answer(struct json *json);

/* '{' or '[', and their counterparts. */
void json_open(struct json *json, char bracket);
void json_close(struct json *json, char bracket);

/* A key, which needs no escapes. */
void json_key_of(struct json *json, const char *key, size_t length);
static inline void json_key(struct json *json, const char *key) {
    json_key_of(json, key, strlen(key)); /* a constant for most */
}

/* Any bytes: what is not UTF-8 becomes U+FFFD, so that the output is JSON
 * whatever came in. Characters that a terminal would obey are escaped. */
void json_bytes(struct json *json, const char *bytes, size_t length);
void json_string(struct json *json, const char *string); /* null for NULL */

/* The shortest digits that read back as the same double; finite numbers only. */
void json_double(struct json *json, double number);
void json_unsigned(struct json *json, uint64_t number);
void json_bool(struct json *json, bool value);
void json_null(struct json *json);

/* A key and its value. */
void json_key_string(struct json *json, const char *key, const char *string);
void json_key_double(struct json *json, const char *key, double number);
void json_key_unsigned(struct json *json, const char *key, uint64_t number);
void json_key_bool(struct json *json, const char *key, bool value);

/* Room for the next value, which is written straight into it and has at most `most` bytes,
 * less than OUTPUT_ROOM_MAX; json_wrote says where it ends. */
char *json_room(struct json *json, size_t most);
void json_wrote(struct json *json, const char *end);

#endif
