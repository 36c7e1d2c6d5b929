/* Doubles as text. */
#ifndef CLI_NUMBERS_DOUBLE_TEXT_H
#define CLI_NUMBERS_DOUBLE_TEXT_H

#include <stddef.h>

/* Writes a finite number with the fewest of 15, 16 or 17 digits that read back as the same
 * double, as "%.15g", "%.16g" or "%.17g" of printf writes them. `buffer` has
 * DOUBLE_TEXT_SIZE bytes. Returns the length of the text. */
#define DOUBLE_TEXT_SIZE 32
size_t double_text(double number, char *buffer);

#endif
