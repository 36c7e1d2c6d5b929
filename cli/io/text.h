/* A line of text that knows how many columns it takes. */
#ifndef CLI_IO_TEXT_H
#define CLI_IO_TEXT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define LINE_WIDTH 80 /* columns of every line meant for people */

#define TEXT_SIZE 4096

/* Always ends in a zero byte. What does not fit is left out, which takes a
 * line of more than a thousand characters. */
struct text {
    size_t length; /* bytes */
    int width;     /* columns */
    char bytes[TEXT_SIZE];
};

void text_clear(struct text *text);

/* Adds UTF-8 text. Control characters and what is not UTF-8 become U+FFFD, so
 * that no name or label can play tricks on a terminal. */
void text_add(struct text *text, const char *string);
void text_add_bytes(struct text *text, const char *bytes, size_t length);
void text_add_format(struct text *text, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Adds at most `columns` columns of `string`; where more was cut off, the last
 * of them is an ellipsis. */
void text_add_cut(struct text *text, const char *string, size_t length, int columns);

/* Adds an escape sequence, which takes no column. */
void text_add_style(struct text *text, const char *sequence);

/* Adds spaces up to a width. */
void text_pad(struct text *text, int width);

/* Adds `string` so that it ends in column `width`. */
void text_add_right(struct text *text, const char *string, int width);

/* Columns of a text as text_add would write it. */
int text_width(const char *string);

/* Minutes and seconds, such as 1:40. Rounded up, so that a time past a limit does
 * not look like the limit. */
#define CLOCK_SIZE 24
void clock_text(double seconds, char buffer[CLOCK_SIZE]);

/* The ending of a word for so many things: "" for one, else "s". */
const char *plural(uint64_t count);

/* What follows the digits of an ordinal number: "nd" for 2, "th" for 12. */
const char *ordinal_ending(size_t number);

/* A probability as a percentage. Rounding never makes it look like none, or,
 * unless `certain`, like certainty. `buffer` has PERCENT_SIZE bytes. */
#define PERCENT_SIZE 16
void percent_text(double probability, bool certain, char *buffer);

#endif
