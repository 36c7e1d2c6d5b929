/* Answers as JSON text. */
#include "wasm/answer_json.h"
#include "wasm/libc/decimal.h"

#include <stdlib.h>
#include <string.h>

/* ---------------------------------------------------------------- text --- */

static char *answer_room(struct answer *answer, size_t more) {
    if (answer->room - answer->length < more) {
        answer->room = 2 * answer->room + more + 1024;
        answer->text = realloc(answer->text, answer->room);
        if (answer->text == NULL)
            __builtin_trap();
    }
    return answer->text + answer->length;
}

static void answer_bytes(struct answer *answer, const char *bytes, size_t length) {
    memcpy(answer_room(answer, length), bytes, length);
    answer->length += length;
}

static void answer_byte(struct answer *answer, char byte) {
    *answer_room(answer, 1) = byte;
    answer->length++;
}

void restart_answer(struct answer *answer) {
    answer->length = 0;
    answer->comma = false;
}

void finish_answer(struct answer *answer) {
    *answer_room(answer, 1) = '\0';
}

/* ----------------------------------------------------------------- JSON --- */

/* What stands before a value. */
static void begin_value(struct answer *answer, const char *key) {
    if (answer->comma)
        answer_byte(answer, ',');
    answer->comma = true;
    if (key == NULL)
        return;
    answer_byte(answer, '"');
    answer_bytes(answer, key, strlen(key));
    answer_bytes(answer, "\":", 2);
}

static void begin_brackets(struct answer *answer, const char *key, char bracket) {
    begin_value(answer, key);
    answer_byte(answer, bracket);
    answer->comma = false;
}

static void end_brackets(struct answer *answer, char bracket) {
    answer_byte(answer, bracket);
    answer->comma = true;
}

void open_object(struct answer *answer, const char *key) {
    begin_brackets(answer, key, '{');
}

void close_object(struct answer *answer) {
    end_brackets(answer, '}');
}

void open_array(struct answer *answer, const char *key) {
    begin_brackets(answer, key, '[');
}

void close_array(struct answer *answer) {
    end_brackets(answer, ']');
}

/* A value that needs no escapes. */
static void add_plainly(struct answer *answer, const char *key, const char *value) {
    begin_value(answer, key);
    answer_bytes(answer, value, strlen(value));
}

void add_null(struct answer *answer, const char *key) {
    add_plainly(answer, key, "null");
}

void add_flag(struct answer *answer, const char *key, bool flag) {
    add_plainly(answer, key, flag ? "true" : "false");
}

/* Room for the digits of any number of 64 bits, and where they begin in it. */
struct digits {
    char text[24];
    char *first;
};

static void write_digits(uint64_t number, struct digits *digits) {
    digits->first = digits->text + sizeof digits->text;
    *--digits->first = '\0';
    do
        *--digits->first = (char)('0' + number % 10);
    while ((number /= 10) > 0);
}

void add_whole(struct answer *answer, const char *key, int64_t number) {
    struct digits digits;
    write_digits((uint64_t)number, &digits);
    add_plainly(answer, key, digits.first);
}

void add_digits(struct answer *answer, const char *key, uint64_t number) {
    struct digits digits;
    write_digits((uint64_t)number, &digits);
    add_text(answer, key, digits.first);
}

void add_double(struct answer *answer, const char *key, double value) {
    char text[DECIMAL_SIZE];
    decimal_write(value, text);
    add_plainly(answer, key, text);
}

static void answer_escape(struct answer *answer, unsigned char byte) {
    static const char hexadecimal[] = "0123456789abcdef";
    if (byte >= ' ') {
        answer_byte(answer, '\\');
        answer_byte(answer, (char)byte);
        return;
    }
    answer_bytes(answer, "\\u00", 4);
    answer_byte(answer, hexadecimal[byte >> 4]);
    answer_byte(answer, hexadecimal[byte & 15]);
}

void add_text(struct answer *answer, const char *key, const char *text) {
    if (text == NULL) {
        add_null(answer, key);
        return;
    }
    begin_value(answer, key);
    answer_byte(answer, '"');
    for (;;) {
        size_t plain = 0;
        while ((unsigned char)text[plain] >= ' ' && text[plain] != '"' && text[plain] != '\\')
            plain++;
        answer_bytes(answer, text, plain);
        text += plain;
        if (*text == '\0')
            break;
        answer_escape(answer, (unsigned char)*text++);
    }
    answer_byte(answer, '"');
}

/* --------------------------------------------------- values of the library --- */

void add_tiles(struct answer *answer, const char *key, const nh_tiles *tiles) {
    char text[NH_TILES_TEXT_SIZE];
    nh_tiles_format(tiles, NH_STYLE_LETTERS, text, sizeof text);
    add_text(answer, key, text);
}

void add_natural(struct answer *answer, const char *key, const nh_natural *number) {
    char digits[NH_NATURAL_TEXT_SIZE];
    nh_natural_format(number, digits, sizeof digits);
    add_text(answer, key, digits);
}

void add_ratio(struct answer *answer, const char *key, const nh_natural *part,
               const nh_natural *whole) {
    char text[2 * NH_NATURAL_TEXT_SIZE + 1];
    size_t length = nh_natural_format(part, text, NH_NATURAL_TEXT_SIZE);
    text[length++] = '/';
    nh_natural_format(whole, text + length, NH_NATURAL_TEXT_SIZE);
    add_text(answer, key, text);
}

static uint64_t common_divisor(uint64_t a, uint64_t b) {
    while (b > 0) {
        uint64_t remainder = a % b;
        a = b;
        b = remainder;
    }
    return a;
}

void add_fraction(struct answer *answer, const char *key, uint64_t part, uint64_t whole) {
    uint64_t common = common_divisor(whole, part);
    struct digits digits;
    add_double(answer, key, (double)part / (double)whole);
    answer_bytes(answer, ",\"", 2);
    answer_bytes(answer, key, strlen(key));
    answer_bytes(answer, "_exact\":\"", 9);
    write_digits(part / common, &digits);
    answer_bytes(answer, digits.first, strlen(digits.first));
    if (whole != common) {
        answer_byte(answer, '/');
        write_digits(whole / common, &digits);
        answer_bytes(answer, digits.first, strlen(digits.first));
    }
    answer_byte(answer, '"');
}

void add_away(struct answer *answer, const char *key, uint8_t away) {
    if (away == NH_AWAY_NONE)
        add_null(answer, key);
    else
        add_whole(answer, key, away);
}

void add_pattern(struct answer *answer, const nh_pattern *pattern) {
    add_text(answer, "pattern", pattern->name);
    add_text(answer, "section", pattern->section);
    add_text(answer, "ref", pattern->ref);
    if (pattern->has_points)
        add_double(answer, "points", pattern->points);
    else
        add_null(answer, "points");
}

void add_joined(struct answer *answer, const char *key, const nh_tiles *tiles) {
    char text[NH_TILES_TEXT_SIZE];
    size_t length = 0;
    nh_tiles_format(tiles, NH_STYLE_LETTERS, text, sizeof text);
    for (const char *from = text; *from != '\0'; from++)
        if (*from != ' ')
            text[length++] = *from;
    text[length] = '\0';
    add_text(answer, key, text);
}

void add_set(struct answer *answer, const char *key, const nh_set *set) {
    nh_tiles tiles;
    nh_set_tiles(set, &tiles);
    add_joined(answer, key, &tiles);
}

void add_exposed(struct answer *answer, const nh_list *list) {
    size_t count;
    const nh_set *sets = nh_list_sets(list, &count);
    open_array(answer, "exposed");
    for (size_t i = 0; i < count; i++)
        add_set(answer, NULL, &sets[i]);
    close_array(answer);
}
