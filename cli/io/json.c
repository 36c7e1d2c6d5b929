/* JSON on standard output, written as it comes: no tree is built first. */
#include "io/json.h"
#include "io/output.h"
#include "io/utf8.h"
#include "numbers/double_text.h"

#include <string.h>

char *json_room(struct json *json, size_t most) {
    char *to = output_room(most + 1);
    json->start = to;
    if (json->comma)
        *to++ = ',';
    json->comma = true;
    return to;
}

void json_wrote(struct json *json, const char *end) {
    output_wrote((size_t)(end - json->start));
}

static void plain_out(struct json *json, const char *text, size_t length) {
    char *to = json_room(json, length);
    memcpy(to, text, length);
    json_wrote(json, to + length);
}

void json_open(struct json *json, char bracket) {
    plain_out(json, &bracket, 1);
    json->comma = false;
}

void json_close(struct json *json, char bracket) {
    output_bytes(&bracket, 1);
    json->comma = true;
}

void json_key_of(struct json *json, const char *key, size_t length) {
    char *to = json_room(json, length + 3);
    *to++ = '"';
    memcpy(to, key, length);
    to += length;
    *to++ = '"';
    *to++ = ':';
    json_wrote(json, to);
    json->comma = false;
}

void json_answer(struct json *json) {
    json_open(json, '{');
    json_key(json, "format");
    json_unsigned(json, JSON_FORMAT);
}

static void character_out(uint32_t character) {
    if (utf8_is_control(character)) {
        output_format("\\u%04x", (unsigned)character);
        return;
    }
    if (character == '"' || character == '\\')
        output_text("\\");
    char bytes[4];
    size_t length = utf8_encode(character, bytes);
    output_bytes(bytes, length);
}

/* Bytes that stand for themselves, as nearly all do. */
static size_t plain_ahead(const char *bytes, size_t length) {
    size_t count = 0;
    while (count < length && bytes[count] >= ' ' && bytes[count] <= '~' && bytes[count] != '"' &&
           bytes[count] != '\\')
        count++;
    return count;
}

void json_bytes(struct json *json, const char *bytes, size_t length) {
    plain_out(json, "\"", 1);
    for (size_t at = 0; at < length;) {
        size_t plain = plain_ahead(bytes + at, length - at);
        output_bytes(bytes + at, plain);
        at += plain;
        if (at == length)
            break;
        uint32_t character;
        at += utf8_decode(bytes + at, length - at, &character);
        character_out(character);
    }
    output_bytes("\"", 1);
}

void json_string(struct json *json, const char *string) {
    if (string == NULL)
        json_null(json);
    else
        json_bytes(json, string, strlen(string));
}

void json_double(struct json *json, double number) {
    char *to = json_room(json, DOUBLE_TEXT_SIZE);
    json_wrote(json, to + double_text(number, to));
}

void json_unsigned(struct json *json, uint64_t number) {
    char digits[24];
    char *first = digits + sizeof digits;
    do
        *--first = (char)('0' + number % 10);
    while ((number /= 10) > 0);
    plain_out(json, first, (size_t)(digits + sizeof digits - first));
}

void json_bool(struct json *json, bool value) {
    plain_out(json, value ? "true" : "false", value ? 4 : 5);
}

void json_null(struct json *json) {
    plain_out(json, "null", 4);
}

void json_key_string(struct json *json, const char *key, const char *string) {
    json_key(json, key);
    json_string(json, string);
}

void json_key_double(struct json *json, const char *key, double number) {
    json_key(json, key);
    json_double(json, number);
}

void json_key_unsigned(struct json *json, const char *key, uint64_t number) {
    json_key(json, key);
    json_unsigned(json, number);
}

void json_key_bool(struct json *json, const char *key, bool value) {
    json_key(json, key);
    json_bool(json, value);
}
