/* A small file, read whole. */
#define _POSIX_C_SOURCE 200809L
#include "io/whole_file.h"
#include "io/message.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static char *fail_reading(const char *path, const char *why) {
    complain("%s: %s", path, why);
    return NULL;
}

/* Fills the buffer; fewer bytes where the file has become shorter, -1 with errno. */
static ssize_t read_bytes(int descriptor, char *bytes, size_t size) {
    size_t length = 0;
    while (length < size) {
        ssize_t got = read(descriptor, bytes + length, size - length);
        if (got < 0 && errno == EINTR)
            continue;
        if (got < 0)
            return -1;
        if (got == 0)
            break;
        length += (size_t)got;
    }
    return (ssize_t)length;
}

static char *bytes_of(const char *path, int descriptor, size_t most, size_t *length) {
    struct stat status;
    if (fstat(descriptor, &status) != 0)
        return fail_reading(path, strerror(errno));
    if (!S_ISREG(status.st_mode))
        return fail_reading(path, "it is not a plain file");
    if ((unsigned long long)status.st_size > most)
        return fail_reading(path, "it is too large");
    char *bytes = malloc((size_t)status.st_size + 1);
    if (bytes == NULL)
        return fail_reading(path, strerror(ENOMEM));
    ssize_t got = read_bytes(descriptor, bytes, (size_t)status.st_size);
    if (got < 0) {
        int error = errno;
        free(bytes);
        return fail_reading(path, strerror(error));
    }
    bytes[got] = '\0';
    *length = (size_t)got;
    return bytes;
}

char *file_bytes(const char *path, size_t most, size_t *length) {
    /* Never waits for the other end of a FIFO. */
    int descriptor = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (descriptor < 0)
        return fail_reading(path, strerror(errno));
    char *bytes = bytes_of(path, descriptor, most, length);
    close(descriptor);
    return bytes;
}
