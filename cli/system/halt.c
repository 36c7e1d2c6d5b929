/* Stopping before the input ends: because of a signal, or because nobody reads
 * the output any more. */
#define _POSIX_C_SOURCE 200809L
#include "system/halt.h"
#include "system/clock.h"

#include <errno.h>
#include <signal.h>
#include <stdatomic.h>
#include <stddef.h>
#include <stdint.h>
#include <time.h>
#include <unistd.h>

#define MILLISECOND INT64_C(1000000) /* in nanoseconds */
#define PATIENCE (1000 * MILLISECOND)
#define TICK (100 * MILLISECOND)

/* Set from a signal handler and from any thread. */
static atomic_bool asked, by_signal;
static _Atomic(nh_cancel *) to_cancel;

/* Read end, write end. */
static int wake[2] = {-1, -1};

void halt_cancels(nh_cancel *cancel) {
    atomic_store(&to_cancel, cancel);
    if (cancel != NULL && halted())
        nh_cancel_now(cancel);
}

void halt(void) {
    nh_cancel *cancel = atomic_load(&to_cancel);
    atomic_store(&asked, true);
    if (cancel != NULL)
        nh_cancel_now(cancel);
    if (wake[1] < 0)
        return;
    int before = errno;
    /* The pipe is never full: a stop is asked for only a few times. */
    ssize_t written = write(wake[1], "", 1);
    (void)written;
    errno = before;
}

/* ---------------------------------------------- writes that do not end --- */

/* The thread that gets the signals, and the one that is writing. The first passes
 * a tick on to the writer: a signal interrupts only the thread that it reaches. */
static pthread_t first;
static _Atomic(pthread_t) writer;
enum { IDLE, CLAIMED, WRITING };
static atomic_int writing = IDLE;
static _Atomic int64_t moved; /* when bytes were last written, or the signal came */
static timer_t ticker;
static bool ticks;

bool halt_write_begin(void) {
    int before = IDLE;
    if (!atomic_compare_exchange_strong(&writing, &before, CLAIMED))
        return false;
    atomic_store(&writer, pthread_self());
    atomic_store(&writing, WRITING);
    return true;
}

void halt_write_end(bool begun) {
    if (begun)
        atomic_store(&writing, IDLE);
}

void halt_write_moved(void) {
    if (atomic_load(&by_signal))
        atomic_store(&moved, clock_nanoseconds());
}

bool halt_write_late(void) {
    return atomic_load(&by_signal) && clock_nanoseconds() - atomic_load(&moved) >= PATIENCE;
}

/* The writer exists as long as it is marked so: it is the first thread, or one
 * that the first cannot join while it is in here. */
static void on_tick(int signal_number) {
    int before = errno;
    if (pthread_equal(pthread_self(), first) && atomic_load(&writing) == WRITING) {
        pthread_t thread = atomic_load(&writer);
        if (!pthread_equal(thread, first))
            pthread_kill(thread, signal_number);
    }
    errno = before;
}

/* Ticks go on, in case one comes just before a write begins to wait. */
static void start_ticks(void) {
    struct itimerspec every = {{0, TICK}, {0, TICK}};
    atomic_store(&moved, clock_nanoseconds());
    if (ticks)
        timer_settime(ticker, 0, &every, NULL);
}

/* Without SA_RESTART, so that a tick interrupts. Not SIGALRM: that may be the
 * alarm of the program that started this one. */
static void prepare_ticks(void) {
    struct sigaction action = {0};
    struct sigevent event = {0};
    sigset_t tick;
    event.sigev_notify = SIGEV_SIGNAL;
    event.sigev_signo = SIGRTMIN;
    action.sa_handler = on_tick;
    sigemptyset(&action.sa_mask);
    sigemptyset(&tick);
    sigaddset(&tick, SIGRTMIN);
    first = pthread_self();
    ticks = sigaction(SIGRTMIN, &action, NULL) == 0 &&
            pthread_sigmask(SIG_UNBLOCK, &tick, NULL) == 0 &&
            timer_create(CLOCK_MONOTONIC, &event, &ticker) == 0;
}

/* -------------------------------------------------------------- signals --- */

static void on_signal(int signal_number) {
    (void)signal_number;
    int before = errno;
    start_ticks();
    atomic_store(&by_signal, true);
    halt();
    errno = before;
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
    prepare_ticks();
    handle(SIGINT);
    handle(SIGTERM);
    handle(SIGHUP); /* the terminal is closed */
}

bool halt_start_thread(pthread_t *thread, void *(*work)(void *argument), void *argument) {
    sigset_t blocked, before;
    sigfillset(&blocked);
    sigdelset(&blocked, SIGRTMIN); /* the tick */
    pthread_sigmask(SIG_SETMASK, &blocked, &before);
    bool started = pthread_create(thread, NULL, work, argument) == 0;
    pthread_sigmask(SIG_SETMASK, &before, NULL);
    return started;
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
