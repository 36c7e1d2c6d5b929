/* A temporary file for what does not fit in memory. It has no name, so that it goes when
 * the program ends, however that ends. */
#ifndef CLI_SORTING_SPILL_FILE_H
#define CLI_SORTING_SPILL_FILE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Start from {0}. */
struct spill_file {
    bool open;
    int descriptor;
    uint64_t size; /* bytes, those that are still held back too */
    size_t held;
    unsigned char *buffer;
};

/* Adds bytes at the end; the first ones create the file, in $TMPDIR or /tmp. False with a
 * message. */
bool spill_write(struct spill_file *file, const void *bytes, size_t length);

/* Reads exactly so many bytes from a place within the file. False with a message. */
bool spill_read(struct spill_file *file, uint64_t place, void *bytes, size_t length);

/* Gives the room on the disk back; {0} again. */
void spill_close(struct spill_file *file);

#endif
