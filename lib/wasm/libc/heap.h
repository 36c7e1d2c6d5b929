/* Memory in blocks that grow and shrink, out of a stretch that grows at its end. */
#ifndef NH_WASM_LIBC_HEAP_H
#define NH_WASM_LIBC_HEAP_H

#include <stddef.h>

/* A block of at least `size` bytes that begins with what `pointer` had, if that is not NULL;
 * `pointer` is then no longer valid. Aligned for every type. NULL if memory is short: `pointer`
 * stays as it is. */
void *heap_resize(void *pointer, size_t size);

/* Gives a block back, to be joined with free neighbours. NULL is ignored; a block that is
 * free already ends the program by a trap. */
void heap_release(void *pointer);

/* What the host gives, to be defined beside: makes the stretch at least `more` bytes longer and
 * returns where it ended until now, or NULL. `*given` is how much longer it is, a multiple of
 * HEAP_UNIT. The first call returns where it begins, HEAP_UNIT / 2 bytes beyond a multiple of
 * HEAP_UNIT; each later one, where the last ended. */
#define HEAP_UNIT (4 * sizeof(size_t))
void *heap_extend(size_t more, size_t *given);

#endif
