/* Standard output, every failure of which is noticed: a full disk, a reader
 * that has gone away, a descriptor that is closed. */
#ifndef CLI_OUTPUT_H
#define CLI_OUTPUT_H

#include <stdbool.h>
#include <stddef.h>

/* Called once, before anything is written. A closed pipe then is an error like
 * any other instead of the end of the process. */
void output_start(void);

void output_bytes(const char *bytes, size_t length);
void output_text(const char *text);
void output_format(const char *format, ...) __attribute__((format(printf, 1, 2)));

/* Hands everything written so far to the system. False once anything was lost:
 * there is no use in going on. */
bool output_flush(void);

/* Closes the output. Returns `status`, or STATUS_OUTPUT with a message on
 * standard error when anything was lost. */
int output_finish(int status);

#endif
