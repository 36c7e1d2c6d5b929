/* Keeps two surveys from writing one file: the later one would replace what the other
 * counted. */
#ifndef CLI_SURVEY_PART_LOCK_H
#define CLI_SURVEY_PART_LOCK_H

#include <limits.h>
#include <stdbool.h>

struct part_lock {
    int descriptor; /* -1: none is needed, or held */
    char path[PATH_MAX];
};

/* Locks FILE by a file FILE.lock beside it, which goes when it is released; one that a
 * killed process left behind locks nothing. A device or pipe needs no lock. False with a
 * message, above all where another survey writes FILE. */
bool part_lock_hold(struct part_lock *lock, const char *path);
void part_lock_release(struct part_lock *lock);

#endif
