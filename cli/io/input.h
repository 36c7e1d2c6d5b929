/* Hands as lines of text: an argument, or the lines of standard input and of
 * files, some at a time. */
#ifndef CLI_IO_INPUT_H
#define CLI_IO_INPUT_H

#include <stdbool.h>
#include <stddef.h>

#define INPUT_LINE_MAX 65536u /* bytes of a line */
#define LINES_MAX 64u         /* lines that are taken together */

/* A hand and, after a tab, its label. The texts do not end in a zero byte. */
struct line {
    const char *source;   /* the file's name where several are read, else NULL */
    unsigned long number; /* in its source, from 1 */
    const char *text;     /* all of it, without the end of the line */
    size_t length;
    size_t tiles_length; /* bytes before the tab */
    const char *label;   /* NULL without a tab */
    size_t label_length;
    bool too_long; /* `text` is only the first INPUT_LINE_MAX bytes */
};

/* The line that a hand given as an argument stands for. */
struct line line_of_argument(const char *text);

/* Lines that are answered together, with their texts. Start from {0}. */
struct lines {
    struct line line[LINES_MAX];
    size_t count;
    char *bytes;
    size_t length;
};

void lines_free(struct lines *lines);

/* What is read. `names` are files, "-" for standard input. Start from
 * {.names = ..., .count = ...}. */
struct input {
    const char *const *names;
    size_t count;
    size_t at; /* the file that is read, or comes next */
    bool open, ended;
    int descriptor;
    unsigned long number; /* lines so far, of this file */
    char *buffer;
    size_t begin, end; /* what of the buffer was read but not yet taken */
    bool skipping;     /* the rest of a line that is too long */
    int error;         /* errno of what failed */
};

enum input_result {
    INPUT_MORE,    /* there was no room for more lines */
    INPUT_DRY,     /* no more are there yet */
    INPUT_END,     /* no more will come */
    INPUT_STOPPED, /* a stop was asked for (halt.h) */
    INPUT_FAILED   /* the source could not be read: see input_source, error */
};

/* The next lines that are neither blank nor remarks (#). Waits for the first,
 * but for no other, so a program that writes hands one by one gets each answer. Any
 * result may come with lines. */
enum input_result input_read(struct input *input, struct lines *lines);

/* How the source that is read is called in messages. */
const char *input_source(const struct input *input);

void input_free(struct input *input);

#endif
