/* Text after a pattern, for what the library's messages need of printf. */
#ifndef NH_WASM_LIBC_FORMAT_H
#define NH_WASM_LIBC_FORMAT_H

#include <stdarg.h>
#include <stddef.h>

/* As vsnprintf, for %d, %u, %zu, %c, %s with or without a precision, and %%; anything else
 * ends the program by a trap. */
int format_text(char *buffer, size_t size, const char *format, va_list arguments);

#endif
