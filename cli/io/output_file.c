/* A file that a player names for a picture or a page. What is written takes the
 * place of an old file at once, when it is whole and on the disk: until then the
 * old file is untouched. */
#define _XOPEN_SOURCE 700
#include "io/output_file.h"
#include "io/message.h"
#include "io/output.h"
#include "system/descriptor.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define PATH_SIZE PATH_MAX /* the size that realpath needs */
#define NAMES_TRIED 100u   /* for the file that is written beside the old one */

static bool fail_file(const char *path, int error) {
    complain("%s could not be written: %s", path, strerror(error));
    return false;
}

/* The folder of a path, and the name within it. */
static const char *split(const char *path, char folder[PATH_SIZE]) {
    const char *slash = strrchr(path, '/');
    if (slash == NULL)
        snprintf(folder, PATH_SIZE, ".");
    else
        snprintf(folder, PATH_SIZE, "%.*s", slash == path ? 1 : (int)(slash - path), path);
    return slash == NULL ? path : slash + 1;
}

/* ------------------------------------------------ the file that is read --- */

static bool same_status(const struct stat *a, const struct stat *b) {
    return a->st_dev == b->st_dev && a->st_ino == b->st_ino;
}

/* Two names of which neither is a file yet, and that would be the same one. */
static bool same_place(const char *a, const char *b) {
    char folder[2][PATH_SIZE];
    struct stat status[2];
    if (strcmp(split(a, folder[0]), split(b, folder[1])) != 0)
        return false;
    return stat(folder[0], &status[0]) == 0 && stat(folder[1], &status[1]) == 0 &&
           same_status(&status[0], &status[1]);
}

static bool same_file(const char *a, const char *b) {
    struct stat status[2];
    bool there[2] = {stat(a, &status[0]) == 0, stat(b, &status[1]) == 0};
    if (!there[0] && !there[1])
        return same_place(a, b);
    /* Nothing is lost by writing to a device such as a terminal. */
    return there[0] && there[1] && same_status(&status[0], &status[1]) &&
           !S_ISCHR(status[0].st_mode);
}

bool output_file_spares(const char *path, const char *input) {
    if (!same_file(path, input))
        return true;
    if (strcmp(path, input) == 0)
        complain("%s is read here and would be overwritten: name another file to write", path);
    else
        complain("%s is the same file as %s, which is read here and would be overwritten: "
                 "name another file to write",
                 path, input);
    return false;
}

bool output_files_differ(const char *path, const char *other) {
    if (!same_file(path, other))
        return true;
    complain("%s and %s would be the same file: name another one", path, other);
    return false;
}

/* ----------------------------------------------------- straight to it --- */

/* Standard output or standard error, if that goes to this file; else -1. */
static int standard_descriptor(const struct stat *status) {
    struct stat standard;
    for (int descriptor = STDOUT_FILENO; descriptor <= STDERR_FILENO; descriptor++)
        if (fstat(descriptor, &standard) == 0 && same_status(status, &standard))
            return descriptor;
    return -1;
}

static bool write_straight(const char *path, int standard, const struct page *page) {
    int file = standard;
    output_flush();
    if (standard < 0)
        file = open(path, O_WRONLY | O_CREAT | O_TRUNC | O_NOCTTY | O_CLOEXEC, 0666);
    if (file < 0)
        return fail_file(path, errno);
    int error = descriptor_write(file, page->bytes, page->length);
    if (standard < 0 && close(file) != 0 && error == 0)
        error = errno;
    return error == 0 || fail_file(path, error);
}

/* ----------------------------------------------- in place of the old one --- */

/* A new file in the folder of `path`; its name goes to `name`. */
static int create_beside(const char *path, char name[PATH_SIZE]) {
    char folder[PATH_SIZE];
    split(path, folder);
    int file = -1;
    for (unsigned i = 0; i < NAMES_TRIED && file < 0; i++) {
        int length = snprintf(name, PATH_SIZE, "%s/.nearhand-%ld-%u", folder, (long)getpid(), i);
        if (length >= PATH_SIZE) {
            errno = ENAMETOOLONG;
            return -1;
        }
        file = open(name, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        if (file < 0 && errno != EEXIST)
            return -1;
    }
    return file;
}

/* The owner where that is allowed, and what those may do who could use the old
 * file. */
static int keep_mode(int file, const struct stat *old) {
    if (old == NULL)
        return 0;
    struct stat own;
    bool kept = fchown(file, old->st_uid, old->st_gid) == 0;
    if (!kept && (fstat(file, &own) != 0 || own.st_gid != old->st_gid))
        return fchmod(file, old->st_mode & (S_IRWXU | S_IRWXO)) == 0 ? 0 : errno;
    return fchmod(file, old->st_mode & (S_IRWXU | S_IRWXG | S_IRWXO)) == 0 ? 0 : errno;
}

static int fill_file(int file, const struct stat *old, const struct page *page) {
    int error = keep_mode(file, old);
    if (error == 0)
        error = descriptor_write(file, page->bytes, page->length);
    while (error == 0 && fsync(file) != 0)
        error = errno == EINTR ? 0 : errno;
    if (close(file) != 0 && error == 0)
        error = errno;
    return error;
}

static int replace(const char *path, const struct stat *old, const struct page *page) {
    char place[PATH_SIZE], beside[PATH_SIZE];
    /* A link stays; the file that it leads to is replaced. */
    if (old != NULL && realpath(path, place) != NULL)
        path = place;
    int file = create_beside(path, beside);
    if (file < 0)
        return errno;
    int error = fill_file(file, old, page);
    if (error == 0 && rename(beside, path) != 0)
        error = errno;
    if (error != 0)
        unlink(beside);
    return error;
}

/* A signal that ends the program would leave the new file beside the old one. */
static int replace_undisturbed(const char *path, const struct stat *old, const struct page *page) {
    sigset_t ending, before;
    sigemptyset(&ending);
    sigaddset(&ending, SIGINT);
    sigaddset(&ending, SIGTERM);
    sigaddset(&ending, SIGHUP);
    sigprocmask(SIG_BLOCK, &ending, &before);
    int error = replace(path, old, page);
    sigprocmask(SIG_SETMASK, &before, NULL);
    return error;
}

/* ------------------------------------------------------------- writing --- */

/* A link to a file that is not there yet is written through: nothing is lost. */
static bool is_link(const char *path) {
    struct stat status;
    return lstat(path, &status) == 0 && S_ISLNK(status.st_mode);
}

bool output_file_ready(const char *path) {
    struct stat status;
    char place[PATH_SIZE], folder[PATH_SIZE];
    bool there = stat(path, &status) == 0;
    if (!there && errno != ENOENT)
        return fail_file(path, errno);
    if (there && S_ISDIR(status.st_mode))
        return fail_file(path, EISDIR);
    if (there && access(path, W_OK) != 0)
        return fail_file(path, errno);
    if ((there && (!S_ISREG(status.st_mode) || standard_descriptor(&status) >= 0)) ||
        (!there && is_link(path)))
        return true;
    split(there && realpath(path, place) != NULL ? place : path, folder);
    if (access(folder, W_OK | X_OK) == 0)
        return true;
    complain("%s could not be written: in the folder %s: %s", path, folder, strerror(errno));
    return false;
}

bool output_file_write(const char *path, const struct page *page) {
    struct stat status;
    if (page->failed)
        return fail_file(path, ENOMEM);
    bool there = stat(path, &status) == 0;
    int standard = there ? standard_descriptor(&status) : -1;
    if (standard >= 0 || (there ? !S_ISREG(status.st_mode) : is_link(path)))
        return write_straight(path, standard, page);
    int error = replace_undisturbed(path, there ? &status : NULL, page);
    return error == 0 || fail_file(path, error);
}
