/* File descriptors: the three that a program begins with, and bytes written to
 * one, all of them or an error. */
#define _POSIX_C_SOURCE 200809L
#include "io/descriptor.h"

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
    poll(&polled, 1, 1000);
}

int descriptor_write(int descriptor, const char *bytes, size_t length) {
    while (length > 0) {
        ssize_t written = write(descriptor, bytes, length);
        if (written > 0) {
            bytes += written;
            length -= (size_t)written;
        } else if (written == 0) {
            return EIO;
        } else if (errno == EAGAIN) {
            wait_for_room(descriptor);
        } else if (errno != EINTR) {
            return errno;
        }
    }
    return 0;
}
