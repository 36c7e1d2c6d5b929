/* Hands as lines of text: an argument, or the lines of standard input and of
 * files, some at a time. */
#define _POSIX_C_SOURCE 200809L
#include "io/input.h"
#include "system/halt.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* ------------------------------------------------------------- lines --- */

static struct line line_of(const char *text, size_t length, unsigned long number) {
    struct line line = {.number = number, .text = text, .length = length, .tiles_length = length};
    const char *tab = memchr(text, '\t', length);
    if (tab != NULL) {
        line.tiles_length = (size_t)(tab - text);
        line.label = tab + 1;
        line.label_length = length - line.tiles_length - 1;
    }
    return line;
}

struct line line_of_argument(const char *text) {
    return line_of(text, strlen(text), 1);
}

static bool is_blank(const char *text, size_t length) {
    for (size_t i = 0; i < length; i++)
        if (strchr(" \t\v\f\r", text[i]) == NULL || text[i] == '\0')
            return false;
    return true;
}

/* Room for lines that come to INPUT_LINE_MAX, and one more of any length. */
static bool lines_start(struct lines *lines) {
    lines->count = 0;
    lines->length = 0;
    if (lines->bytes == NULL)
        lines->bytes = malloc((size_t)2 * INPUT_LINE_MAX);
    return lines->bytes != NULL;
}

static bool lines_full(const struct lines *lines) {
    return lines->count == LINES_MAX || lines->length > INPUT_LINE_MAX;
}

void lines_free(struct lines *lines) {
    free(lines->bytes);
    lines->bytes = NULL;
}

/* ----------------------------------------------------------- sources --- */

static bool is_standard_input(const char *name) {
    return strcmp(name, "-") == 0;
}

const char *input_source(const struct input *input) {
    const char *name = input->names[input->at];
    return is_standard_input(name) ? "standard input" : name;
}

static enum input_result source_failed(struct input *input) {
    input->error = errno;
    return INPUT_FAILED;
}

static enum input_result open_source(struct input *input) {
    const char *name = input->names[input->at];
    input->descriptor = is_standard_input(name) ? STDIN_FILENO : open(name, O_RDONLY | O_CLOEXEC);
    if (input->descriptor < 0)
        return source_failed(input);
    input->open = true;
    input->ended = false;
    input->skipping = false;
    input->number = 0;
    return INPUT_MORE;
}

static void close_source(struct input *input) {
    if (input->open && input->descriptor != STDIN_FILENO)
        close(input->descriptor);
    input->open = false;
}

void input_free(struct input *input) {
    close_source(input);
    free(input->buffer);
    input->buffer = NULL;
}

/* ----------------------------------------------------------- reading --- */

/* INPUT_MORE when there is something to be read. */
static enum input_result await(const struct input *input, bool wait) {
    struct pollfd polled[2] = {{.fd = input->descriptor, .events = POLLIN},
                               {.fd = halt_descriptor(), .events = POLLIN}};
    for (;;) {
        int ready = poll(polled, 2, wait ? -1 : 0);
        if (halted())
            return INPUT_STOPPED;
        if (ready > 0 && polled[0].revents != 0)
            return INPUT_MORE;
        if (ready < 0 && errno != EINTR)
            return INPUT_MORE; /* reading tells what is wrong */
        if (ready == 0)
            return INPUT_DRY;
    }
}

/* Reads on, in this source or the next one. What is left in the buffer is less
 * than a line, so that there is room. */
static enum input_result refill(struct input *input, bool wait) {
    if (input->open && input->ended) {
        close_source(input);
        input->at++;
    }
    if (!input->open && input->at == input->count)
        return INPUT_END;
    if (!input->open)
        return open_source(input);
    enum input_result result = await(input, wait);
    if (result != INPUT_MORE)
        return result;
    memmove(input->buffer, input->buffer + input->begin, input->end - input->begin);
    input->end -= input->begin;
    input->begin = 0;
    ssize_t count =
        read(input->descriptor, input->buffer + input->end, 2 * INPUT_LINE_MAX - input->end);
    if (count < 0)
        return errno == EINTR || errno == EAGAIN ? INPUT_MORE : source_failed(input);
    input->ended = count == 0;
    input->end += (size_t)count;
    return INPUT_MORE;
}

/* ------------------------------------------------------ line by line --- */

/* Passes over the rest of a line that is too long; false when its end is not
 * there yet. */
static bool skip_rest(struct input *input) {
    const char *start = input->buffer + input->begin;
    const char *newline = memchr(start, '\n', input->end - input->begin);
    input->begin = newline == NULL ? input->end : input->begin + (size_t)(newline - start) + 1;
    input->skipping = newline == NULL;
    return newline != NULL;
}

/* Takes a whole line out of the buffer, or the beginning of one that is too
 * long; false when there is none yet. */
static bool cut_line(struct input *input, const char **text, size_t *length) {
    if (input->skipping && !skip_rest(input))
        return false;
    const char *start = input->buffer + input->begin;
    size_t left = input->end - input->begin;
    size_t most = left > INPUT_LINE_MAX ? INPUT_LINE_MAX + 1 : left;
    const char *newline = memchr(start, '\n', most);
    input->skipping = newline == NULL && left > INPUT_LINE_MAX;
    if (newline == NULL && !input->skipping && !(input->ended && left > 0))
        return false;
    *text = start;
    *length = newline != NULL ? (size_t)(newline - start) : input->skipping ? INPUT_LINE_MAX : left;
    input->begin += *length + (newline != NULL);
    input->number++;
    return true;
}

/* The byte order mark that some editors put before the first line. */
static size_t mark_before(const struct input *input, const char *text, size_t length) {
    return input->number == 1 && length >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
}

static void add_line(struct input *input, struct lines *lines, const char *text, size_t length) {
    size_t skip = mark_before(input, text, length);
    text += skip;
    length -= skip;
    if (!input->skipping && length > 0 && text[length - 1] == '\r')
        length--;
    bool remark = length > 0 && text[0] == '#';
    if (remark || (!input->skipping && is_blank(text, length)))
        return;
    char *copy = lines->bytes + lines->length;
    memcpy(copy, text, length);
    lines->length += length;
    struct line *line = &lines->line[lines->count++];
    *line = line_of(copy, length, input->number);
    line->too_long = input->skipping;
    line->source = input->count > 1 ? input_source(input) : NULL;
}

enum input_result input_read(struct input *input, struct lines *lines) {
    if (input->buffer == NULL)
        input->buffer = malloc((size_t)2 * INPUT_LINE_MAX);
    if (!lines_start(lines) || input->buffer == NULL)
        return source_failed(input);
    for (;;) {
        const char *text;
        size_t length;
        while (!lines_full(lines) && input->open && cut_line(input, &text, &length))
            add_line(input, lines, text, length);
        if (lines_full(lines))
            return INPUT_MORE;
        enum input_result result = refill(input, lines->count == 0);
        if (result != INPUT_MORE)
            return result;
    }
}
