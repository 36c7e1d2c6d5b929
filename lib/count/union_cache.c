/* Unions that were counted already. */
#include "count/union_cache.h"
#include "base/hash.h"
#include "tiles/tiles.h"

#include <string.h>

/* The ways of `least` to `most` tiles stand after the numbers. */
struct known_union {
    uint64_t hash;
    size_t count;
    nh_natural all, held;
    const nh_natural *ways;
    int part;
    uint8_t least, most;
    uint32_t numbers[];
};

static uint64_t hash_of_rest(int part, const uint32_t *numbers, size_t count) {
    return hash_numbers((uint64_t)count * PARTS + (unsigned)part, numbers, count);
}

/* The slot that has the union, or the empty one where it belongs. */
static struct known_union **slot_of(const struct union_cache *cache, uint64_t hash, int part,
                                    const uint32_t *numbers, size_t count) {
    size_t slot = (size_t)hash & (cache->capacity - 1);
    for (; cache->slots[slot] != NULL; slot = (slot + 1) & (cache->capacity - 1)) {
        const struct known_union *known = cache->slots[slot];
        if (known->hash == hash && known->part == part && known->count == count &&
            memcmp(known->numbers, numbers, count * sizeof *numbers) == 0)
            break;
    }
    return &cache->slots[slot];
}

bool unions_find(const struct union_cache *cache, int part, const uint32_t *numbers, size_t count,
                 struct totals *totals) {
    if (cache->used == 0)
        return false;
    const struct known_union *known =
        *slot_of(cache, hash_of_rest(part, numbers, count), part, numbers, count);
    if (known == NULL)
        return false;
    *totals = (struct totals){
        .all = known->all, .held = known->held, .least = known->least, .most = known->most};
    for (unsigned i = known->least; i <= known->most; i++)
        totals->ways[i] = known->ways[i - known->least];
    return true;
}

#define CAPACITY_FIRST 64u

static bool grow_cache(struct union_cache *cache) {
    size_t capacity = cache->capacity == 0 ? CAPACITY_FIRST : 2 * cache->capacity;
    struct known_union **slots =
        memory_new(cache->allocator, capacity, sizeof(struct known_union *));
    if (slots == NULL)
        return false;
    for (size_t i = 0; i < cache->capacity; i++) {
        struct known_union *known = cache->slots[i];
        if (known == NULL)
            continue;
        size_t slot = (size_t)known->hash & (capacity - 1);
        while (slots[slot] != NULL)
            slot = (slot + 1) & (capacity - 1);
        slots[slot] = known;
    }
    memory_release(cache->allocator, cache->slots);
    cache->slots = slots;
    cache->capacity = capacity;
    return true;
}

static unsigned sizes_of(const struct totals *totals) {
    return totals->least > totals->most ? 0 : totals->most - totals->least + 1u;
}

/* Where the ways stand: after the numbers, which may be an odd number of them. */
static size_t ways_offset(size_t count) {
    size_t end = sizeof(struct known_union) + count * sizeof(uint32_t);
    return (end + sizeof(uint64_t) - 1) / sizeof(uint64_t) * sizeof(uint64_t);
}

bool unions_keep(struct union_cache *cache, int part, const uint32_t *numbers, size_t count,
                 const struct totals *totals) {
    unsigned sizes = sizes_of(totals);
    size_t room = ways_offset(count) + sizes * sizeof(nh_natural);
    if (cache->room + room > UNIONS_ROOM_MAX)
        return true;
    if (2 * cache->used >= cache->capacity && !grow_cache(cache))
        return false;
    struct known_union *known = memory_new_raw(cache->allocator, room, 1);
    if (known == NULL)
        return false;
    nh_natural *ways = (nh_natural *)(void *)((char *)known + ways_offset(count));
    *known = (struct known_union){.hash = hash_of_rest(part, numbers, count),
                                  .count = count,
                                  .all = totals->all,
                                  .held = totals->held,
                                  .ways = ways,
                                  .part = part,
                                  .least = totals->least,
                                  .most = totals->most};
    memcpy(known->numbers, numbers, count * sizeof *numbers);
    memcpy(ways, totals->ways + totals->least, sizes * sizeof *ways);
    *slot_of(cache, known->hash, part, numbers, count) = known;
    cache->used++;
    cache->room += room;
    return true;
}

void unions_free(struct union_cache *cache) {
    for (size_t i = 0; i < cache->capacity; i++)
        memory_release(cache->allocator, cache->slots[i]);
    memory_release(cache->allocator, cache->slots);
    *cache = (struct union_cache){.allocator = cache->allocator};
}
