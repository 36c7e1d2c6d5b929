/* Memory through the caller's allocator: growing arrays without overflow. */
#ifndef NH_BASE_MEMORY_H
#define NH_BASE_MEMORY_H

#include "nearhand.h"

/* The C library's allocator, for callers that give none. */
nh_allocator memory_default(const nh_allocator *allocator);

/* `count` items of `size` bytes, zeroed; NULL when memory is short or the
 * product overflows. A count of 0 still gives a block. */
void *memory_new(const nh_allocator *allocator, size_t count, size_t size);

/* The same with any contents. */
void *memory_new_raw(const nh_allocator *allocator, size_t count, size_t size);

void memory_release(const nh_allocator *allocator, void *pointer);

/* Makes room for `needed` items in the array `*items` of `*capacity` items, at
 * least doubling it. False when memory is short; the array then stays valid. */
bool memory_reserve(const nh_allocator *allocator, void **items, size_t *capacity, size_t needed,
                    size_t size);

/* Makes the array one of `count` items, at least 1; likewise. */
bool memory_resize(const nh_allocator *allocator, void **items, size_t *capacity, size_t count,
                   size_t size);

/* A copy of a string of `length` bytes, ended by a zero byte. */
char *memory_text(const nh_allocator *allocator, const char *text, size_t length);

/* Blocks that are all freed at once: an arena starts as {allocator, NULL}. */
struct arena {
    const nh_allocator *allocator;
    struct arena_block *blocks;
};

/* `count` zeroed items of `size` bytes, aligned for any type; NULL when memory
 * is short. */
void *arena_new(struct arena *arena, size_t count, size_t size);
char *arena_text(struct arena *arena, const char *text);
void arena_free(struct arena *arena);

#endif
