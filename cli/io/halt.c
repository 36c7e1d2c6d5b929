/* Stopping before the input ends: for a signal of the user, or because nobody
 * takes the output any more. */
#define _POSIX_C_SOURCE 200809L
#include "io/halt.h"

#include <errno.h>
#include <signal.h>
#include <stdatomic.h>
#include <stddef.h>
#include <unistd.h>

/* Set from a signal handler and from any thread. */
static atomic_bool asked, by_signal;

/* Read end, write end. */
static int wake[2] = {-1, -1};

void halt(void) {
    atomic_store(&asked, true);
    if (wake[1] < 0)
        return;
    int before = errno;
    /* The pipe is never full: nobody asks more than a few times. */
    ssize_t written = write(wake[1], "", 1);
    (void)written;
    errno = before;
}

static void on_signal(int signal_number) {
    (void)signal_number;
    atomic_store(&by_signal, true);
    halt();
}

static void handle(int signal_number) {
    struct sigaction action = {0};
    if (sigaction(signal_number, NULL, &action) != 0 || action.sa_handler == SIG_IGN)
        return;
    action.sa_handler = on_signal;
    /* Writing goes on, so that lines are whole. */
    action.sa_flags = (int)(SA_RESTART | SA_RESETHAND);
    sigemptyset(&action.sa_mask);
    sigaction(signal_number, &action, NULL);
}

void halt_on_signals(void) {
    if (pipe(wake) != 0)
        wake[0] = wake[1] = -1;
    handle(SIGINT);
    handle(SIGTERM);
}

bool halted(void) {
    return atomic_load_explicit(&asked, memory_order_relaxed);
}

bool halted_by_signal(void) {
    return atomic_load(&by_signal);
}

int halt_descriptor(void) {
    return wake[0];
}
