/* Hashes of numbers in a row. */
#ifndef NH_BASE_HASH_H
#define NH_BASE_HASH_H

#include <stddef.h>
#include <stdint.h>

/* Goes on from `hash`, in which the caller puts what else tells rows apart. */
static inline uint64_t hash_numbers(uint64_t hash, const uint32_t *numbers, size_t count) {
    for (size_t i = 0; i < count; i++) {
        hash = (hash ^ numbers[i]) * UINT64_C(0x9E3779B97F4A7C15);
        hash ^= hash >> 32;
    }
    return hash;
}

#endif
