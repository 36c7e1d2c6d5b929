/* Sums and unions of families. */
#include "compile/family_sums.h"
#include "compile/work.h"

#include <string.h>

struct sum_memo {
    uint32_t a, b; /* a <= b; families + 1, 0 for an empty slot */
    uint32_t first, count;
};

static bool grow_sums(struct pool *pool) {
    if (pool->sum_count * 2 < pool->sum_slot_count)
        return true;
    size_t slot_count = pool->sum_slot_count == 0 ? 4096 : pool->sum_slot_count * 4;
    struct sum_memo *sums = memory_new(pool->allocator, slot_count, sizeof *sums);
    if (sums == NULL) {
        pool_fail(pool, NH_ERROR_MEMORY);
        return false;
    }
    for (size_t i = 0; i < pool->sum_slot_count; i++) {
        const struct sum_memo *sum = &pool->sums[i];
        if (sum->a == 0)
            continue;
        size_t at = (sum->a * 0x9E3779B1u ^ sum->b * 0x85EBCA77u) & (slot_count - 1);
        while (sums[at].a != 0)
            at = (at + 1) & (slot_count - 1);
        sums[at] = *sum;
    }
    memory_release(pool->allocator, pool->sums);
    pool->sums = sums;
    pool->sum_slot_count = slot_count;
    return true;
}

static void add_every_pair(struct pool *pool, uint32_t a, uint32_t b) {
    bool fewer = pool->families[a].count < pool->families[b].count; /* the runs are longer */
    const struct family *left = &pool->families[fewer ? a : b];
    const struct family *right = &pool->families[fewer ? b : a];
    if ((uint64_t)left->count * right->count > SHARES_MAX) {
        pool_fail(pool, NH_ERROR_LIMIT);
        return;
    }
    size_t count = (size_t)left->count * right->count;
    struct share *sums =
        pool_work(pool, STEPS_SHARE * (uint64_t)count) ? pool_scratch(pool, count) : NULL;
    if (sums == NULL)
        return;
    struct share *sum = sums;
    for (uint32_t i = 0; i < left->count; i++) {
        for (uint32_t j = 0; j < right->count; j++, sum++) {
            const uint8_t *x = (const uint8_t *)&pool->shares[left->first + i];
            const uint8_t *y = (const uint8_t *)&pool->shares[right->first + j];
            for (size_t k = 0; k < sizeof *sum; k++)
                ((uint8_t *)sum)[k] = (uint8_t)(x[k] + y[k]);
        }
    }
    families_of_shares(pool, left->honours, sums, count);
}

size_t families_sum(struct pool *pool, uint32_t a, uint32_t b, uint32_t *count) {
    *count = 0;
    if (!grow_sums(pool))
        return 0;
    uint32_t low = (a < b ? a : b) + 1, high = (a < b ? b : a) + 1;
    size_t mask = pool->sum_slot_count - 1;
    size_t at = (low * 0x9E3779B1u ^ high * 0x85EBCA77u) & mask;
    for (; pool->sums[at].a != 0; at = (at + 1) & mask) {
        if (pool->sums[at].a == low && pool->sums[at].b == high) {
            *count = pool->sums[at].count;
            return pool->sums[at].first;
        }
    }
    size_t first = pool->result_count;
    add_every_pair(pool, a, b);
    if (pool->status != NH_OK)
        return 0;
    *count = (uint32_t)(pool->result_count - first);
    pool->sums[at] = (struct sum_memo){low, high, (uint32_t)first, *count};
    pool->sum_count++;
    return first;
}

uint32_t families_unite(struct pool *pool, const uint64_t (*keys)[3], size_t count) {
    size_t total = 0;
    for (size_t i = 0; i < count; i++)
        total += pool->families[(uint32_t)keys[i][2]].count;
    struct share *shares =
        pool_work(pool, STEPS_SHARE * (uint64_t)total) ? pool_scratch(pool, total) : NULL;
    if (shares == NULL)
        return 0;
    size_t at = 0;
    for (size_t i = 0; i < count; i++) {
        const struct family *family = &pool->families[(uint32_t)keys[i][2]];
        memcpy(shares + at, pool->shares + family->first, family->count * sizeof *shares);
        at += family->count;
    }
    const struct family *one = &pool->families[(uint32_t)keys[0][2]];
    return family_of_shares(pool, one->honours, shares, shares_tidy(shares, shares + total, total),
                            one->excess);
}
