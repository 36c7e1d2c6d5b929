/* The history of a player: a file to which each round adds a line of JSON, so
 * that neither a crash nor two programs at once lose or tear one. */
#define _DEFAULT_SOURCE /* flock */
#include "history/history.h"
#include "io/message.h"
#include "system/places.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

bool history_path(char path[HISTORY_PATH_SIZE]) {
    if (player_path("history.jsonl", path, HISTORY_PATH_SIZE))
        return true;
    complain("there is no home folder to keep a history in: name a file with --history FILE");
    return false;
}

static bool fail_writing(const char *path) {
    complain("%s could not be written: %s", path, strerror(errno));
    return false;
}

bool history_is_file(const char *path, const struct stat *status) {
    if (S_ISREG(status->st_mode) || S_ISCHR(status->st_mode))
        return true;
    const char *kind = S_ISDIR(status->st_mode)    ? "folder"
                       : S_ISFIFO(status->st_mode) ? "pipe"
                                                   : "device";
    complain("%s is a %s: a history is a plain file", path, kind);
    return false;
}

/* -1 with a message where it cannot be written. Never waits, as for the reader of
 * a pipe. */
static int open_history(const char *path) {
    struct stat status;
    int descriptor = open(path, O_RDWR | O_APPEND | O_CREAT | O_NONBLOCK | O_CLOEXEC, 0600);
    if (descriptor < 0 || fstat(descriptor, &status) != 0)
        fail_writing(path);
    else if (history_is_file(path, &status))
        return descriptor;
    if (descriptor >= 0)
        close(descriptor);
    return -1;
}

bool history_prepare(const char *path) {
    char folder[HISTORY_PATH_SIZE];
    snprintf(folder, sizeof folder, "%s", path);
    for (char *slash = strchr(folder + 1, '/'); slash != NULL; slash = strchr(slash + 1, '/')) {
        *slash = '\0';
        if (mkdir(folder, 0700) != 0 && errno != EEXIST)
            return fail_writing(path);
        *slash = '/';
    }
    int descriptor = open_history(path);
    if (descriptor < 0)
        return false;
    close(descriptor);
    return true;
}

/* Whether the file ends in the middle of a line, as after a crash. */
static bool ends_torn(int descriptor, off_t size) {
    char last = '\n';
    return size > 0 && pread(descriptor, &last, 1, size - 1) == 1 && last != '\n';
}

/* The record as a line, behind a line of its own for what an earlier crash has left in
 * the file; NULL when memory is short. */
static char *history_line(const char *record, size_t length, bool torn, size_t *size) {
    char *line = malloc(length + 2);
    if (line == NULL)
        return NULL;
    *size = 0;
    if (torn)
        line[(*size)++] = '\n';
    memcpy(line + *size, record, length);
    *size += length;
    line[(*size)++] = '\n';
    return line;
}

/* Writes all of it, however many calls that takes. */
static bool write_whole(int descriptor, const char *bytes, size_t size) {
    while (size > 0) {
        ssize_t written = write(descriptor, bytes, size);
        if (written == 0)
            errno = ENOSPC;
        if (written == 0 || (written < 0 && errno != EINTR))
            return false;
        if (written > 0) {
            bytes += written;
            size -= (size_t)written;
        }
    }
    return true;
}

/* Has the disk keep it. EINVAL: the file is on no disk. */
static bool write_through(int descriptor) {
    int status;
    do
        status = fsync(descriptor);
    while (status != 0 && errno == EINTR);
    return status == 0 || errno == EINVAL;
}

/* Adds a line, under the lock. Where that fails, as on a full disk, the part that got
 * there is removed again. */
static bool write_line(int descriptor, const char *record, size_t length) {
    struct stat status;
    size_t size;
    if (fstat(descriptor, &status) != 0)
        return false;
    bool torn = S_ISREG(status.st_mode) && ends_torn(descriptor, status.st_size);
    char *line = history_line(record, length, torn, &size);
    if (line == NULL)
        return false;
    bool good = write_whole(descriptor, line, size);
    free(line);
    if (good)
        return write_through(descriptor);
    int reason = errno;
    if (S_ISREG(status.st_mode) && ftruncate(descriptor, status.st_size) == 0)
        errno = reason;
    return false;
}

bool history_append(const char *path, const char *record, size_t length) {
    int descriptor = open_history(path);
    if (descriptor < 0)
        return false;
    int locked;
    do
        locked = flock(descriptor, LOCK_EX);
    while (locked != 0 && errno == EINTR);
    bool good = locked == 0 && write_line(descriptor, record, length);
    if (!good)
        fail_writing(path);
    close(descriptor);
    return good;
}
