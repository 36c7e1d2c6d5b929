/* A file that a player names for a picture or a page. What is written takes the
 * place of an old file at once, when it is whole and on the disk: until then the
 * old file is untouched. */
#ifndef CLI_IO_OUTPUT_FILE_H
#define CLI_IO_OUTPUT_FILE_H

#include "io/page.h"

#include <stdbool.h>

/* Whether a file that is to be written is another one than a file that is read,
 * whatever names and links lead to them. False with a message: it would destroy
 * what is read. */
bool output_file_spares(const char *path, const char *input);

/* Whether two files that are to be written are different ones. False with a message. */
bool output_files_differ(const char *path, const char *other);

/* Whether the file can be written, as far as that shows beforehand. False with a
 * message. */
bool output_file_ready(const char *path);

/* Writes a page as a file; false with a message. A device or a pipe, and a file
 * that standard output goes to as well, is written to as it stands. */
bool output_file_write(const char *path, const struct page *page);

#endif
