/* Families of shares, each found by its contents: equal families are one, and
 * patterns that look alike share nearly all of theirs. */
#include "compile/pool.h"
#include "compile/work.h"

#include <string.h>

void pool_fail(struct pool *pool, nh_status status) {
    if (pool->status == NH_OK)
        pool->status = status;
}

bool pool_reserve(struct pool *pool, void **items, size_t *capacity, size_t needed, size_t size) {
    if (memory_reserve(pool->allocator, items, capacity, needed, size))
        return true;
    pool_fail(pool, NH_ERROR_MEMORY);
    return false;
}

bool pool_work(struct pool *pool, uint64_t steps) {
    pool->work += steps;
    if (pool->work > PATTERN_WORK_MAX || pool->all_work + pool->work > LIST_WORK_MAX)
        pool_fail(pool, NH_ERROR_LIMIT);
    return pool->status == NH_OK;
}

struct share *pool_scratch(struct pool *pool, size_t count) {
    if (count > SHARES_MAX) {
        pool_fail(pool, NH_ERROR_LIMIT);
        return NULL;
    }
    if (!pool_reserve(pool, (void **)&pool->scratch, &pool->scratch_capacity, 2 * count,
                      sizeof(struct share)))
        return NULL;
    return pool->scratch;
}

/* Copies of the kinds of a part. Every suit that occurs has the same. */
static uint8_t copies_of(const struct pool *pool, bool honours, int slot) {
    if (!honours)
        return COPIES;
    return slot < PART_KINDS - 1 ? pool->set.count[PART_HONOUR * PART_KINDS + slot] : 0;
}

int excess_of_share(const struct pool *pool, bool honours, const struct share *share) {
    int excess = 0;
    for (int slot = 0; slot < PART_KINDS; slot++) {
        int beyond = share->need[slot] - copies_of(pool, honours, slot);
        if (beyond <= 0)
            continue;
        if (beyond > share->joker[slot])
            return -1;
        excess += beyond;
    }
    return excess <= pool->set.count[NH_JOKER] ? excess : -1;
}

/* A hash of the bytes of shares, eight at a time. */
static uint32_t hash_shares(const struct share *shares, size_t count, bool honours) {
    const uint8_t *bytes = (const uint8_t *)shares;
    size_t length = count * sizeof *shares;
    uint64_t hash = honours ? 1 : 2;
    for (size_t at = 0; at < length; at += sizeof(uint64_t)) {
        uint64_t word = 0;
        size_t rest = length - at;
        memcpy(&word, bytes + at, rest < sizeof word ? rest : sizeof word);
        hash = (hash ^ word) * UINT64_C(0x9E3779B97F4A7C15);
        hash ^= hash >> 29;
    }
    return (uint32_t)(hash ^ hash >> 32);
}

static bool grow_family_slots(struct pool *pool) {
    if (pool->family_count * 2 < pool->family_slot_count)
        return true;
    size_t slot_count = pool->family_slot_count == 0 ? 1024 : pool->family_slot_count * 4;
    uint32_t *slots = memory_new(pool->allocator, slot_count, sizeof *slots);
    if (slots == NULL) {
        pool_fail(pool, NH_ERROR_MEMORY);
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

uint32_t family_of_shares(struct pool *pool, bool honours, const struct share *shares, size_t count,
                          int excess) {
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
    if (pool->share_count + count > SHARES_MAX) {
        pool_fail(pool, NH_ERROR_LIMIT);
        return 0;
    }
    if (!pool_reserve(pool, (void **)&pool->families, &pool->family_capacity,
                      pool->family_count + 1, sizeof(struct family)) ||
        !pool_reserve(pool, (void **)&pool->shares, &pool->share_capacity,
                      pool->share_count + count, sizeof(struct share)))
        return 0;
    memcpy(pool->shares + pool->share_count, shares, count * sizeof *shares);
    pool->families[pool->family_count] = (struct family){(uint32_t)pool->share_count,
                                                         (uint32_t)count,
                                                         hash,
                                                         (uint8_t)share_size(&shares[0]),
                                                         (uint8_t)excess,
                                                         honours,
                                                         0};
    pool->share_count += count;
    pool->family_slots[at] = (uint32_t)pool->family_count + 1;
    return (uint32_t)pool->family_count++;
}

/* Moves the shares of one excess to `out`, drops those that no set holds, and
 * keeps the others; all stay in their order. */
static size_t take_out(const struct pool *pool, bool honours, int excess, struct share *shares,
                       size_t *count, struct share *out) {
    size_t kept = 0, taken = 0;
    for (size_t i = 0; i < *count; i++) {
        int own = excess_of_share(pool, honours, &shares[i]);
        if (own == excess)
            out[taken++] = shares[i];
        else if (own >= 0)
            shares[kept++] = shares[i];
    }
    *count = kept;
    return taken;
}

void families_of_shares(struct pool *pool, bool honours, struct share *shares, size_t count) {
    struct share *out = shares + count;
    for (int excess = 0; excess <= JOKERS_MAX && count > 0; excess++) {
        size_t taken = take_out(pool, honours, excess, shares, &count, out);
        if (taken == 0)
            continue;
        /* what was taken has left as much room behind what is kept */
        size_t left = shares_tidy(out, shares + count, taken);
        uint32_t id = family_of_shares(pool, honours, out, left, excess);
        if (pool->status != NH_OK ||
            !pool_reserve(pool, (void **)&pool->results, &pool->result_capacity,
                          pool->result_count + 1, sizeof *pool->results))
            return;
        pool->results[pool->result_count++] = id;
    }
}

bool pool_init(struct pool *pool, const nh_allocator *allocator, const nh_tiles *set) {
    *pool = (struct pool){.allocator = allocator, .set = *set};
    struct share nothing = {{0}, {0}};
    family_of_shares(pool, false, &nothing, 1, 0);
    family_of_shares(pool, true, &nothing, 1, 0);
    return pool->status == NH_OK;
}

void pool_free(struct pool *pool) {
    const nh_allocator *allocator = pool->allocator;
    memory_release(allocator, pool->shares);
    memory_release(allocator, pool->families);
    memory_release(allocator, pool->family_slots);
    memory_release(allocator, pool->sums);
    memory_release(allocator, pool->results);
    memory_release(allocator, pool->scratch);
    memory_release(allocator, pool->keys);
}
