/* Standard output, every failure of which is noticed: a full disk, a reader that
 * has gone away, a descriptor that is closed. A thread may have what it writes
 * held back on a page. */
#define _POSIX_C_SOURCE 200809L
#include "io/output.h"
#include "io/message.h"
#include "system/descriptor.h"
#include "system/halt.h"
#include "task.h"

#include <errno.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#define BUFFER_SIZE 65536u

/* errno of the first failure, 0 while all is well; nothing is written after it,
 * so that what was written is the beginning. Threads that hold their output back
 * on pages touch none of this. */
static int failure;
static char buffer[BUFFER_SIZE];
static size_t buffered;
static bool by_lines;     /* a terminal shows each line when it is whole */
static bool pipe_ignored; /* by the program that started this one */

static _Thread_local struct page *held;

/* Where bytes go that a page has no memory for: its failure is noticed later. */
static _Thread_local char lost[OUTPUT_ROOM_MAX];

void output_start(void) {
    struct sigaction before;
    descriptors_fill();
    by_lines = isatty(STDOUT_FILENO);
    pipe_ignored = sigaction(SIGPIPE, NULL, &before) == 0 && before.sa_handler == SIG_IGN;
    signal(SIGPIPE, SIG_IGN);
}

void output_to(struct page *page) {
    held = page;
}

bool output_flush(void) {
    if (failure == 0)
        failure = descriptor_write(STDOUT_FILENO, buffer, buffered);
    buffered = 0;
    return failure == 0;
}

static void write_out(const char *bytes, size_t length) {
    if (length > BUFFER_SIZE - buffered)
        output_flush();
    if (length > BUFFER_SIZE) {
        if (failure == 0)
            failure = descriptor_write(STDOUT_FILENO, bytes, length);
        return;
    }
    memcpy(buffer + buffered, bytes, length);
    buffered += length;
    if (by_lines && memchr(bytes, '\n', length) != NULL)
        output_flush();
}

void output_bytes(const char *bytes, size_t length) {
    if (held != NULL)
        page_add(held, false, bytes, length);
    else
        write_out(bytes, length);
}

char *output_room(size_t most) {
    if (held == NULL) {
        if (most > BUFFER_SIZE - buffered)
            output_flush();
        return buffer + buffered;
    }
    char *room = page_room(held, most);
    return room != NULL ? room : lost;
}

void output_wrote(size_t length) {
    if (held != NULL) {
        if (!held->failed)
            page_wrote(held, length);
        return;
    }
    const char *bytes = buffer + buffered;
    buffered += length;
    if (by_lines && memchr(bytes, '\n', length) != NULL)
        output_flush();
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
    error_write(text, strlen(text));
}

static bool write_page(const struct page *page, size_t skip) {
    size_t at = 0;
    for (size_t i = 0; i < page->part_count; i++) {
        const struct page_part *part = &page->parts[i];
        if (part->error) {
            output_flush();
            error_write(page->bytes + at, part->end - at);
        } else {
            write_out(page->bytes + at + skip, part->end - at - skip);
            skip = 0;
        }
        at = part->end;
    }
    if (page->failed && failure == 0)
        failure = ENOMEM;
    return output_flush();
}

bool output_page(const struct page *page) {
    return write_page(page, 0);
}

bool output_page_first(const struct page *page) {
    return write_page(page, 1);
}

/* ---------------------------------------------------------- the end --- */

/* Ends as a filter does whose reader has gone: by SIGPIPE, in silence. */
static void end_by_pipe_signal(void) {
    sigset_t alone;
    sigemptyset(&alone);
    sigaddset(&alone, SIGPIPE);
    signal(SIGPIPE, SIG_DFL);
    sigprocmask(SIG_UNBLOCK, &alone, NULL);
    raise(SIGPIPE);
}

int output_finish(int status) {
    output_flush();
    /* Some file systems report only now that there was no room. */
    if (close(STDOUT_FILENO) != 0 && failure == 0)
        failure = errno;
    if (failure == 0)
        return status;
    if (failure == EPIPE && halted_by_signal())
        return STATUS_STOPPED;
    if (failure == EPIPE && !pipe_ignored)
        end_by_pipe_signal();
    if (failure == ECANCELED) {
        complain("stopped: nobody reads the output, and its last line may be cut short");
        return STATUS_STOPPED;
    }
    complain("the output could not be written in full: %s", strerror(failure));
    return STATUS_OUTPUT;
}
