/* Standard output, every failure of which is noticed: a full disk, a reader
 * that has gone away, a descriptor that is closed. */
#include "output.h"
#include "message.h"
#include "task.h"

#include <errno.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* errno of the first failure, 0 while all is well. */
static int failure;

static void note_failure(bool failed) {
    if (failed && failure == 0)
        failure = errno != 0 ? errno : EIO;
}

void output_start(void) {
    signal(SIGPIPE, SIG_IGN);
}

void output_bytes(const char *bytes, size_t length) {
    errno = 0;
    note_failure(fwrite(bytes, 1, length, stdout) != length);
}

void output_text(const char *text) {
    output_bytes(text, strlen(text));
}

void output_format(const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    errno = 0;
    note_failure(vprintf(format, arguments) < 0);
    va_end(arguments);
}

bool output_flush(void) {
    errno = 0;
    note_failure(fflush(stdout) != 0);
    return failure == 0;
}

int output_finish(int status) {
    output_flush();
    errno = 0;
    /* Some file systems tell only now that there was no room. */
    note_failure(fclose(stdout) != 0);
    if (failure == 0)
        return status;
    complain("the output could not be written in full: %s", strerror(failure));
    return STATUS_OUTPUT;
}
