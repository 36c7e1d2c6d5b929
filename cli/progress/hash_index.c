/* Places in an array, found by the hash of what is kept there: open addressing,
 * the next free slot after the one that the hash names. */
#include "progress/hash_index.h"

#include <stdlib.h>

#define SIZE_LEAST 64u

/* FNV-1a for 32 bits, a function of Fowler, Noll and Vo: draft-eastlake-fnv of the
 * IETF. */
uint32_t hash_bytes(uint32_t hash, const void *bytes, size_t length) {
    const unsigned char *byte = bytes;
    for (size_t i = 0; i < length; i++)
        hash = (hash ^ byte[i]) * 16777619u;
    return hash;
}

uint32_t hash_find(const struct hash_index *index, uint32_t hash,
                   bool (*same)(const void *key, uint32_t place), const void *key) {
    if (index->size == 0)
        return HASH_NONE;
    for (size_t at = hash;; at++) {
        const struct hash_slot *slot = &index->slots[at & (index->size - 1)];
        if (slot->after == 0)
            return HASH_NONE;
        if (slot->hash == hash && same(key, slot->after - 1))
            return slot->after - 1;
    }
}

static void fill_slot(const struct hash_index *index, struct hash_slot entry) {
    size_t at = entry.hash & (index->size - 1);
    while (index->slots[at].after != 0)
        at = (at + 1) & (index->size - 1);
    index->slots[at] = entry;
}

/* Twice as many slots. */
static bool grow(struct hash_index *index) {
    struct hash_index larger = {.size = index->size == 0 ? SIZE_LEAST : 2 * index->size,
                                .used = index->used};
    larger.slots = calloc(larger.size, sizeof *larger.slots);
    if (larger.slots == NULL)
        return false;
    for (size_t at = 0; at < index->size; at++)
        if (index->slots[at].after != 0)
            fill_slot(&larger, index->slots[at]);
    free(index->slots);
    *index = larger;
    return true;
}

bool hash_insert(struct hash_index *index, uint32_t hash, uint32_t place) {
    /* A quarter stays free, so that a search ends soon. */
    if (index->used >= index->size - index->size / 4 && !grow(index))
        return false;
    fill_slot(index, (struct hash_slot){hash, place + 1});
    index->used++;
    return true;
}

void hash_free(struct hash_index *index) {
    free(index->slots);
}
