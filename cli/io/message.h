/* Messages on standard error, headed by the name of the program or task. */
#ifndef CLI_IO_MESSAGE_H
#define CLI_IO_MESSAGE_H

#include <stdbool.h>

/* Heads the messages from now on; `name` is not copied. */
void complain_as(const char *name);

/* One line, "nearhand: ...". Control characters in it do not reach the terminal. */
void complain(const char *format, ...) __attribute__((format(printf, 1, 2)));

/* A mistake in how the program was called: the message, and where to read on.
 * Returns STATUS_USAGE. */
int misused(const char *format, ...) __attribute__((format(printf, 1, 2)));

/* The second line of misused alone. */
int misused_option(void);

/* Says that memory is short; false. */
bool short_of_memory(void);

#endif
