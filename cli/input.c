/* Hands as lines of text: an argument, or standard input line by line. */
#define _POSIX_C_SOURCE 200809L
#include "input.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

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

static bool keep(struct input *input, size_t at, int byte) {
    if (at == input->capacity) {
        size_t capacity = input->capacity == 0 ? 256 : 2 * input->capacity;
        char *buffer = realloc(input->buffer, capacity);
        if (buffer == NULL)
            return false;
        input->buffer = buffer;
        input->capacity = capacity;
    }
    input->buffer[at] = (char)byte;
    return true;
}

/* Reads up to the end of the line. Of a line that is too long the rest is
 * passed over, so that the next one is read from its beginning. */
static enum input_result read_line(struct input *input, size_t *length, bool *too_long) {
    int byte;
    *length = 0;
    *too_long = false;
    errno = 0;
    while ((byte = getc_unlocked(input->file)) != EOF && byte != '\n') {
        if (*length == INPUT_LINE_MAX)
            *too_long = true;
        else if (!keep(input, (*length)++, byte))
            return INPUT_FAILED;
    }
    if (ferror(input->file))
        return INPUT_FAILED;
    if (byte == EOF && *length == 0)
        return INPUT_END;
    input->number++;
    return keep(input, *length, '\0') ? INPUT_LINE : INPUT_FAILED;
}

/* The byte order mark that some editors put before the first line. */
static size_t mark_before(const struct input *input, size_t length) {
    return input->number == 1 && length >= 3 && memcmp(input->buffer, "\xEF\xBB\xBF", 3) == 0 ? 3
                                                                                              : 0;
}

static bool is_blank(const char *text, size_t length) {
    for (size_t i = 0; i < length; i++)
        if (strchr(" \t\v\f\r", text[i]) == NULL || text[i] == '\0')
            return false;
    return true;
}

enum input_result input_next(struct input *input, struct line *line) {
    for (;;) {
        size_t length;
        bool too_long;
        enum input_result result = read_line(input, &length, &too_long);
        if (result != INPUT_LINE)
            return result;
        size_t skip = mark_before(input, length);
        const char *text = input->buffer + skip;
        length -= skip;
        if (!too_long && length > 0 && text[length - 1] == '\r')
            length--;
        bool remark = length > 0 && text[0] == '#';
        if (remark || (!too_long && is_blank(text, length)))
            continue;
        *line = line_of(text, length, input->number);
        line->too_long = too_long;
        return INPUT_LINE;
    }
}

void input_free(struct input *input) {
    free(input->buffer);
    input->buffer = NULL;
    input->capacity = 0;
}
