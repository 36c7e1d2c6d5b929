/* Lines that a player types in answer to questions, and how long each took. */
#ifndef CLI_IO_PROMPT_H
#define CLI_IO_PROMPT_H

#include <stdbool.h>
#include <stddef.h>

#define PROMPT_LINE_SIZE 512 /* bytes of an answer, the zero byte included */

/* Start from {.fixed = ...}. */
struct prompt {
    long fixed;           /* seconds that every decision counts, or -1: as long as it takes */
    const char *question; /* that is asked now */
    bool ended;
    char buffer[4096];
    size_t begin, end;
};

/* Asks, and reads a line without the spaces around it. Where the answers come
 * from no terminal they are written out, so that a transcript reads the same.
 * False at the end of the input, and once a stop was asked for (halt.h). */
bool prompt_ask(struct prompt *prompt, const char *question, char line[PROMPT_LINE_SIZE]);

/* The seconds since `start`, which is of clock_seconds. */
double prompt_seconds(const struct prompt *prompt, double start);

#endif
