/* File descriptors: the three that a program begins with, and bytes written to
 * one, all of them or an error. */
#define _POSIX_C_SOURCE 200809L
#include "system/descriptor.h"
#include "system/halt.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <unistd.h>

/* A new descriptor is the lowest that is free. Each is for reading alone. */
void descriptors_fill(void) {
    for (int number = STDIN_FILENO; number <= STDERR_FILENO; number++)
        if (fcntl(number, F_GETFD) < 0 && open("/dev/null", O_RDONLY) < 0)
            open("/", O_RDONLY); /* where there is no /dev, as in a bare chroot */
}

/* A descriptor may be one that never waits, because of another program that
 * has it open too. Then the wait is here. */
static void wait_for_room(int descriptor) {
    struct pollfd polled = {.fd = descriptor, .events = POLLOUT};
    poll(&polled, 1, 100);
}

/* Writes what it can; returns the bytes written, and an error in `error`. */
static size_t write_some(int descriptor, const char *bytes, size_t length, int *error) {
    ssize_t written = write(descriptor, bytes, length);
    if (written > 0) {
        halt_write_moved();
        return (size_t)written;
    }
    int reason = written == 0 ? EIO : errno;
    if (reason != EINTR && reason != EAGAIN)
        *error = reason;
    else if (halt_write_late())
        *error = ECANCELED;
    else if (reason == EAGAIN)
        wait_for_room(descriptor);
    return 0;
}

int descriptor_write(int descriptor, const char *bytes, size_t length) {
    int error = 0;
    bool begun = halt_write_begin();
    for (size_t at = 0; at < length && error == 0;)
        at += write_some(descriptor, bytes + at, length - at, &error);
    halt_write_end(begun);
    return error;
}

void error_write(const char *bytes, size_t length) {
    descriptor_write(STDERR_FILENO, bytes, length);
}
