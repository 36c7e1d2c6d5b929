/* File descriptors: the three that a program begins with, and bytes written to
 * one, all of them or an error. */
#ifndef CLI_SYSTEM_DESCRIPTOR_H
#define CLI_SYSTEM_DESCRIPTOR_H

#include <stddef.h>

/* Opens those of the first three descriptors that are closed, so that no other
 * file gets their numbers: an input without a line, an output that every write
 * fails on. */
void descriptors_fill(void);

/* Returns 0, or the errno of the write that failed. That is ECANCELED when a
 * signal asked to stop and nothing could be written for a second: nobody reads. */
int descriptor_write(int descriptor, const char *bytes, size_t length);

/* Writes to standard error. If that fails, there is nobody to tell. */
void error_write(const char *bytes, size_t length);

#endif
