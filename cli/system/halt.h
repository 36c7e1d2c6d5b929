/* Stopping before the input ends: because of a signal, or because nobody reads
 * the output any more. */
#ifndef CLI_SYSTEM_HALT_H
#define CLI_SYSTEM_HALT_H

#include "nearhand.h"

#include <pthread.h>
#include <stdbool.h>

/* From now on the first SIGINT, SIGTERM or SIGHUP only asks to stop; a second one
 * of its kind ends the process. Signals that are ignored stay ignored. Called by
 * the thread that is to get them. */
void halt_on_signals(void);

/* Starts a thread that leaves signals to the thread above. */
bool halt_start_thread(pthread_t *thread, void *(*work)(void *argument), void *argument);

/* Asks to stop. */
void halt(void);

/* A stop turns this switch on too, so that long work ends at once; NULL: none any more. */
void halt_cancels(nh_cancel *cancel);

/* Whether a stop was asked for, and whether by a signal. */
bool halted(void);
bool halted_by_signal(void);

/* Can be read once a stop was asked for, so that a poll for input ends; -1
 * without halt_on_signals. */
int halt_descriptor(void);

/* A write to a pipe that nobody reads waits for ever. Between these calls, once a
 * signal has asked to stop, the writes of this thread are interrupted (EINTR)
 * again and again. halt_write_moved says that some bytes were written; when there
 * were none for a second, halt_write_late returns true, and the writer gives up.
 * Only one thread writes so at a time; another that tries is not interrupted. */
bool halt_write_begin(void);
void halt_write_moved(void);
bool halt_write_late(void);
void halt_write_end(bool begun);

#endif
