/* Standard output, every failure of which is noticed: a full disk, a reader
 * that has gone away, a descriptor that is closed. A thread may have what it
 * writes held back on a page. */
#ifndef CLI_IO_OUTPUT_H
#define CLI_IO_OUTPUT_H

#include "io/page.h"

#include <stdbool.h>
#include <stddef.h>

/* Called once, before anything is written. From then on writing to a pipe that
 * nobody reads any more is an error like any other: work ends in order, and
 * output_finish ends the process. */
void output_start(void);

void output_bytes(const char *bytes, size_t length);
void output_text(const char *text);

/* Room for `most` bytes, at most OUTPUT_ROOM_MAX, to be written straight into:
 * output_wrote then says how many there are. */
#define OUTPUT_ROOM_MAX 4096u
char *output_room(size_t most);
void output_wrote(size_t length);

/* Less than OUTPUT_FORMAT_SIZE bytes; the rest is cut off. */
#define OUTPUT_FORMAT_SIZE 8192
void output_format(const char *format, ...) __attribute__((format(printf, 1, 2)));

/* The same on standard error, behind what was written to standard output
 * before, where both go to one terminal. */
void output_error(const char *text);

/* From now on this thread writes to `page`, or, with NULL, at once. */
void output_to(struct page *page);

/* Writes what a page holds and hands it to the system; output_page_first
 * leaves out the first byte for standard output. False once anything was
 * lost. */
bool output_page(const struct page *page);
bool output_page_first(const struct page *page);

/* Hands everything written so far to the system. False once anything was lost:
 * there is no use in going on. */
bool output_flush(void);

/* Closes the output. Returns `status`, or, when anything was lost, STATUS_OUTPUT
 * with a message on standard error. Where the reader of a pipe has gone it does
 * not return but ends the process by SIGPIPE, unless the parent of the program
 * had that signal ignored. Where a signal stopped the program it returns
 * STATUS_STOPPED. */
int output_finish(int status);

#endif
