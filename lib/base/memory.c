/* Memory through the caller's allocator. Every allocation of the library but
 * cJSON's own goes through here, so that a test can fail each one in turn. */
#include "base/memory.h"

#include <stddef.h>
#include <stdlib.h>
#include <string.h>

static void *default_resize(void *context, void *pointer, size_t size) {
    (void)context;
    return realloc(pointer, size);
}

static void default_release(void *context, void *pointer) {
    (void)context;
    free(pointer);
}

nh_allocator memory_default(const nh_allocator *allocator) {
    if (allocator != NULL)
        return *allocator;
    return (nh_allocator){default_resize, default_release, NULL};
}

void *memory_new_raw(const nh_allocator *allocator, size_t count, size_t size) {
    if (size != 0 && count > SIZE_MAX / size)
        return NULL;
    return allocator->resize(allocator->context, NULL, count * size != 0 ? count * size : 1);
}

void *memory_new(const nh_allocator *allocator, size_t count, size_t size) {
    void *block = memory_new_raw(allocator, count, size);
    if (block != NULL)
        memset(block, 0, count * size);
    return block;
}

void memory_release(const nh_allocator *allocator, void *pointer) {
    if (pointer != NULL)
        allocator->release(allocator->context, pointer);
}

bool memory_resize(const nh_allocator *allocator, void **items, size_t *capacity, size_t count,
                   size_t size) {
    if (count > SIZE_MAX / size)
        return false;
    void *block = allocator->resize(allocator->context, *items, count * size);
    if (block == NULL)
        return false;
    *items = block;
    *capacity = count;
    return true;
}

bool memory_reserve(const nh_allocator *allocator, void **items, size_t *capacity, size_t needed,
                    size_t size) {
    if (needed <= *capacity)
        return true;
    size_t larger = *capacity < 8 ? 16 : *capacity * 2;
    return memory_resize(allocator, items, capacity, larger < needed ? needed : larger, size);
}

char *memory_text(const nh_allocator *allocator, const char *text, size_t length) {
    char *copy = memory_new(allocator, length + 1, 1);
    if (copy != NULL)
        memcpy(copy, text, length);
    return copy;
}

#define ARENA_BLOCK 16384

struct arena_block {
    struct arena_block *next;
    size_t used, size;
    max_align_t bytes[];
};

void *arena_new(struct arena *arena, size_t count, size_t size) {
    if (size != 0 && count > (SIZE_MAX / 2) / size)
        return NULL;
    size_t bytes = (count * size + sizeof(max_align_t) - 1) / sizeof(max_align_t);
    bytes *= sizeof(max_align_t);
    struct arena_block *block = arena->blocks;
    if (block == NULL || block->size - block->used < bytes) {
        size_t room = bytes > ARENA_BLOCK ? bytes : ARENA_BLOCK;
        block = memory_new(arena->allocator, 1, sizeof *block + room);
        if (block == NULL)
            return NULL;
        block->size = room;
        block->next = arena->blocks;
        arena->blocks = block;
    }
    void *item = (char *)block->bytes + block->used;
    block->used += bytes;
    return item;
}

char *arena_text(struct arena *arena, const char *text) {
    size_t length = strlen(text);
    char *copy = arena_new(arena, length + 1, 1);
    if (copy != NULL)
        memcpy(copy, text, length);
    return copy;
}

void arena_free(struct arena *arena) {
    while (arena->blocks != NULL) {
        struct arena_block *next = arena->blocks->next;
        memory_release(arena->allocator, arena->blocks);
        arena->blocks = next;
    }
}
