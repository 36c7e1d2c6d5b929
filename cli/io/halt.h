/* Stopping before the input ends: for a signal of the user, or because nobody
 * takes the output any more. */
#ifndef CLI_IO_HALT_H
#define CLI_IO_HALT_H

#include <stdbool.h>

/* From now on the first SIGINT or SIGTERM only asks to stop; the second one
 * ends the process as ever. Signals that are ignored stay so. */
void halt_on_signals(void);

/* Asks to stop. */
void halt(void);

/* Whether a stop was asked for at all, and by a signal. */
bool halted(void);
bool halted_by_signal(void);

/* Can be read once a stop was asked for, so that whoever waits for input in
 * poll is woken; -1 without halt_on_signals. */
int halt_descriptor(void);

#endif
