/* The history of a player: a file to which each round adds a line of JSON, so
 * that neither a crash nor two programs at once lose or tear one. */
#ifndef CLI_HISTORY_HISTORY_H
#define CLI_HISTORY_HISTORY_H

#include <stdbool.h>
#include <stddef.h>
#include <sys/stat.h>

#define HISTORY_PATH_SIZE 4096

/* Where the history is if the player names no file: nearhand/history.jsonl in
 * $XDG_DATA_HOME or ~/.local/share. False with a message where neither is
 * known. */
bool history_path(char path[HISTORY_PATH_SIZE]);

/* Makes the folders of a path and checks that it can be written. */
bool history_prepare(const char *path);

/* Adds a record, which has no end of line; false with a message. */
bool history_append(const char *path, const char *record, size_t length);

/* Whether a history may be read from it or written to it: a plain file, or a
 * device that never waits; not a pipe or a folder. False with a message. */
bool history_is_file(const char *path, const struct stat *status);

#endif
