/* Answers as JSON. */
#include "wasm/answer_json.h"

#include <inttypes.h>
#include <stdio.h>

void add_tiles(cJSON *object, const char *key, const nh_tiles *tiles) {
    char text[NH_TILES_TEXT_SIZE];
    nh_tiles_format(tiles, NH_STYLE_LETTERS, text, sizeof text);
    cJSON_AddStringToObject(object, key, text);
}

void add_text(cJSON *object, const char *key, const char *text) {
    if (text == NULL)
        cJSON_AddNullToObject(object, key);
    else
        cJSON_AddStringToObject(object, key, text);
}

/* cJSON prints 15 digits where they come near enough; 17 always give the same double. */
void add_double(cJSON *object, const char *key, double value) {
    char text[32];
    snprintf(text, sizeof text, "%.17g", value);
    cJSON_AddRawToObject(object, key, text);
}

void add_natural(cJSON *object, const char *key, const nh_natural *number) {
    char digits[NH_NATURAL_TEXT_SIZE];
    nh_natural_format(number, digits, sizeof digits);
    cJSON_AddStringToObject(object, key, digits);
}

void add_ratio(cJSON *object, const char *key, const nh_natural *part, const nh_natural *whole) {
    char text[2 * NH_NATURAL_TEXT_SIZE + 1];
    size_t length = nh_natural_format(part, text, NH_NATURAL_TEXT_SIZE);
    text[length++] = '/';
    nh_natural_format(whole, text + length, NH_NATURAL_TEXT_SIZE);
    cJSON_AddStringToObject(object, key, text);
}

static uint64_t common_divisor(uint64_t a, uint64_t b) {
    while (b > 0) {
        uint64_t remainder = a % b;
        a = b;
        b = remainder;
    }
    return a;
}

void add_fraction(cJSON *object, const char *key, uint64_t part, uint64_t whole) {
    char text[64];
    uint64_t common = common_divisor(whole, part);
    add_double(object, key, (double)part / (double)whole);
    snprintf(text, sizeof text, "%s_exact", key);
    char exact[64];
    if (whole == common)
        snprintf(exact, sizeof exact, "%" PRIu64, part / common);
    else
        snprintf(exact, sizeof exact, "%" PRIu64 "/%" PRIu64, part / common, whole / common);
    cJSON_AddStringToObject(object, text, exact);
}

void add_away(cJSON *object, const char *key, uint8_t away) {
    if (away == NH_AWAY_NONE)
        cJSON_AddNullToObject(object, key);
    else
        cJSON_AddNumberToObject(object, key, away);
}

void add_pattern(cJSON *object, const nh_pattern *pattern) {
    cJSON_AddStringToObject(object, "pattern", pattern->name);
    add_text(object, "section", pattern->section);
    add_text(object, "ref", pattern->ref);
    if (pattern->has_points)
        add_double(object, "points", pattern->points);
    else
        cJSON_AddNullToObject(object, "points");
}

static void spell_set(const nh_set *set, char text[NH_TILES_TEXT_SIZE]) {
    nh_tiles tiles;
    size_t length = 0;
    nh_set_tiles(set, &tiles);
    nh_tiles_format(&tiles, NH_STYLE_LETTERS, text, NH_TILES_TEXT_SIZE);
    for (const char *from = text; *from != '\0'; from++)
        if (*from != ' ')
            text[length++] = *from;
    text[length] = '\0';
}

void add_set(cJSON *object, const char *key, const nh_set *set) {
    char text[NH_TILES_TEXT_SIZE];
    spell_set(set, text);
    cJSON_AddStringToObject(object, key, text);
}

void add_set_to(cJSON *array, const nh_set *set) {
    char text[NH_TILES_TEXT_SIZE];
    spell_set(set, text);
    cJSON_AddItemToArray(array, cJSON_CreateString(text));
}

void add_exposed(cJSON *object, const nh_list *list) {
    size_t count;
    const nh_set *sets = nh_list_sets(list, &count);
    cJSON *exposed = cJSON_AddArrayToObject(object, "exposed");
    for (size_t i = 0; i < count; i++)
        add_set_to(exposed, &sets[i]);
}
