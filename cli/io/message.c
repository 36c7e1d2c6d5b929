/* Messages on standard error, headed by the name of the program or task. */
#include "io/message.h"
#include "io/text.h"
#include "nearhand.h"
#include "task.h"

#include <stdarg.h>
#include <stdio.h>

static const char *speaker = "nearhand";

void complain_as(const char *name) {
    speaker = name;
}

static void say(const char *format, va_list arguments) {
    char plain[TEXT_SIZE];
    vsnprintf(plain, sizeof plain, format, arguments);
    struct text text;
    text_clear(&text);
    text_add(&text, plain);
    fprintf(stderr, "%s: %s\n", speaker, text.bytes);
}

void complain(const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    say(format, arguments);
    va_end(arguments);
}

int misused(const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    say(format, arguments);
    va_end(arguments);
    return misused_option();
}

int misused_option(void) {
    fprintf(stderr, "(%s --help shows how it works)\n", speaker);
    return STATUS_USAGE;
}

bool short_of_memory(void) {
    complain("%s", nh_status_text(NH_ERROR_MEMORY));
    return false;
}
