/* Sums and unions of families. */
#include "families/family_sums.h"

#include <string.h>

struct sum_memo {
    uint32_t a, b; /* a <= b; families + 1, 0 for an empty slot */
    struct family_sum sum;
};

/* Hash tables grow fourfold when they are half full. */
static size_t more_slots(size_t slots) {
    return slots == 0 ? 1024 : 4 * slots;
}

static size_t sum_slot(uint32_t a, uint32_t b, size_t slot_count) {
    uint64_t hash = ((uint64_t)a << 32 | b) * UINT64_C(0x9E3779B97F4A7C15);
    return (size_t)(hash >> 32) & (slot_count - 1);
}

static bool grow_sums(struct pool *pool) {
    if (pool->sum_count * 2 < pool->sum_slot_count)
        return true;
    size_t slot_count = more_slots(pool->sum_slot_count);
    struct sum_memo *sums = memory_new(pool->allocator, slot_count, sizeof *sums);
    if (sums == NULL) {
        pool_short_of_memory(pool);
        return false;
    }
    for (size_t i = 0; i < pool->sum_slot_count; i++) {
        const struct sum_memo *memo = &pool->sums[i];
        if (memo->a == 0)
            continue;
        size_t at = sum_slot(memo->a, memo->b, slot_count);
        while (sums[at].a != 0)
            at = (at + 1) & (slot_count - 1);
        sums[at] = *memo;
    }
    memory_release(pool->allocator, pool->sums);
    pool->sums = sums;
    pool->sum_slot_count = slot_count;
    return true;
}

/* Sums are made and sorted in blocks of so many at least: much more memory than the
 * sums that are left at the end is never needed. */
#define BLOCK_LEAST 16384u

/* Moves the shares of one excess to `out`; all stay in their order. */
static size_t take_excess(const struct pool *pool, bool honours, int excess,
                          struct packed_share *shares, size_t *count, struct packed_share *out) {
    size_t kept = 0, taken = 0;
    for (size_t i = 0; i < *count; i++) {
        if (excess_of_share(pool, honours, &shares[i]) == excess)
            out[taken++] = shares[i];
        else
            shares[kept++] = shares[i];
    }
    *count = kept;
    return taken;
}

/* Appends the families of tidy shares, parted by excess, to the results; behind the
 * shares there is as much room again. */
static void add_results(struct pool *pool, bool honours, struct packed_share *shares,
                        size_t count) {
    struct packed_share *out = shares + count;
    for (int excess = 0; count > 0 && pool->status == NH_OK; excess++) {
        size_t taken = take_excess(pool, honours, excess, shares, &count, out);
        if (taken == 0)
            continue;
        uint32_t id = family_of_shares(pool, honours, out, taken, excess);
        if (pool_reserve(pool, (void **)&pool->results, &pool->result_capacity,
                         pool->result_count + 1, sizeof *pool->results))
            pool->results[pool->result_count++] = id;
    }
}

/* Writes the sums of one share and every one of a family that a set holds; the number
 * of them. */
static size_t write_sums(const struct pool *pool, struct packed_share one,
                         const struct family *family, struct packed_share *sums) {
    const struct packed_share *other = pool->shares + family->first;
    size_t count = 0;
    for (uint32_t j = 0; j < family->count; j++) {
        sums[count] = (struct packed_share){one.need + other[j].need, one.joker + other[j].joker};
        count += excess_of_share(pool, family->honours, &sums[count]) >= 0;
    }
    return count;
}

static void add_every_pair(struct pool *pool, uint32_t a, uint32_t b) {
    bool fewer = pool->families[a].count < pool->families[b].count; /* the runs are longer */
    const struct family left = pool->families[fewer ? a : b];
    const struct family right = pool->families[fewer ? b : a];
    size_t tidy = 0, block = BLOCK_LEAST;
    for (uint32_t i = 0; i < left.count;) {
        block = tidy > block ? tidy : block;
        struct packed_share *sums = pool_scratch(pool, 2 * (tidy + block + right.count));
        size_t end = tidy;
        for (; sums != NULL && i < left.count && end < tidy + block; i++) {
            if (!pool_work(pool, STEPS_SHARE * (uint64_t)right.count))
                return;
            end += write_sums(pool, pool->shares[left.first + i], &right, sums + end);
        }
        if (sums == NULL)
            return;
        tidy = packed_tidy(sums, sums + end, end);
    }
    add_results(pool, left.honours, pool->scratch, tidy);
}

struct family_sum families_sum(struct pool *pool, uint32_t a, uint32_t b) {
    if (a <= FAMILY_NO_HONOURS || b <= FAMILY_NO_HONOURS) /* one of them is empty */
        return (struct family_sum){1, a <= FAMILY_NO_HONOURS ? b : a};
    if (!grow_sums(pool))
        return (struct family_sum){0, 0};
    uint32_t low = (a < b ? a : b) + 1, high = (a < b ? b : a) + 1;
    size_t mask = pool->sum_slot_count - 1, at = sum_slot(low, high, mask + 1);
    for (; pool->sums[at].a != 0; at = (at + 1) & mask)
        if (pool->sums[at].a == low && pool->sums[at].b == high)
            return pool->sums[at].sum;
    size_t first = pool->result_count;
    add_every_pair(pool, a, b);
    if (pool->status != NH_OK)
        return (struct family_sum){0, 0};
    struct family_sum sum = {(uint32_t)(pool->result_count - first), (uint32_t)first};
    if (sum.count == 1)
        sum.first = pool->results[--pool->result_count];
    pool->sums[at] = (struct sum_memo){low, high, sum};
    pool->sum_count++;
    return sum;
}

/* --------------------------------------------------------------- unions --- */

struct union_memo {
    uint32_t hash, first, count; /* the families, in the results; count is 0 for an empty slot */
    uint32_t family;
};

static uint32_t hash_families(const uint32_t *families, size_t count) {
    uint64_t hash = count;
    for (size_t i = 0; i < count; i++) {
        hash = (hash ^ families[i]) * UINT64_C(0x9E3779B97F4A7C15);
        hash ^= hash >> 29;
    }
    return (uint32_t)(hash >> 32);
}

static bool grow_unions(struct pool *pool) {
    if (pool->union_count * 2 < pool->union_slot_count)
        return true;
    size_t slot_count = more_slots(pool->union_slot_count);
    struct union_memo *unions = memory_new(pool->allocator, slot_count, sizeof *unions);
    if (unions == NULL) {
        pool_short_of_memory(pool);
        return false;
    }
    for (size_t i = 0; i < pool->union_slot_count; i++) {
        const struct union_memo *memo = &pool->unions[i];
        if (memo->count == 0)
            continue;
        size_t at = memo->hash & (slot_count - 1);
        while (unions[at].count != 0)
            at = (at + 1) & (slot_count - 1);
        unions[at] = *memo;
    }
    memory_release(pool->allocator, pool->unions);
    pool->unions = unions;
    pool->union_slot_count = slot_count;
    return true;
}

static uint32_t unite_shares(struct pool *pool, const uint32_t *families, size_t count) {
    size_t total = 0;
    for (size_t i = 0; i < count; i++)
        total += pool->families[families[i]].count;
    struct packed_share *shares =
        pool_work(pool, STEPS_SHARE * (uint64_t)total) ? pool_scratch(pool, 2 * total) : NULL;
    if (shares == NULL)
        return 0;
    size_t at = 0;
    for (size_t i = 0; i < count; i++) {
        const struct family *family = &pool->families[families[i]];
        memcpy(shares + at, pool->shares + family->first, family->count * sizeof *shares);
        at += family->count;
    }
    const struct family one = pool->families[families[0]];
    return family_of_shares(pool, one.honours, shares, packed_tidy(shares, shares + total, total),
                            one.excess);
}

uint32_t families_unite(struct pool *pool, const uint32_t *families, size_t count) {
    if (!grow_unions(pool))
        return 0;
    uint32_t hash = hash_families(families, count);
    size_t mask = pool->union_slot_count - 1, at = hash & mask;
    for (; pool->unions[at].count != 0; at = (at + 1) & mask) {
        const struct union_memo *memo = &pool->unions[at];
        if (memo->hash == hash && memo->count == count &&
            memcmp(pool->results + memo->first, families, count * sizeof *families) == 0)
            return memo->family;
    }
    uint32_t family = unite_shares(pool, families, count);
    size_t first = pool->result_count;
    if (pool->status != NH_OK ||
        !pool_reserve(pool, (void **)&pool->results, &pool->result_capacity, first + count,
                      sizeof *pool->results))
        return 0;
    memcpy(pool->results + first, families, count * sizeof *families);
    pool->result_count += count;
    pool->unions[at] = (struct union_memo){hash, (uint32_t)first, (uint32_t)count, family};
    pool->union_count++;
    return family;
}
