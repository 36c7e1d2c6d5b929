/* JSON on standard output, written as it comes: no tree is built first. */
#include "io/json.h"
#include "io/output.h"
#include "io/utf8.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void before_value(struct json *json) {
    if (json->comma)
        output_text(",");
    json->comma = true;
}

void json_open(struct json *json, char bracket) {
    before_value(json);
    output_bytes(&bracket, 1);
    json->comma = false;
}

void json_close(struct json *json, char bracket) {
    output_bytes(&bracket, 1);
    json->comma = true;
}

void json_key(struct json *json, const char *key) {
    before_value(json);
    output_bytes("\"", 1);
    output_text(key);
    output_bytes("\":", 2);
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
    before_value(json);
    output_text("\"");
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
    output_text("\"");
}

void json_string(struct json *json, const char *string) {
    if (string == NULL)
        json_null(json);
    else
        json_bytes(json, string, strlen(string));
}

void json_double_text(double number, char *buffer) {
    for (int digits = 15; digits <= 17; digits++) {
        snprintf(buffer, JSON_DOUBLE_SIZE, "%.*g", digits, number);
        double back = strtod(buffer, NULL);
        if (!(back < number) && !(back > number))
            return;
    }
}

void json_double(struct json *json, double number) {
    char buffer[JSON_DOUBLE_SIZE];
    json_double_text(number, buffer);
    before_value(json);
    output_text(buffer);
}

void json_unsigned(struct json *json, uint64_t number) {
    before_value(json);
    char digits[24];
    char *first = digits + sizeof digits;
    do
        *--first = (char)('0' + number % 10);
    while ((number /= 10) > 0);
    output_bytes(first, (size_t)(digits + sizeof digits - first));
}

void json_bool(struct json *json, bool value) {
    before_value(json);
    output_text(value ? "true" : "false");
}

void json_null(struct json *json) {
    before_value(json);
    output_text("null");
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
