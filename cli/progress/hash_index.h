/* Places in an array, found by the hash of what is kept there. */
#ifndef CLI_PROGRESS_HASH_INDEX_H
#define CLI_PROGRESS_HASH_INDEX_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define HASH_NONE UINT32_MAX

struct hash_slot {
    uint32_t hash;
    uint32_t after; /* the place, and 1; 0: the slot is free */
};

/* Start from {0}. */
struct hash_index {
    struct hash_slot *slots;
    size_t size, used; /* size: a power of two, or 0 */
};

/* The place of `key`, or HASH_NONE; `same` compares the key with a place. */
uint32_t hash_find(const struct hash_index *index, uint32_t hash,
                   bool (*same)(const void *key, uint32_t place), const void *key);

/* Notes a place that is not there yet; false when memory is short. */
bool hash_insert(struct hash_index *index, uint32_t hash, uint32_t place);

void hash_free(struct hash_index *index);

/* The hash of bytes that go on from those hashed before; start from HASH_START. */
#define HASH_START 2166136261u
uint32_t hash_bytes(uint32_t hash, const void *bytes, size_t length);

#endif
