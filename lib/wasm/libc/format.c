/* Text after a pattern: what the library's messages need of printf, which in full would be a
 * tenth of the module. */
#include "wasm/libc/format.h"

#include <stdint.h>
#include <string.h>

struct formatted {
    char *buffer;
    size_t room, length; /* the length that the text has in a buffer that is large enough */
    va_list arguments;
};

static void append_part(struct formatted *formatted, const char *text, size_t length) {
    for (size_t i = 0; i < length; i++, formatted->length++)
        if (formatted->length < formatted->room)
            formatted->buffer[formatted->length] = text[i];
}

static void append_byte(struct formatted *formatted, int value) {
    const char byte = (char)value;
    append_part(formatted, &byte, 1);
}

static void append_whole(struct formatted *formatted, size_t value) {
    char digits[24];
    size_t at = sizeof digits;
    do
        digits[--at] = (char)('0' + value % 10);
    while ((value /= 10) > 0);
    append_part(formatted, digits + at, sizeof digits - at);
}

static void append_signed(struct formatted *formatted, int value) {
    if (value < 0)
        append_part(formatted, "-", 1);
    append_whole(formatted, value < 0 ? 0u - (unsigned)value : (unsigned)value);
}

static void append_string(struct formatted *formatted, const char *text, size_t most) {
    size_t length = 0;
    while (length < most && text[length] != '\0')
        length++;
    append_part(formatted, text, length);
}

/* The most bytes of a text that a conversion writes, which ".N" or ".*" says. */
static size_t read_precision(struct formatted *formatted, const char **format) {
    size_t most = 0;
    if (**format != '.')
        return SIZE_MAX;
    ++*format;
    if (**format == '*') {
        ++*format;
        return (size_t)va_arg(formatted->arguments, int);
    }
    for (; **format >= '0' && **format <= '9'; ++*format)
        most = most * 10 + (size_t)(**format - '0');
    return most;
}

/* Writes what stands behind a '%', and returns where it ends. */
static const char *append_converted(struct formatted *formatted, const char *format) {
    size_t most = read_precision(formatted, &format);
    switch (*format) {
    case 'd':
        append_signed(formatted, va_arg(formatted->arguments, int));
        break;
    case 'u':
        append_whole(formatted, va_arg(formatted->arguments, unsigned));
        break;
    case 'z': /* "zu" */
        format++;
        append_whole(formatted, va_arg(formatted->arguments, size_t));
        break;
    case 'c':
        append_byte(formatted, va_arg(formatted->arguments, int));
        break;
    case 's':
        append_string(formatted, va_arg(formatted->arguments, const char *), most);
        break;
    case '%':
        append_part(formatted, format, 1);
        break;
    default:
        __builtin_trap();
    }
    return format + 1;
}

int format_text(char *buffer, size_t size, const char *format, va_list arguments) {
    struct formatted formatted = {.buffer = buffer, .room = size > 0 ? size - 1 : 0};
    va_copy(formatted.arguments, arguments);
    while (*format != '\0') {
        if (*format == '%')
            format = append_converted(&formatted, format + 1);
        else
            append_part(&formatted, format++, 1);
    }
    va_end(formatted.arguments);
    if (size > 0)
        buffer[formatted.length < formatted.room ? formatted.length : formatted.room] = '\0';
    return (int)formatted.length;
}
