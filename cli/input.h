/* Hands as lines of text: an argument, or standard input line by line. */
#ifndef CLI_INPUT_H
#define CLI_INPUT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#define INPUT_LINE_MAX 65536u /* bytes of a line */

/* A hand and, behind a tab, its label. The texts are not ended by a zero byte
 * and last until the next line is read. */
struct line {
    unsigned long number; /* from 1 */
    const char *text;     /* all of it, without the end of the line */
    size_t length;
    size_t tiles_length; /* bytes before the tab */
    const char *label;   /* NULL without a tab */
    size_t label_length;
    bool too_long; /* `text` is only the first INPUT_LINE_MAX bytes */
};

/* The line that a hand given as an argument stands for. */
struct line line_of_argument(const char *text);

struct input {
    FILE *file;
    unsigned long number;
    char *buffer;
    size_t capacity;
};

enum input_result { INPUT_LINE, INPUT_END, INPUT_FAILED };

/* The next line that is neither blank nor a remark (#). INPUT_FAILED leaves
 * the reason in errno. */
enum input_result input_next(struct input *input, struct line *line);

void input_free(struct input *input);

#endif
