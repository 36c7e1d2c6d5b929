/* A history read line by line, in the same little memory however long the file
 * or a line of it is. */
#define _POSIX_C_SOURCE 200809L
#include "history/history_lines.h"
#include "history/history.h"
#include "io/message.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define READ_SIZE (64u << 10) /* bytes read at a time, at least */
#define BUFFER_SIZE (HISTORY_LINE_MAX + READ_SIZE)

static void complain_unread(struct history_lines *lines) {
    complain("%s could not be read: %s", lines->path, strerror(errno));
    lines->failed = true;
}

enum history_state history_open(struct history_lines *lines, const char *path) {
    struct stat status;
    *lines = (struct history_lines){.path = path, .descriptor = -1};
    lines->buffer = malloc(BUFFER_SIZE + 1);
    if (lines->buffer == NULL) {
        short_of_memory();
        return HISTORY_FAILED;
    }
    lines->descriptor = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC);
    if (lines->descriptor < 0 && errno == ENOENT)
        return HISTORY_MISSING;
    if (lines->descriptor < 0 || fstat(lines->descriptor, &status) != 0) {
        complain_unread(lines);
        return HISTORY_FAILED;
    }
    if (!history_is_file(path, &status))
        return HISTORY_FAILED;
    lines->unread = status.st_size;
    return HISTORY_OPEN;
}

void history_close(struct history_lines *lines) {
    free(lines->buffer);
    if (lines->descriptor >= 0)
        close(lines->descriptor);
}

/* Reads on behind the part of a line that is left; false at the end. */
static bool read_more(struct history_lines *lines) {
    memmove(lines->buffer, lines->buffer + lines->begin, lines->end - lines->begin);
    lines->end -= lines->begin;
    lines->begin = 0;
    size_t room = BUFFER_SIZE - lines->end;
    size_t most = lines->unread < (off_t)room ? (size_t)lines->unread : room;
    ssize_t count;
    do
        count = most > 0 ? read(lines->descriptor, lines->buffer + lines->end, most) : 0;
    while (count < 0 && errno == EINTR);
    if (count < 0)
        complain_unread(lines);
    if (count <= 0)
        return false;
    lines->unread -= count;
    lines->end += (size_t)count;
    return true;
}

/* Passes over the rest of a line that is too long. */
static void skip_line(struct history_lines *lines) {
    const char *newline = NULL;
    do {
        char *start = lines->buffer + lines->begin;
        newline = memchr(start, '\n', lines->end - lines->begin);
        lines->begin = newline != NULL ? (size_t)(newline + 1 - lines->buffer) : lines->end;
    } while (newline == NULL && read_more(lines));
    lines->skipping = false;
}

/* The next line, readable or not. */
static bool next_line(struct history_lines *lines, struct line *line) {
    if (lines->skipping)
        skip_line(lines);
    char *newline;
    size_t left;
    bool more = true;
    do {
        left = lines->end - lines->begin;
        newline = memchr(lines->buffer + lines->begin, '\n', left);
    } while (newline == NULL && left <= HISTORY_LINE_MAX && (more = read_more(lines)));
    if (lines->failed || (left == 0 && !more))
        return false;
    char *text = lines->buffer + lines->begin;
    size_t length = newline != NULL ? (size_t)(newline - text) : left;
    bool too_long = length > HISTORY_LINE_MAX;
    lines->skipping = too_long && newline == NULL;
    lines->begin += length + (newline != NULL);
    if (too_long)
        length = HISTORY_LINE_MAX;
    text[length] = '\0';
    *line = (struct line){.source = lines->path,
                          .number = ++lines->number,
                          .text = text,
                          .length = length,
                          .tiles_length = length,
                          .too_long = too_long};
    return true;
}

bool history_next(struct history_lines *lines, struct line *line) {
    while (next_line(lines, line))
        if (line->too_long || strspn(line->text, " \t\r\n") < line->length)
            return true;
    return false;
}
