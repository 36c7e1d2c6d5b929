/* Messages on standard error, headed by the name of the program or task. */
#include "io/message.h"
#include "io/text.h"
#include "nearhand.h"
#include "system/descriptor.h"
#include "task.h"

#include <stdarg.h>
#include <stdio.h>

static const char *speaker = "nearhand";

void complain_as(const char *name) {
    speaker = name;
}

static void write_message(const char *format, va_list arguments) {
    char plain[TEXT_SIZE];
    struct text line;
    vsnprintf(plain, sizeof plain, format, arguments);
    text_clear(&line);
    text_add(&line, speaker);
    text_add(&line, ": ");
    text_add(&line, plain);
    text_add_style(&line, "\n");
    error_write(line.bytes, line.length);
}

void complain(const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    write_message(format, arguments);
    va_end(arguments);
}

int misused(const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    write_message(format, arguments);
    va_end(arguments);
    return misused_option();
}

int misused_option(void) {
    char line[128];
    int length = snprintf(line, sizeof line, "(%s --help shows how it works)\n", speaker);
    error_write(line, (size_t)length);
    return STATUS_USAGE;
}

bool short_of_memory(void) {
    complain("%s", nh_status_text(NH_ERROR_MEMORY));
    return false;
}
