/* Families of shares and products of families. Sums of families are worked out
 * once and remembered, and equal families are found by their contents, so that
 * patterns which look alike share nearly all of their parts. */
#include "compile/family.h"

#include <stdlib.h>
#include <string.h>

struct sum_memo {
    uint32_t a, b; /* a <= b; families + 1, 0 for an empty slot */
    uint32_t first, count;
};

static void fail(struct pool *pool, nh_status status) {
    if (pool->status == NH_OK)
        pool->status = status;
}

static bool reserve(struct pool *pool, void **items, size_t *capacity, size_t needed, size_t size) {
    if (memory_reserve(pool->allocator, items, capacity, needed, size))
        return true;
    fail(pool, NH_ERROR_MEMORY);
    return false;
}

bool pool_work(struct pool *pool, uint64_t steps) {
    pool->work += steps;
    if (pool->work > NH_WORK_MAX || pool->all_work + pool->work > NH_LIST_WORK_MAX)
        fail(pool, NH_ERROR_LIMIT);
    return pool->status == NH_OK;
}

/* Steps for a share that is sorted among others, and for a product. */
#define STEPS_SHARE 16u
#define STEPS_PRODUCT 16u

/* Room for so many shares, and as much again to sort them. */
static struct share *scratch_for(struct pool *pool, size_t count) {
    if (count > NH_VECTORS_MAX) {
        fail(pool, NH_ERROR_LIMIT);
        return NULL;
    }
    if (!reserve(pool, (void **)&pool->scratch, &pool->scratch_capacity, 2 * count,
                 sizeof(struct share)))
        return NULL;
    return pool->scratch;
}

/* ------------------------------------------------------------- shares --- */

/* Eight bytes as a number that is ordered as memcmp orders them. */
static uint64_t ordered_word(const uint8_t *bytes) {
    uint64_t word;
    memcpy(&word, bytes, sizeof word);
#if __BYTE_ORDER__ == __ORDER_LITTLE_ENDIAN__
    word = __builtin_bswap64(word);
#endif
    return word;
}

/* Whether share a stands before share b, as memcmp orders them. */
static bool stands_before(const struct share *a, const struct share *b) {
    const uint8_t *x = (const uint8_t *)a, *y = (const uint8_t *)b;
    uint64_t first = ordered_word(x), second = ordered_word(y);
    if (first != second)
        return first < second;
    return memcmp(x + sizeof first, y + sizeof first, sizeof *a - sizeof first) < 0;
}

/* The end of the sorted run that begins at `start`. */
static size_t run_end(const struct share *shares, size_t start, size_t count) {
    size_t end = start + (start < count);
    while (end < count && !stands_before(&shares[end], &shares[end - 1]))
        end++;
    return end;
}

static void merge_runs(const struct share *left, const struct share *middle,
                       const struct share *end, struct share *to) {
    const struct share *right = middle;
    while (left < middle && right < end)
        *to++ = stands_before(right, left) ? *right++ : *left++;
    memcpy(to, left, (size_t)(middle - left) * sizeof *to);
    memcpy(to + (middle - left), right, (size_t)(end - right) * sizeof *to);
}

/* Sorts shares by merging the sorted runs that they stand in, two and two, until
 * one is left; `spare` has as much room. A family is sorted, and is so still when
 * the same share is added to each of its own: so runs are long. */
static void sort_shares(struct share *shares, struct share *spare, size_t count) {
    struct share *from = shares, *to = spare;
    while (run_end(from, 0, count) < count) {
        for (size_t start = 0, end; start < count; start = end) {
            size_t middle = run_end(from, start, count);
            end = run_end(from, middle, count);
            merge_runs(from + start, from + middle, from + end, to + start);
        }
        struct share *merged = to;
        to = from;
        from = merged;
    }
    if (from != shares)
        memcpy(shares, from, count * sizeof *shares);
}

/* Copies of the kinds of a part. Every suit that occurs has the same. */
static uint8_t copies_of(const struct pool *pool, bool honours, int slot) {
    if (!honours)
        return COPIES;
    return slot < PART_KINDS - 1 ? pool->set.count[PART_HONOUR * PART_KINDS + slot] : 0;
}

/* The tiles of a share beyond the copies of the set, or -1 when jokers cannot
 * be all of them. Adding tiles to a share never makes it possible again. */
static int excess_of(const struct pool *pool, bool honours, const struct share *share) {
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

static int size_of(const struct share *share) {
    int size = 0;
    for (int slot = 0; slot < PART_KINDS; slot++)
        size += share->need[slot];
    return size;
}

static bool jokers_at_least(const struct share *a, const struct share *b) {
    for (int slot = 0; slot < PART_KINDS; slot++)
        if (a->joker[slot] < b->joker[slot])
            return false;
    return true;
}

/* Sorts shares, drops repeated ones and those that another, with the same
 * tiles, betters by what jokers may be. The number that is left. */
static size_t tidy(struct share *shares, struct share *spare, size_t count) {
    sort_shares(shares, spare, count);
    size_t kept = 0, same = 0; /* shares[same .. kept) have the tiles of the last */
    for (size_t i = 0; i < count; i++) {
        struct share share = shares[i];
        if (kept == 0 || memcmp(shares[same].need, share.need, PART_KINDS) != 0)
            same = kept;
        bool bettered = false;
        for (size_t j = same; j < kept && !bettered; j++)
            bettered = jokers_at_least(&shares[j], &share);
        if (bettered)
            continue;
        size_t to = same;
        for (size_t j = same; j < kept; j++)
            if (!jokers_at_least(&share, &shares[j]))
                shares[to++] = shares[j];
        shares[to] = share;
        kept = to + 1;
    }
    return kept;
}

/* ----------------------------------------------------------- families --- */

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
        fail(pool, NH_ERROR_MEMORY);
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

/* The family of tidy shares, all of one size and excess. */
static uint32_t intern(struct pool *pool, bool honours, const struct share *shares, size_t count,
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
    if (pool->share_count + count > NH_VECTORS_MAX) {
        fail(pool, NH_ERROR_LIMIT);
        return 0;
    }
    if (!reserve(pool, (void **)&pool->families, &pool->family_capacity, pool->family_count + 1,
                 sizeof(struct family)) ||
        !reserve(pool, (void **)&pool->shares, &pool->share_capacity, pool->share_count + count,
                 sizeof(struct share)))
        return 0;
    memcpy(pool->shares + pool->share_count, shares, count * sizeof *shares);
    pool->families[pool->family_count] = (struct family){(uint32_t)pool->share_count,
                                                         (uint32_t)count,
                                                         hash,
                                                         (uint8_t)size_of(&shares[0]),
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
        int own = excess_of(pool, honours, &shares[i]);
        if (own == excess)
            out[taken++] = shares[i];
        else if (own >= 0)
            shares[kept++] = shares[i];
    }
    *count = kept;
    return taken;
}

/* Appends to `results` the families of raw shares of one size: those that no
 * set holds are dropped, the others are parted by excess. Behind them is as much
 * room again. */
static void intern_raw(struct pool *pool, bool honours, struct share *shares, size_t count) {
    struct share *out = shares + count;
    for (int excess = 0; excess <= JOKERS_MAX && count > 0; excess++) {
        size_t taken = take_out(pool, honours, excess, shares, &count, out);
        if (taken == 0)
            continue;
        /* what was taken has left as much room behind what is kept */
        size_t left = tidy(out, shares + count, taken);
        uint32_t id = intern(pool, honours, out, left, excess);
        if (pool->status != NH_OK || !reserve(pool, (void **)&pool->results, &pool->result_capacity,
                                              pool->result_count + 1, sizeof *pool->results))
            return;
        pool->results[pool->result_count++] = id;
    }
}

static bool grow_sums(struct pool *pool) {
    if (pool->sum_count * 2 < pool->sum_slot_count)
        return true;
    size_t slot_count = pool->sum_slot_count == 0 ? 4096 : pool->sum_slot_count * 4;
    struct sum_memo *sums = memory_new(pool->allocator, slot_count, sizeof *sums);
    if (sums == NULL) {
        fail(pool, NH_ERROR_MEMORY);
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
    if ((uint64_t)left->count * right->count > NH_VECTORS_MAX) {
        fail(pool, NH_ERROR_LIMIT);
        return;
    }
    size_t count = (size_t)left->count * right->count;
    struct share *sums =
        pool_work(pool, STEPS_SHARE * (uint64_t)count) ? scratch_for(pool, count) : NULL;
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
    intern_raw(pool, left->honours, sums, count);
}

/* The families of the sums of a share of `a` and a share of `b`, as a list of
 * `*count` families in `results`. */
static size_t sum_families(struct pool *pool, uint32_t a, uint32_t b, uint32_t *count) {
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

/* The union of families of one size and excess. */
static uint32_t unite(struct pool *pool, const uint64_t (*keys)[3], size_t count) {
    size_t total = 0;
    for (size_t i = 0; i < count; i++)
        total += pool->families[(uint32_t)keys[i][2]].count;
    struct share *shares =
        pool_work(pool, STEPS_SHARE * (uint64_t)total) ? scratch_for(pool, total) : NULL;
    if (shares == NULL)
        return 0;
    size_t at = 0;
    for (size_t i = 0; i < count; i++) {
        const struct family *family = &pool->families[(uint32_t)keys[i][2]];
        memcpy(shares + at, pool->shares + family->first, family->count * sizeof *shares);
        at += family->count;
    }
    const struct family *one = &pool->families[(uint32_t)keys[0][2]];
    return intern(pool, one->honours, shares, tidy(shares, shares + total, total), one->excess);
}

/* --------------------------------------------------------------- pool --- */

bool pool_init(struct pool *pool, const nh_allocator *allocator, const nh_tiles *set) {
    *pool = (struct pool){.allocator = allocator, .set = *set};
    struct share nothing = {{0}, {0}};
    intern(pool, false, &nothing, 1, 0);
    intern(pool, true, &nothing, 1, 0);
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

/* ----------------------------------------------------------- products --- */

static void add_product(struct pool *pool, const struct product *product, struct products *out) {
    int excess = 0;
    for (int part = 0; part < PARTS; part++)
        excess += pool->families[product->family[part]].excess;
    if (excess > pool->set.count[NH_JOKER])
        return;
    if (out->count >= NH_PRODUCTS_MAX) {
        fail(pool, NH_ERROR_LIMIT);
        return;
    }
    if (reserve(pool, (void **)&out->items, &out->capacity, out->count + 1, sizeof *out->items))
        out->items[out->count++] = *product;
}

void products_add_target(struct pool *pool, const struct share shares[PARTS], uint8_t prevailing,
                         uint8_t seat, struct products *out) {
    struct product product = {.prevailing = prevailing, .seat = seat};
    for (int part = 0; part < PARTS; part++) {
        bool honours = part == PART_HONOUR;
        int excess = excess_of(pool, honours, &shares[part]);
        if (excess < 0)
            return;
        product.family[part] = intern(pool, honours, &shares[part], 1, excess);
    }
    if (pool->status == NH_OK)
        add_product(pool, &product, out);
}

void products_add_nothing(struct pool *pool, struct products *out) {
    struct product product = {
        {FAMILY_NO_SUIT, FAMILY_NO_SUIT, FAMILY_NO_SUIT, FAMILY_NO_HONOURS}, 0, 0};
    add_product(pool, &product, out);
}

/* Both are made while the player's winds have one value each: a product either
 * presumes it or none. */
static void add_sum_of_two(struct pool *pool, const struct product *a, const struct product *b,
                           struct products *out) {
    size_t first[PARTS];
    uint32_t count[PARTS];
    for (int part = 0; part < PARTS; part++) {
        first[part] = sum_families(pool, a->family[part], b->family[part], &count[part]);
        if (count[part] == 0)
            return;
    }
    struct product sum = {.prevailing = a->prevailing != 0 ? a->prevailing : b->prevailing,
                          .seat = a->seat != 0 ? a->seat : b->seat};
    uint32_t at[PARTS] = {0};
    for (int part = 0; part < PARTS;) {
        for (int i = 0; i < PARTS; i++)
            sum.family[i] = pool->results[first[i] + at[i]];
        add_product(pool, &sum, out);
        for (part = 0; part < PARTS && ++at[part] == count[part]; part++)
            at[part] = 0;
    }
}

void products_add_sum(struct pool *pool, const struct products *a, const struct products *b,
                      struct products *out) {
    for (size_t i = 0; i < a->count && pool_work(pool, STEPS_PRODUCT * (uint64_t)b->count); i++)
        for (size_t j = 0; j < b->count && pool->status == NH_OK; j++)
            add_sum_of_two(pool, &a->items[i], &b->items[j], out);
}

void products_append(struct pool *pool, const struct products *from, struct products *out) {
    for (size_t i = 0; i < from->count && pool->status == NH_OK; i++)
        add_product(pool, &from->items[i], out);
}

void products_free(const struct pool *pool, struct products *products) {
    memory_release(pool->allocator, products->items);
    *products = (struct products){0};
}

/* The sorting key of a product with one part set apart: what must be equal for
 * a merge stands first, the family of that part last. */
static void make_key(const struct pool *pool, const struct product *product, int apart,
                     uint64_t key[3]) {
    uint64_t others[PARTS - 1];
    int count = 0;
    for (int part = 0; part < PARTS; part++)
        if (part != apart)
            others[count++] = product->family[part];
    const struct family *family = &pool->families[product->family[apart]];
    key[0] = others[0] << 32 | others[1];
    key[1] = others[2] << 32 | (uint64_t)family->size << 16 | (uint64_t)family->excess << 8 |
             (uint64_t)product->prevailing << 4 | product->seat;
    key[2] = product->family[apart];
}

static struct product product_of_key(const uint64_t key[3], int apart) {
    struct product product = {.prevailing = (uint8_t)(key[1] >> 4 & 15u),
                              .seat = (uint8_t)(key[1] & 15u)};
    uint32_t others[PARTS - 1] = {(uint32_t)(key[0] >> 32), (uint32_t)key[0],
                                  (uint32_t)(key[1] >> 32)};
    int count = 0;
    for (int part = 0; part < PARTS; part++)
        product.family[part] = part == apart ? (uint32_t)key[2] : others[count++];
    return product;
}

static int key_compare(const void *a, const void *b) {
    const uint64_t *x = a, *y = b;
    for (int i = 0; i < 3; i++)
        if (x[i] != y[i])
            return x[i] < y[i] ? -1 : 1;
    return 0;
}

/* Merges products that differ in part `apart` only. True when there are fewer
 * products than before. */
static bool merge_part(struct pool *pool, struct products *products, int apart) {
    size_t count = products->count, kept = 0;
    if (!pool_work(pool, STEPS_PRODUCT * (uint64_t)count) ||
        !reserve(pool, (void **)&pool->keys, &pool->key_capacity, count * 3, sizeof(uint64_t)))
        return false;
    uint64_t(*keys)[3] = (uint64_t(*)[3])pool->keys;
    for (size_t i = 0; i < count; i++)
        make_key(pool, &products->items[i], apart, keys[i]);
    qsort(keys, count, sizeof *keys, key_compare);
    for (size_t i = 0; i < count;) {
        size_t end = i + 1;
        while (end < count && keys[end][0] == keys[i][0] && keys[end][1] == keys[i][1])
            end++;
        struct product merged = product_of_key(keys[i], apart);
        if (keys[end - 1][2] != keys[i][2])
            merged.family[apart] = unite(pool, (const uint64_t(*)[3])(keys + i), end - i);
        products->items[kept++] = merged;
        i = end;
        if (pool->status != NH_OK)
            return false;
    }
    products->count = kept;
    return kept < count;
}

void products_merge(struct pool *pool, struct products *products) {
    static const uint8_t order[PARTS] = {PART_HONOUR, PART_BAM, PART_CRAK, PART_DOT};
    int unchanged = 0;
    for (int i = 0; unchanged < PARTS && products->count > 0 && pool->status == NH_OK; i++)
        unchanged = merge_part(pool, products, order[i % PARTS]) ? 0 : unchanged + 1;
}
