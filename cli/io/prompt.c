/* Lines that a player types in answer to questions, and how long each took. */
#define _GNU_SOURCE /* ppoll */
#include "io/prompt.h"
#include "io/flow.h"
#include "io/output.h"
#include "io/text.h"
#include "system/clock.h"
#include "system/halt.h"

#include <errno.h>
#include <poll.h>
#include <signal.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

double prompt_seconds(const struct prompt *prompt, double start) {
    return prompt->fixed >= 0 ? (double)prompt->fixed : clock_seconds() - start;
}

/* ------------------------------------------- a program that was stopped --- */

static volatile sig_atomic_t continued;

static void on_continue(int signal_number) {
    (void)signal_number;
    continued = 1;
}

static void notice_continuing(void) {
    struct sigaction action = {0};
    action.sa_handler = on_continue;
    sigemptyset(&action.sa_mask);
    sigaction(SIGCONT, &action, NULL);
}

/* Holds the signal back but while input is awaited, so that none is missed. `waiting` is
 * the mask for that time, and the one to go back to. */
static void hold_signal(sigset_t *waiting) {
    sigset_t held;
    sigemptyset(&held);
    sigaddset(&held, SIGCONT);
    sigprocmask(SIG_BLOCK, &held, waiting);
}

/* ---------------------------------------------------------------- lines --- */

static bool show(const char *question) {
    output_format("%s > ", question);
    return output_flush();
}

/* Waits for input; false when none will come. What was typed before a stop is gone, so
 * the question is shown again. */
static bool await_input(const struct prompt *prompt, const sigset_t *waiting) {
    struct pollfd awaited[2] = {{STDIN_FILENO, POLLIN, 0}, {halt_descriptor(), POLLIN, 0}};
    while (!halted()) {
        if (continued) {
            continued = 0;
            show(prompt->question);
        }
        if (ppoll(awaited, 2, NULL, waiting) > 0 && awaited[0].revents != 0)
            return true;
    }
    return false;
}

static bool fill_buffer(struct prompt *prompt) {
    sigset_t waiting;
    ssize_t length = -1;
    hold_signal(&waiting);
    do
        length = await_input(prompt, &waiting)
                     ? read(STDIN_FILENO, prompt->buffer, sizeof prompt->buffer)
                     : 0;
    while (length < 0 && (errno == EINTR || errno == EAGAIN));
    sigprocmask(SIG_SETMASK, &waiting, NULL);
    prompt->begin = 0;
    prompt->end = length > 0 ? (size_t)length : 0;
    return length > 0;
}

static bool next_byte(struct prompt *prompt, char *byte) {
    if (prompt->begin == prompt->end && (prompt->ended || !fill_buffer(prompt))) {
        prompt->ended = true;
        return false;
    }
    *byte = prompt->buffer[prompt->begin++];
    return true;
}

/* The next line and its full length, of which no more than fits is kept. */
static bool read_typed_line(struct prompt *prompt, char line[PROMPT_LINE_SIZE], size_t *length) {
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
    prompt->question = question;
    notice_continuing();
    for (;;) {
        continued = 0;
        if (!show(question) || !read_typed_line(prompt, line, &length)) {
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
