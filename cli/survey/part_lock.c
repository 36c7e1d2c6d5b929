/* Keeps two surveys from writing one file. The part itself cannot be locked: each time it
 * is written another file takes its place. */
#define _DEFAULT_SOURCE /* flock, realpath */
#include "survey/part_lock.h"
#include "io/message.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#define ENDING ".lock"

static bool fail(const char *path, int error) {
    complain("%s could not be locked: %s", path, strerror(error));
    return false;
}

/* The lock's path, beside the file that links lead to. False where it is too long. */
static bool name_lock(struct part_lock *lock, const char *path) {
    char place[PATH_MAX];
    const char *real = realpath(path, place) != NULL ? place : path;
    int length = snprintf(lock->path, sizeof lock->path, "%s%s", real, ENDING);
    return length > 0 && (size_t)length < sizeof lock->path;
}

static bool needs_lock(const char *path) {
    struct stat status;
    return stat(path, &status) != 0 || S_ISREG(status.st_mode);
}

/* Whether the path still leads to the file that was locked: whoever held it before may
 * have taken it away in between. */
static bool still_there(const struct part_lock *lock) {
    struct stat held, named;
    return fstat(lock->descriptor, &held) == 0 && stat(lock->path, &named) == 0 &&
           held.st_dev == named.st_dev && held.st_ino == named.st_ino;
}

/* 0 when it is locked, else why it is not; EINTR: try again. */
static int try_lock(struct part_lock *lock) {
    lock->descriptor = open(lock->path, O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0666);
    if (lock->descriptor < 0)
        return errno;
    int error = flock(lock->descriptor, LOCK_EX | LOCK_NB) != 0 ? errno
                : still_there(lock)                             ? 0
                                                                : EINTR;
    if (error == 0)
        return 0;
    close(lock->descriptor);
    lock->descriptor = -1;
    return error;
}

bool part_lock_hold(struct part_lock *lock, const char *path) {
    int error;
    *lock = (struct part_lock){.descriptor = -1};
    if (!needs_lock(path))
        return true;
    if (!name_lock(lock, path))
        return fail(path, ENAMETOOLONG);
    do
        error = try_lock(lock);
    while (error == EINTR);
    if (error == EWOULDBLOCK) {
        complain("%s: another survey writes to it now; give each a file of its own", path);
        return false;
    }
    return error == 0 || fail(path, error);
}

void part_lock_release(struct part_lock *lock) {
    if (lock->descriptor < 0)
        return;
    unlink(lock->path);
    close(lock->descriptor);
    lock->descriptor = -1;
}
