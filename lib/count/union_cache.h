/* Unions that were counted already: the same rests come up behind many classes of
 * contents. */
#ifndef NH_COUNT_UNION_CACHE_H
#define NH_COUNT_UNION_CACHE_H

#include "base/memory.h"
#include "count/totals.h"

struct known_union; /* with its numbers and totals */

/* A table by hashes, at most half full. It starts as {allocator}. */
struct union_cache {
    const nh_allocator *allocator;
    struct known_union **slots;
    size_t capacity, used;
    size_t room; /* bytes that all take */
};

/* The totals of the union of these items of a part, given by their ascending numbers;
 * false if it has not been kept. */
bool unions_find(const struct union_cache *cache, int part, const uint32_t *numbers, size_t count,
                 struct totals *totals);

/* Keeps a union that was not found, but none once all take UNIONS_ROOM_MAX bytes,
 * which costs time alone. False when memory is short. */
#define UNIONS_ROOM_MAX (64u << 20)
bool unions_keep(struct union_cache *cache, int part, const uint32_t *numbers, size_t count,
                 const struct totals *totals);

void unions_free(struct union_cache *cache);

#endif
