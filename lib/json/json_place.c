/* Where a value stands in a JSON text. cJSON keeps no places, so the path to
 * the value is walked once more through the text, only when there is a mistake
 * to tell. The text has been parsed before: it is valid. */
#include "json/json_place.h"

#include <stdbool.h>
#include <string.h>

struct scan {
    const char *json;
    size_t length, at;
};

struct place locate_byte(const char *json, size_t length, size_t at) {
    struct place place = {1, 1};
    for (size_t i = 0; i < at && i < length; i++) {
        if (json[i] == '\n') {
            place.line++;
            place.column = 1;
        } else if (((unsigned char)json[i] & 0xC0u) != 0x80) {
            place.column++;
        }
    }
    return place;
}

static char peek(const struct scan *scan) {
    return scan->at < scan->length ? scan->json[scan->at] : '\0';
}

static void skip_spaces(struct scan *scan) {
    while (scan->at < scan->length && (unsigned char)scan->json[scan->at] <= ' ')
        scan->at++;
}

static void skip_string(struct scan *scan) {
    scan->at++;
    while (scan->at < scan->length && scan->json[scan->at] != '"')
        scan->at += scan->json[scan->at] == '\\' ? 2 : 1;
    scan->at++;
}

/* Past a whole value: brackets are counted, strings are skipped. */
static void skip_value(struct scan *scan) {
    int open = 0;
    do {
        char c = peek(scan);
        if (c == '"') {
            skip_string(scan);
            continue;
        }
        if (c == '{' || c == '[')
            open++;
        else if (c == '}' || c == ']')
            open--;
        scan->at++;
    } while (scan->at < scan->length && (open > 0 || strchr(",]}", scan->json[scan->at]) == NULL));
}

/* Moves to the next member or element after a value; false at the end. */
static bool next_item(struct scan *scan) {
    skip_value(scan);
    skip_spaces(scan);
    if (peek(scan) != ',')
        return false;
    scan->at++;
    skip_spaces(scan);
    return true;
}

/* Steps into the array at the scan. */
static bool enter_element(struct scan *scan, int index) {
    if (peek(scan) != '[')
        return false;
    scan->at++;
    skip_spaces(scan);
    for (int i = 0; i < index; i++)
        if (!next_item(scan))
            return false;
    return peek(scan) != ']';
}

/* Steps into the object at the scan; `*key_at` is where the key begins. */
static bool enter_member(struct scan *scan, const char *key, size_t *key_at) {
    if (peek(scan) != '{')
        return false;
    scan->at++;
    skip_spaces(scan);
    while (peek(scan) == '"') {
        size_t start = scan->at;
        skip_string(scan);
        size_t size = scan->at - start - 2;
        bool found = size == strlen(key) && memcmp(scan->json + start + 1, key, size) == 0;
        skip_spaces(scan);
        scan->at++;
        skip_spaces(scan);
        if (found) {
            *key_at = start;
            return true;
        }
        if (!next_item(scan))
            return false;
    }
    return false;
}

struct place locate_path(const char *json, size_t length, const struct step *path, int depth) {
    struct scan scan = {json, length, 0};
    skip_spaces(&scan);
    size_t found = scan.at;
    for (int i = 0; i < depth; i++) {
        size_t key_at = 0;
        bool entered = path[i].key != NULL ? enter_member(&scan, path[i].key, &key_at)
                                           : enter_element(&scan, path[i].index);
        if (!entered)
            break;
        found = path[i].key != NULL ? key_at : scan.at;
    }
    return locate_byte(json, length, found);
}
