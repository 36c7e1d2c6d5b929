/* A temporary file for what does not fit in memory. */
#define _XOPEN_SOURCE 700
#include "sorting/spill_file.h"
#include "io/message.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define BUFFER_SIZE (64u << 10) /* bytes written at a time */
#define PATH_SIZE 4096

static const char *spill_folder(void) {
    const char *folder = getenv("TMPDIR");
    return folder != NULL && folder[0] != '\0' ? folder : "/tmp";
}

static bool fail_spilling(const char *what) {
    complain("a temporary file in %s could not be %s: %s; TMPDIR names another folder",
             spill_folder(), what, strerror(errno));
    return false;
}

static bool create(struct spill_file *file) {
    char path[PATH_SIZE];
    if (file->buffer == NULL && (file->buffer = malloc(BUFFER_SIZE)) == NULL)
        return short_of_memory();
    int length = snprintf(path, sizeof path, "%s/nearhand-XXXXXX", spill_folder());
    if (length >= (int)sizeof path) {
        errno = ENAMETOOLONG;
        return fail_spilling("written");
    }
    file->descriptor = mkstemp(path);
    file->open = file->descriptor >= 0;
    return (file->open && unlink(path) == 0) || fail_spilling("written");
}

static bool write_held(struct spill_file *file) {
    for (size_t done = 0; done < file->held;) {
        ssize_t written = write(file->descriptor, file->buffer + done, file->held - done);
        if (written < 0 && errno != EINTR)
            return fail_spilling("written");
        done += written > 0 ? (size_t)written : 0;
    }
    file->held = 0;
    return true;
}

bool spill_write(struct spill_file *file, const void *bytes, size_t length) {
    const unsigned char *next = bytes;
    if (!file->open && !create(file))
        return false;
    while (length > 0) {
        size_t part = BUFFER_SIZE - file->held;
        part = length < part ? length : part;
        memcpy(file->buffer + file->held, next, part);
        file->held += part;
        file->size += part;
        next += part;
        length -= part;
        if (file->held == BUFFER_SIZE && !write_held(file))
            return false;
    }
    return true;
}

bool spill_read(struct spill_file *file, uint64_t place, void *bytes, size_t length) {
    unsigned char *next = bytes;
    if (!write_held(file))
        return false;
    while (length > 0) {
        ssize_t count = pread(file->descriptor, next, length, (off_t)place);
        if (count == 0)
            errno = EIO;
        if (count == 0 || (count < 0 && errno != EINTR))
            return fail_spilling("read");
        if (count > 0) {
            next += count;
            place += (uint64_t)count;
            length -= (size_t)count;
        }
    }
    return true;
}

void spill_close(struct spill_file *file) {
    if (file->open)
        close(file->descriptor);
    free(file->buffer);
    *file = (struct spill_file){0};
}
