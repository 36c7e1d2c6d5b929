/* Families of shares, each found by its contents: equal families are one, and
 * patterns that look alike share nearly all of theirs. */
#include "families/pool.h"

#include <string.h>

/* A pattern passes the budget by itself where those before it have left nearly all. */
void pool_short_of_memory(struct pool *pool) {
    if (pool->status != NH_OK)
        return;
    if (pool->budget.passed)
        pool_past_limit(pool,
                        pool->earlier_bytes < WORK_BYTES_MAX / 8 ? LIMIT_PATTERN : LIMIT_LIST);
    else
        pool->status = NH_ERROR_MEMORY;
}

void pool_past_limit(struct pool *pool, enum work_limit limit) {
    if (pool->status != NH_OK)
        return;
    pool->status = NH_ERROR_LIMIT;
    pool->passed = limit;
}

void pool_next_pattern(struct pool *pool) {
    pool->all_work += pool->work;
    pool->work = 0;
    pool->earlier_bytes = pool->budget.held;
}

/* An array of so many bytes grows by a half, not to twice the size: the budget counts all of
 * its room, used or not. */
#define LARGE_BYTES ((size_t)1 << 20)

bool pool_grow(struct pool *pool, void **items, size_t *capacity, size_t needed, size_t size) {
    bool large = *capacity >= LARGE_BYTES / size;
    size_t larger = *capacity + *capacity / 2;
    larger = larger < needed ? needed : larger;
    if (large ? memory_resize(pool->allocator, items, capacity, larger, size)
              : memory_reserve(pool->allocator, items, capacity, needed, size))
        return true;
    pool_short_of_memory(pool);
    return false;
}

bool pool_work(struct pool *pool, uint64_t steps) {
    pool->work += steps;
    if (pool->work > PATTERN_WORK_MAX)
        pool_past_limit(pool, LIMIT_PATTERN);
    else if (pool->all_work + pool->work > LIST_WORK_MAX)
        pool_past_limit(pool, LIMIT_LIST);
    return pool->status == NH_OK;
}

struct packed_share *pool_scratch(struct pool *pool, size_t count) {
    if (!pool_reserve(pool, (void **)&pool->scratch, &pool->scratch_capacity, count,
                      sizeof *pool->scratch))
        return NULL;
    return pool->scratch;
}

static uint32_t hash_shares(const struct packed_share *shares, size_t count, bool honours) {
    uint64_t hash = honours ? 1 : 2;
    for (size_t i = 0; i < count; i++) {
        hash = (hash ^ shares[i].need) * UINT64_C(0x9E3779B97F4A7C15);
        hash ^= hash >> 29;
        hash = (hash + shares[i].joker) * UINT64_C(0xC2B2AE3D27D4EB4F);
        hash ^= hash >> 32;
    }
    return (uint32_t)(hash ^ hash >> 32);
}

static bool grow_family_slots(struct pool *pool) {
    if (pool->family_count * 2 < pool->family_slot_count)
        return true;
    size_t slot_count = pool->family_slot_count == 0 ? 1024 : pool->family_slot_count * 4;
    uint32_t *slots = memory_new(pool->allocator, slot_count, sizeof *slots);
    if (slots == NULL) {
        pool_short_of_memory(pool);
        return false;
    }
    for (size_t i = 0; i < pool->family_count; i++) {
        size_t at = pool->families[i].hash & (slot_count - 1);
        while (slots[at] != 0)
            at = (at + 1) & (slot_count - 1);
        slots[at] = (uint32_t)i + 1;
    }
    memory_release(pool->allocator, pool->family_slots);
    pool->family_slots = slots;
    pool->family_slot_count = slot_count;
    return true;
}

uint32_t family_of_shares(struct pool *pool, bool honours, const struct packed_share *shares,
                          size_t count, int excess) {
    if (!grow_family_slots(pool))
        return 0;
    uint32_t hash = hash_shares(shares, count, honours);
    size_t mask = pool->family_slot_count - 1, at = hash & mask;
    for (; pool->family_slots[at] != 0; at = (at + 1) & mask) {
        uint32_t id = pool->family_slots[at] - 1;
        const struct family *family = &pool->families[id];
        if (family->hash == hash && family->honours == honours && family->count == count &&
            memcmp(pool->shares + family->first, shares, count * sizeof *shares) == 0)
            return id;
    }
    if (!pool_reserve(pool, (void **)&pool->families, &pool->family_capacity,
                      pool->family_count + 1, sizeof(struct family)) ||
        !pool_reserve(pool, (void **)&pool->shares, &pool->share_capacity,
                      pool->share_count + count, sizeof *shares))
        return 0;
    memcpy(pool->shares + pool->share_count, shares, count * sizeof *shares);
    pool->families[pool->family_count] = (struct family){(uint32_t)pool->share_count,
                                                         (uint32_t)count,
                                                         hash,
                                                         (uint8_t)packed_total(shares[0].need),
                                                         (uint8_t)excess,
                                                         honours,
                                                         0};
    pool->share_count += count;
    pool->family_slots[at] = (uint32_t)pool->family_count + 1;
    return (uint32_t)pool->family_count++;
}

/* Copies of the kinds of a part. Every suit that occurs has the same. */
static uint64_t packed_copies(const nh_tiles *set, bool honours) {
    uint64_t copies = 0;
    for (int slot = 0; slot < PART_KINDS; slot++) {
        int kind = PART_HONOUR * PART_KINDS + slot;
        unsigned tiles = !honours ? COPIES : kind != NH_JOKER ? set->count[kind] : 0;
        copies |= packed_count(slot, tiles);
    }
    return copies;
}

bool pool_init(struct pool *pool, const nh_allocator *allocator, const nh_tiles *set) {
    *pool = (struct pool){.budget = {.from = allocator, .most = WORK_BYTES_MAX},
                          .set = *set,
                          .copies = {packed_copies(set, false), packed_copies(set, true)}};
    pool->budgeted = budget_allocator(&pool->budget);
    pool->allocator = &pool->budgeted;
    struct packed_share nothing = {0, 0};
    family_of_shares(pool, false, &nothing, 1, 0);
    family_of_shares(pool, true, &nothing, 1, 0);
    return pool->status == NH_OK && merge_scratch_init(pool);
}

void pool_free(struct pool *pool) {
    const nh_allocator *allocator = pool->allocator;
    memory_release(allocator, pool->shares);
    memory_release(allocator, pool->families);
    memory_release(allocator, pool->family_slots);
    memory_release(allocator, pool->sums);
    memory_release(allocator, pool->results);
    memory_release(allocator, pool->scratch);
    memory_release(allocator, pool->unions);
    merge_scratch_free(pool);
    pool->shares = NULL;
    pool->families = NULL;
    pool->family_slots = NULL;
    pool->sums = NULL;
    pool->results = NULL;
    pool->scratch = NULL;
    pool->unions = NULL;
    pool->merge = NULL;
}
