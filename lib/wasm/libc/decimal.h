/* Doubles from digits and as digits, rounded correctly. */
#ifndef NH_WASM_LIBC_DECIMAL_H
#define NH_WASM_LIBC_DECIMAL_H

#include <stddef.h>

/* Reads the number at the start of a text as JSON writes numbers, of any length: the double
 * that is nearest, the even one of two; infinity where the number is too large. `end` is where
 * the number ends, or `text` where there is none. */
double decimal_read(const char *text, const char **end);

/* Writes a finite number with 17 digits, less the zeros at the end, as "%.17g" of printf does:
 * they read back as the same double. `buffer` has DECIMAL_SIZE bytes. */
#define DECIMAL_SIZE 32
void decimal_write(double number, char *buffer);

#endif
