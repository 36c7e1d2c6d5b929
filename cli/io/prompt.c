/* Lines that a player types in answer to questions, and how long each took. */
#define _POSIX_C_SOURCE 200809L
#include "io/prompt.h"
#include "io/flow.h"
#include "io/halt.h"
#include "io/output.h"
#include "io/text.h"

#include <errno.h>
#include <poll.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

double prompt_start(void) {
    struct timespec now = {0, 0};
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

double prompt_seconds(const struct prompt *prompt, double start) {
    return prompt->fixed >= 0 ? (double)prompt->fixed : prompt_start() - start;
}

/* Waits for more input; false when none will come. */
static bool fill(struct prompt *prompt) {
    struct pollfd awaited[2] = {{STDIN_FILENO, POLLIN, 0}, {halt_descriptor(), POLLIN, 0}};
    ssize_t length = -1;
    do {
        if (halted())
            return false;
        if (poll(awaited, 2, -1) < 0 || (awaited[1].revents & POLLIN) != 0)
            continue;
        length = read(STDIN_FILENO, prompt->buffer, sizeof prompt->buffer);
    } while (length < 0 && (errno == EINTR || errno == EAGAIN));
    prompt->begin = 0;
    prompt->end = length > 0 ? (size_t)length : 0;
    return length > 0;
}

static bool next_byte(struct prompt *prompt, char *byte) {
    if (prompt->begin == prompt->end && (prompt->ended || !fill(prompt))) {
        prompt->ended = true;
        return false;
    }
    *byte = prompt->buffer[prompt->begin++];
    return true;
}

/* The next line and its full length, of which no more than fits is kept. */
static bool read_line(struct prompt *prompt, char line[PROMPT_LINE_SIZE], size_t *length) {
    char byte = '\0';
    bool any = false;
    *length = 0;
    while (next_byte(prompt, &byte)) {
        any = true;
        if (byte == '\n')
            break;
        if (*length < PROMPT_LINE_SIZE - 1)
            line[*length] = byte == '\0' ? '?' : byte;
        *length += 1;
    }
    line[*length < PROMPT_LINE_SIZE ? *length : PROMPT_LINE_SIZE - 1] = '\0';
    return any && !halted();
}

static void trim(char *line) {
    size_t first = strspn(line, " \t\r");
    size_t length = strlen(line + first);
    memmove(line, line + first, length + 1);
    while (length > 0 && strchr(" \t\r", line[length - 1]) != NULL)
        line[--length] = '\0';
}

static void echo(const char *line) {
    struct text text;
    text_clear(&text);
    text_add(&text, line);
    text_print(&text);
}

bool prompt_ask(struct prompt *prompt, const char *question, char line[PROMPT_LINE_SIZE]) {
    size_t length;
    for (;;) {
        output_format("%s > ", question);
        if (!output_flush() || !read_line(prompt, line, &length)) {
            output_text("\n");
            return false;
        }
        trim(line);
        if (!isatty(STDIN_FILENO))
            echo(line);
        if (length < PROMPT_LINE_SIZE)
            return true;
        output_format("  That is too long: at most %d characters.\n", PROMPT_LINE_SIZE - 1);
    }
}
