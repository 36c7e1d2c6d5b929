/* A JSON tree read value by value. The reader keeps the path to the value that
 * is being read, so that each mistake can name its pattern, group and line. */
#ifndef NH_LIST_JSON_READER_H
#define NH_LIST_JSON_READER_H

#include "base/memory.h"
#include "json/json_place.h"
#include "json/mistakes.h"

#include <cjson/cJSON.h>

#define STEPS_MAX 64

struct json_reader {
    const char *json;
    size_t length;
    struct arena *arena;
    nh_mistakes *mistakes;
    struct step path[STEPS_MAX];
    int depth;
    int pattern;                       /* index of the pattern being read, or -1 */
    const char *pattern_name;          /* NULL until it is known */
    struct accepted_warning *accepted; /* by the pattern */
    size_t accepted_count;
    bool memory_short;
};

/* The path follows the reader down into a member or an element, and back up. */
void reader_enter_key(struct json_reader *reader, const char *key);
void reader_enter_item(struct json_reader *reader, int index);
void reader_leave(struct json_reader *reader);

/* Notes a mistake at the path; the text begins with the place, as in
 * `pattern "Ebb", variant 2, group 1, alternative 3: `. */
void reader_complain(struct json_reader *reader, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* The same for a warning, unless the pattern accepts those of this name. */
void reader_warn(struct json_reader *reader, const char *name, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Zeroed items from the arena; NULL when memory is short, which is noted. */
void *reader_new(struct json_reader *reader, size_t count, size_t size);

cJSON *json_member(const cJSON *object, const char *key);

/* The elements of an array, 0 for any other value, and the first of them. */
int json_count(const cJSON *array);
const cJSON *json_first(const cJSON *array);

bool json_is_whole(const cJSON *item, double least, double most);

/* The place of a word in an array that ends in NULL, or -1. */
int word_number(const char *word, const char *const *words);

/* Complains of keys written twice and of unknown ones, for which it names the
 * key that was meant, as far as that shows. */
void reader_check_keys(struct json_reader *reader, const cJSON *object, const char *const *keys);

/* The values at `key`; where it is missing or wrong, `absent` (NULL for a text,
 * which lives in the arena). */
int reader_whole(struct json_reader *reader, const cJSON *object, const char *key, int least,
                 int most, int absent);
bool reader_flag(struct json_reader *reader, const cJSON *object, const char *key, bool absent);
const char *reader_text(struct json_reader *reader, const cJSON *object, const char *key,
                        bool required);

/* Reads the kinds that a text in hand notation names; false after a mistake. */
bool reader_kinds(struct json_reader *reader, const cJSON *item, const char *key, nh_tiles *tiles);

#endif
