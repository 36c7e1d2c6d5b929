/* Standard output, every failure of which is noticed: a full disk, a reader
 * that has gone away, a descriptor that is closed. A thread may have what it
 * writes held back on a page. */
#define _POSIX_C_SOURCE 200809L
#include "io/output.h"
#include "io/descriptor.h"
#include "io/message.h"
#include "task.h"

#include <errno.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

/* errno of the first failure, 0 while all is well. Threads that hold their
 * output back on pages never touch it. */
static int failure;

static _Thread_local struct page *held;

static void note_failure(bool failed) {
    if (failed && failure == 0)
        failure = errno != 0 ? errno : EIO;
}

void output_start(void) {
    descriptors_fill();
    signal(SIGPIPE, SIG_IGN);
}

void output_to(struct page *page) {
    held = page;
}

static void write_out(const char *bytes, size_t length) {
    errno = 0;
    note_failure(fwrite(bytes, 1, length, stdout) != length);
}

void output_bytes(const char *bytes, size_t length) {
    if (held != NULL)
        page_add(held, false, bytes, length);
    else
        write_out(bytes, length);
}

void output_text(const char *text) {
    output_bytes(text, strlen(text));
}

void output_format(const char *format, ...) {
    char text[OUTPUT_FORMAT_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    output_text(text);
}

void output_error(const char *text) {
    if (held != NULL) {
        page_add(held, true, text, strlen(text));
        return;
    }
    output_flush();
    fputs(text, stderr);
}

static bool write_page(const struct page *page, size_t skip) {
    size_t at = 0;
    for (size_t i = 0; i < page->part_count; i++) {
        const struct page_part *part = &page->parts[i];
        if (part->error) {
            output_flush();
            fwrite(page->bytes + at, 1, part->end - at, stderr);
        } else {
            write_out(page->bytes + at + skip, part->end - at - skip);
            skip = 0;
        }
        at = part->end;
    }
    errno = ENOMEM;
    note_failure(page->failed);
    return output_flush();
}

bool output_page(const struct page *page) {
    return write_page(page, 0);
}

bool output_page_first(const struct page *page) {
    return write_page(page, 1);
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
