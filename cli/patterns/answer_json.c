/* What JSON answers say of tiles, patterns, groups and sets. */
#include "patterns/answer_json.h"
#include "patterns/list_sets.h"

#include <inttypes.h>
#include <stdio.h>

/* Hand notation needs no escapes. */
void tiles_json(struct json *json, const char *key, const nh_tiles *tiles) {
    json_key(json, key);
    char *to = json_room(json, NH_TILES_TEXT_SIZE + 2);
    *to++ = '"';
    to += nh_tiles_format(tiles, NH_STYLE_LETTERS, to, NH_TILES_TEXT_SIZE);
    *to++ = '"';
    json_wrote(json, to);
}

void away_json(struct json *json, const char *key, uint8_t away) {
    json_key(json, key);
    if (away == NH_AWAY_NONE)
        json_null(json);
    else
        json_unsigned(json, away);
}

static uint64_t divisor(uint64_t a, uint64_t b) {
    while (b > 0) {
        uint64_t rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}

void fraction_json(struct json *json, const char *key, uint64_t part, uint64_t whole) {
    char text[64];
    uint64_t common = divisor(whole, part);
    json_key_double(json, key, (double)part / (double)whole);
    snprintf(text, sizeof text, "%s_exact", key);
    json_key(json, text);
    if (whole == common)
        snprintf(text, sizeof text, "%" PRIu64, part / common);
    else
        snprintf(text, sizeof text, "%" PRIu64 "/%" PRIu64, part / common, whole / common);
    json_string(json, text);
}

void naturals_json(struct json *json, const nh_natural *part, const nh_natural *whole) {
    char *to = json_room(json, 2 * NH_NATURAL_TEXT_SIZE + 3);
    *to++ = '"';
    to += nh_natural_format(part, to, NH_NATURAL_TEXT_SIZE);
    *to++ = '/';
    to += nh_natural_format(whole, to, NH_NATURAL_TEXT_SIZE);
    *to++ = '"';
    json_wrote(json, to);
}

void pattern_json(struct json *json, const nh_pattern *pattern) {
    json_key_string(json, "pattern", pattern->name);
    json_key_string(json, "section", pattern->section);
    json_key_string(json, "ref", pattern->ref);
    json_key(json, "points");
    if (pattern->has_points)
        json_double(json, pattern->points);
    else
        json_null(json);
}

static size_t drop_spaces(char *text, size_t length) {
    size_t kept = 0;
    for (size_t at = 0; at < length; at++) {
        text[kept] = text[at];
        kept += text[at] != ' ';
    }
    return kept;
}

void groups_json(struct json *json, const nh_layout *layout) {
    json_key(json, "groups");
    json_open(json, '[');
    for (unsigned i = 0; i < layout->groups; i++) {
        nh_tiles group;
        nh_layout_group(layout, i, &group);
        char *to = json_room(json, NH_TILES_TEXT_SIZE + 2);
        *to++ = '"';
        size_t length = nh_tiles_format(&group, NH_STYLE_LETTERS, to, NH_TILES_TEXT_SIZE);
        to += drop_spaces(to, length);
        *to++ = '"';
        json_wrote(json, to);
    }
    json_close(json, ']');
}

void exposed_json(struct json *json, const nh_list *list) {
    size_t count;
    const nh_set *sets = nh_list_sets(list, &count);
    json_key(json, "exposed");
    json_open(json, '[');
    for (size_t i = 0; i < count; i++) {
        char text[NH_TILES_TEXT_SIZE];
        set_text(&sets[i], text);
        json_string(json, text);
    }
    json_close(json, ']');
}

void wind_json(struct json *json, const char *key, uint8_t wind) {
    if (wind == NH_WIND_UNKNOWN)
        return;
    json_key_string(json, key, nh_kind_notation(NH_EAST + wind - NH_WIND_EAST));
}
