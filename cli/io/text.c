/* A line of text that knows how many columns it takes. */
#include "io/text.h"
#include "io/utf8.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#define STYLE_ROOM 64 /* kept free for the sequences that end a style */

void text_clear(struct text *text) {
    text->length = 0;
    text->width = 0;
    text->bytes[0] = '\0';
}

static void append_bytes(struct text *text, const char *bytes, size_t length, size_t room) {
    if (text->length + length + room >= TEXT_SIZE)
        return;
    memcpy(text->bytes + text->length, bytes, length);
    text->length += length;
    text->bytes[text->length] = '\0';
}

/* The next character, fit to be shown; returns the bytes it took. */
static size_t next_shown(const char *bytes, size_t length, uint32_t *character) {
    size_t taken = utf8_decode(bytes, length, character);
    if (*character == '\t')
        *character = ' ';
    else if (utf8_is_control(*character))
        *character = UTF8_REPLACEMENT;
    return taken;
}

static void add_character(struct text *text, uint32_t character) {
    char bytes[4];
    size_t length = utf8_encode(character, bytes);
    size_t before = text->length;
    append_bytes(text, bytes, length, STYLE_ROOM);
    if (text->length > before)
        text->width += utf8_width(character);
}

void text_add_bytes(struct text *text, const char *bytes, size_t length) {
    for (size_t at = 0; at < length;) {
        uint32_t character;
        at += next_shown(bytes + at, length - at, &character);
        add_character(text, character);
    }
}

void text_add(struct text *text, const char *string) {
    text_add_bytes(text, string, strlen(string));
}

void text_add_format(struct text *text, const char *format, ...) {
    char plain[TEXT_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(plain, sizeof plain, format, arguments);
    va_end(arguments);
    text_add(text, plain);
}

static int width_of(const char *bytes, size_t length) {
    int width = 0;
    for (size_t at = 0; at < length && width <= INT16_MAX;) {
        uint32_t character;
        at += next_shown(bytes + at, length - at, &character);
        width += utf8_width(character);
    }
    return width;
}

int text_width(const char *string) {
    return width_of(string, strlen(string));
}

void text_add_cut(struct text *text, const char *string, size_t length, int columns) {
    if (width_of(string, length) <= columns) {
        text_add_bytes(text, string, length);
        return;
    }
    int end = text->width + columns - 1;
    for (size_t at = 0; at < length;) {
        uint32_t character;
        at += next_shown(string + at, length - at, &character);
        if (text->width + utf8_width(character) > end)
            break;
        add_character(text, character);
    }
    if (columns > 0)
        text_add(text, "…");
}

void text_add_style(struct text *text, const char *sequence) {
    append_bytes(text, sequence, strlen(sequence), 0);
}

void text_pad(struct text *text, int width) {
    while (text->width < width) {
        size_t before = text->length;
        add_character(text, ' ');
        if (text->length == before)
            return;
    }
}

void text_add_right(struct text *text, const char *string, int width) {
    text_pad(text, width - text_width(string));
    text_add(text, string);
}

void clock_text(double seconds, char buffer[CLOCK_SIZE]) {
    long whole = (long)seconds;
    if (seconds > (double)whole)
        whole++;
    snprintf(buffer, CLOCK_SIZE, "%ld:%02ld", whole / 60, whole % 60);
}

const char *plural(uint64_t count) {
    return count == 1 ? "" : "s";
}

const char *ordinal_ending(size_t number) {
    static const char *const endings[] = {"th", "st", "nd", "rd"};
    size_t last = number % 10;
    return number / 10 % 10 == 1 || last > 3 ? "th" : endings[last];
}

void percent_text(double probability, bool certain, char *buffer) {
    double percent = probability * 100;
    if (percent <= 0)
        snprintf(buffer, PERCENT_SIZE, "0%%");
    else if (certain)
        snprintf(buffer, PERCENT_SIZE, "100%%");
    else if (percent >= 99.95)
        snprintf(buffer, PERCENT_SIZE, ">99.9%%");
    else if (percent >= 0.95)
        snprintf(buffer, PERCENT_SIZE, "%.1f%%", percent);
    else if (percent >= 0.0095)
        snprintf(buffer, PERCENT_SIZE, percent >= 0.095 ? "%.2f%%" : "%.3f%%", percent);
    else
        snprintf(buffer, PERCENT_SIZE, "<0.01%%");
}
