/* UTF-8 text, character by character, and the columns that characters take. */
#ifndef CLI_IO_UTF8_H
#define CLI_IO_UTF8_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Stands for what is not a character. */
#define UTF8_REPLACEMENT 0xFFFDu

/* Decodes the first character of `length` >= 1 bytes and returns the bytes it
 * took. Where the text is not UTF-8 that is 1, and the character
 * UTF8_REPLACEMENT. */
size_t utf8_decode(const char *text, size_t length, uint32_t *character);

/* Encodes a character in at most 4 bytes; returns how many. */
size_t utf8_encode(uint32_t character, char bytes[4]);

/* Whether a character moves the cursor, breaks the line or turns the direction of
 * writing. */
bool utf8_is_control(uint32_t character);

/* Columns on a terminal: 0 for a combining mark, 2 for a wide character, else
 * 1. By the properties General_Category and East_Asian_Width of the Unicode
 * Standard, by blocks rather than by single characters: where a block is mixed
 * it counts as wide, so that no line comes out longer than was counted. */
int utf8_width(uint32_t character);

#endif
