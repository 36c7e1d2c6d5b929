/* A small file, read whole. */
#ifndef CLI_IO_WHOLE_FILE_H
#define CLI_IO_WHOLE_FILE_H

#include <stddef.h>

/* The bytes of a plain file, and a zero byte behind them, to be freed by the caller; NULL
 * with a message where it cannot be read or is larger than `most`. */
char *file_bytes(const char *path, size_t most, size_t *length);

#endif
