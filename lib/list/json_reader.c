/* A JSON tree read value by value: the path, the mistakes found on it, and
 * values of one type. */
#include "list/json_reader.h"
#include "list/word_hints.h"
#include "tiles/notation_read.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#define MESSAGE_SIZE 1024

/* ---------------------------------------------------------- the path --- */

void reader_enter_key(struct json_reader *reader, const char *key) {
    if (reader->depth < STEPS_MAX)
        reader->path[reader->depth] = (struct step){key, 0};
    reader->depth++;
}

void reader_enter_item(struct json_reader *reader, int index) {
    if (reader->depth < STEPS_MAX)
        reader->path[reader->depth] = (struct step){NULL, index};
    reader->depth++;
}

void reader_leave(struct json_reader *reader) {
    reader->depth--;
}

/* ---------------------------------------------------------- mistakes --- */

static size_t append_format(char *text, size_t size, size_t at, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

static size_t append_format(char *text, size_t size, size_t at, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(text + at, size - at, format, arguments);
    va_end(arguments);
    if (length < 0)
        return at;
    at += (size_t)length;
    return at < size ? at : size - 1;
}

/* What the elements of the array at a key are called, or NULL where the path
 * below it names nothing that a keeper counts. */
static const char *element_name(const char *key) {
    return strcmp(key, "variants") == 0 ? "variant"
           : strcmp(key, "groups") == 0 ? "group"
           : strcmp(key, "one_of") == 0 ? "alternative"
                                        : NULL;
}

/* `pattern "Ebb", variant 2, group 1, alternative 3: ` from the path. */
static size_t write_place(const struct json_reader *reader, char *text, size_t size) {
    size_t at = 0;
    if (reader->pattern < 0)
        return 0;
    if (reader->pattern_name != NULL)
        at = append_format(text, size, at, "pattern \"%s\"", reader->pattern_name);
    else
        at = append_format(text, size, at, "pattern %d", reader->pattern + 1);
    const char *next = "group"; /* in an array of groups */
    for (int i = 2; i < reader->depth && i < STEPS_MAX && next != NULL; i++) {
        const struct step *step = &reader->path[i];
        if (step->key != NULL) {
            next = element_name(step->key);
        } else {
            at = append_format(text, size, at, ", %s %d", next, step->index + 1);
            next = "group";
        }
    }
    return append_format(text, size, at, ": ");
}

static void note_at_path(struct json_reader *reader, const char *warning, const char *format,
                         va_list arguments) {
    char text[MESSAGE_SIZE];
    size_t at = write_place(reader, text, sizeof text);
    vsnprintf(text + at, sizeof text - at, format, arguments);
    int depth = reader->depth < STEPS_MAX ? reader->depth : STEPS_MAX;
    struct place place =
        mistakes_place(reader->mistakes, reader->json, reader->length, reader->path, depth);
    mistakes_add(reader->mistakes, place, reader->pattern >= 0 ? reader->pattern_name : NULL,
                 warning, text);
}

void reader_complain(struct json_reader *reader, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    note_at_path(reader, NULL, format, arguments);
    va_end(arguments);
}

void reader_warn(struct json_reader *reader, const char *name, const char *format, ...) {
    bool accepted = false;
    for (size_t i = 0; i < reader->accepted_count; i++)
        if (strcmp(reader->accepted[i].name, name) == 0)
            accepted = reader->accepted[i].met = true;
    if (accepted)
        return;
    va_list arguments;
    va_start(arguments, format);
    note_at_path(reader, name, format, arguments);
    va_end(arguments);
}

void *reader_new(struct json_reader *reader, size_t count, size_t size) {
    void *block = arena_new(reader->arena, count, size);
    if (block == NULL)
        reader->memory_short = true;
    return block;
}

/* ------------------------------------------------- values of one type --- */

cJSON *json_member(const cJSON *object, const char *key) {
    return cJSON_GetObjectItemCaseSensitive(object, key);
}

int json_count(const cJSON *array) {
    return cJSON_IsArray(array) ? cJSON_GetArraySize(array) : 0;
}

const cJSON *json_first(const cJSON *array) {
    return json_count(array) > 0 ? array->child : NULL;
}

bool json_is_whole(const cJSON *item, double least, double most) {
    return cJSON_IsNumber(item) && item->valuedouble >= least && item->valuedouble <= most &&
           item->valuedouble == (double)(int)item->valuedouble;
}

int word_number(const char *word, const char *const *words) {
    for (int i = 0; words[i] != NULL; i++)
        if (strcmp(word, words[i]) == 0)
            return i;
    return -1;
}

void reader_check_keys(struct json_reader *reader, const cJSON *object, const char *const *keys) {
    uint32_t found = 0; /* keys, as bits */
    for (const cJSON *item = object->child; item != NULL; item = item->next) {
        int number = word_number(item->string, keys);
        reader_enter_key(reader, item->string);
        char hint[HINT_SIZE] = "";
        if (number < 0)
            key_hint(item->string, keys, hint);
        if (number < 0)
            reader_complain(reader, "unknown key \"%.60s\"%s%s", item->string,
                            hint[0] != '\0' ? ": " : "", hint);
        else if (found >> number & 1u)
            reader_complain(reader, "duplicate key \"%s\"", item->string);
        else
            found |= 1u << number;
        reader_leave(reader);
    }
}

int reader_whole(struct json_reader *reader, const cJSON *object, const char *key, int least,
                 int most, int absent) {
    const cJSON *item = json_member(object, key);
    if (item == NULL)
        return absent;
    if (json_is_whole(item, least, most))
        return (int)item->valuedouble;
    reader_enter_key(reader, key);
    if (least == most)
        reader_complain(reader, "\"%s\" must be %d", key, least);
    else
        reader_complain(reader, "\"%s\" must be a whole number from %d to %d", key, least, most);
    reader_leave(reader);
    return absent;
}

bool reader_flag(struct json_reader *reader, const cJSON *object, const char *key, bool absent) {
    const cJSON *item = json_member(object, key);
    if (item == NULL)
        return absent;
    if (cJSON_IsBool(item))
        return cJSON_IsTrue(item);
    reader_enter_key(reader, key);
    reader_complain(reader, "\"%s\" must be true or false", key);
    reader_leave(reader);
    return absent;
}

const char *reader_text(struct json_reader *reader, const cJSON *object, const char *key,
                        bool required) {
    const cJSON *item = json_member(object, key);
    if (item == NULL) {
        if (required)
            reader_complain(reader, "\"%s\" is missing", key);
        return NULL;
    }
    const char *text = NULL;
    reader_enter_key(reader, key);
    if (!cJSON_IsString(item))
        reader_complain(reader, "\"%s\" must be text", key);
    else if (strlen(item->valuestring) > NH_TEXT_MAX)
        reader_complain(reader, "\"%s\" is longer than %u bytes", key, NH_TEXT_MAX);
    else if (required && item->valuestring[0] == '\0')
        reader_complain(reader, "\"%s\" is empty", key);
    else if ((text = arena_text(reader->arena, item->valuestring)) == NULL)
        reader->memory_short = true;
    reader_leave(reader);
    return text;
}

bool reader_kinds(struct json_reader *reader, const cJSON *item, const char *key, nh_tiles *tiles) {
    if (!cJSON_IsString(item)) {
        reader_complain(reader, "\"%s\" must be tiles in hand notation, such as \"23468B G\"", key);
        return false;
    }
    struct tile_bounds bounds = bounds_full();
    nh_error error;
    bounds.most = 0;
    if (notation_read(&bounds, item->valuestring, strlen(item->valuestring), tiles, &error) !=
        NH_OK) {
        reader_complain(reader, "\"%s\", character %u: %s", key, (unsigned)error.column,
                        error.text);
        return false;
    }
    return true;
}
