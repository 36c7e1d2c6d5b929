/* Telling of a line that could not be read, in its place among the answers. */
#ifndef CLI_IO_UNREAD_H
#define CLI_IO_UNREAD_H

#include "io/input.h"
#include "nearhand.h"

/* One JSON object on standard output. */
void unread_json(const struct line *line, const nh_error *error);

/* On standard error: the line, a caret below the place, and the sentence,
 * headed by the number of the line if `numbered`. */
void unread_text(const struct line *line, const nh_error *error, bool numbered);

/* The line and the caret alone; no caret where `column` is 0. */
void unread_show(const struct line *line, uint32_t column);

#endif
