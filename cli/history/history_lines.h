/* A history read line by line, in the same little memory however long the file
 * or a line of it is. */
#ifndef CLI_HISTORY_HISTORY_LINES_H
#define CLI_HISTORY_HISTORY_LINES_H

#include "io/input.h"

#include <stdbool.h>
#include <stddef.h>
#include <sys/types.h>

/* Bytes of a line. The longest round that a drill writes stays far below. */
#define HISTORY_LINE_MAX (256u << 10)

struct history_lines {
    const char *path;
    int descriptor;
    off_t unread; /* bytes of the file; what is written from now on does not count */
    char *buffer;
    size_t begin, end; /* what of the buffer was read but not yet given out */
    unsigned long number;
    bool skipping; /* the rest of a line that is too long */
    bool failed;   /* with a message */
};

enum history_state { HISTORY_OPEN, HISTORY_MISSING, HISTORY_FAILED };

/* Opens a file. HISTORY_MISSING: there is none of this name, which is no error
 * before the first round, and no line will come; HISTORY_FAILED comes with a
 * message. Never waits: what is not a plain file is refused. Close it in any case. */
enum history_state history_open(struct history_lines *lines, const char *path);

/* The next line that is not blank. Its text, behind which stands a zero byte,
 * lasts until the next call; of a line that is too long it is the beginning.
 * False at the end, and with `failed` when the file cannot be read on. */
bool history_next(struct history_lines *lines, struct line *line);

void history_close(struct history_lines *lines);

#endif
