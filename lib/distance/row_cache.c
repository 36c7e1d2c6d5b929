/* Rows of distances: worked out once for each content of a part, remembered. */
#include "distance/row_cache.h"

#include <string.h>

/* Buckets for all contents of suits that deals have, some ten thousand: with more, rows lie
 * farther apart, and most of the time of a look-up goes by while memory is waited for. */
#define BUCKET_BITS_MOST 12

/* Four bits for each of the first eight kinds of a part, five for the ninth:
 * equal contents and only they have equal words, in either byte order. */
static uint64_t pack(const uint8_t count[PART_KINDS]) {
    uint64_t word;
    memcpy(&word, count, sizeof word);
    word = (word | word >> 4) & UINT64_C(0x00FF00FF00FF00FF);
    word = (word | word >> 8) & UINT64_C(0x0000FFFF0000FFFF);
    word = (word | word >> 16) & UINT64_C(0x00000000FFFFFFFF);
    return word | (uint64_t)count[PART_KINDS - 1] << 32;
}

static bool table_init(struct row_table *table, const nh_allocator *allocator, size_t families,
                       size_t bytes) {
    table->row_stride = (uint32_t)((families + 15) / 16 * 16);
    size_t bucket_size = BUCKET * (table->row_stride + sizeof *table->tags);
    unsigned bits = 2;
    while (bits < BUCKET_BITS_MOST && (bucket_size << (bits + 1)) <= bytes)
        bits++;
    table->bucket_bits = bits;
    size_t slots = (size_t)BUCKET << bits;
    table->tags = memory_new(allocator, slots, sizeof *table->tags);
    table->slots = memory_new_raw(allocator, slots * table->row_stride + ROW_READ_BEHIND, 1);
    return table->tags != NULL && table->slots != NULL;
}

/* With at most so many bytes for slots. */
static bool init_within(struct row_memo *memo, const nh_list *list, size_t suit_bytes,
                        size_t honour_bytes, const nh_allocator *allocator) {
    unsigned jokers = list->set.count[NH_JOKER];
    size_t honour_families = list->family_count - list->suit_family_count;
    *memo = (struct row_memo){.allocator = *allocator};
    bool good = table_init(&memo->suits, allocator, list->suit_family_count, suit_bytes) &&
                table_init(&memo->honours, allocator, honour_families, honour_bytes);
    good &= shortage_memo_init(&memo->shortage, list, allocator);
    for (int part = 0; part < PARTS && good && jokers > KERNEL_JOKERS; part++) {
        size_t stride = part == PART_HONOUR ? memo->honours.row_stride : memo->suits.row_stride;
        memo->many[part] = memory_new_raw(allocator, stride * (jokers + 1), 1);
        good = memo->many[part] != NULL;
    }
    return good;
}

bool row_memo_init(struct row_memo *memo, const nh_list *list, const nh_allocator *allocator) {
    return init_within(memo, list, SUIT_SLOT_BYTES, HONOUR_SLOT_BYTES, allocator);
}

bool row_memo_init_small(struct row_memo *memo, const nh_list *list,
                         const nh_allocator *allocator) {
    return init_within(memo, list, SMALL_SLOT_BYTES, SMALL_SLOT_BYTES, allocator);
}

void row_memo_free(struct row_memo *memo) {
    memory_release(&memo->allocator, memo->suits.tags);
    memory_release(&memo->allocator, memo->suits.slots);
    memory_release(&memo->allocator, memo->honours.tags);
    memory_release(&memo->allocator, memo->honours.slots);
    for (int part = 0; part < PARTS; part++)
        memory_release(&memo->allocator, memo->many[part]);
    shortage_memo_free(&memo->shortage, &memo->allocator);
}

/* Works out the row of a part. */
static void fill_row(struct query *query, int part, uint8_t *row) {
    const nh_list *list = query->list;
    const struct kernels *kernels = list->kernels;
    bool jokers = list->set.count[NH_JOKER] > 0;
    size_t first, end;
    query_add_bits(query);
    families_of(list, part, &first, &end);
    uint64_t have = query->have[part], dead = ~query->live[part];
    for (size_t f = first; f < end; f++, row++) {
        const struct family *family = &list->families[f];
        const uint64_t *bits = list->bits + family->first, *hard = list->hard + family->first;
        if (!jokers) {
            int common = kernels->most_common(bits, hard, family->count, have, dead);
            *row = (uint8_t)(common < 0 ? FAR : family->size - common);
            continue;
        }
        uint8_t least[KERNEL_JOKERS + 1];
        kernels->least_lacking(bits, hard, family->count, have, dead, family->size, least);
        *row = least[0];
        for (unsigned j = 1; j <= KERNEL_JOKERS; j++)
            *row |= (uint8_t)((unsigned)(least[j - 1] - least[j]) << (4 + j));
    }
}

/* With many jokers: the least missing for each number of open tiles, then for
 * each number of jokers the best use of them. */
static void fill_many(struct query *query, int part, uint8_t *rows, size_t stride) {
    const nh_list *list = query->list;
    size_t first, end;
    query_add_bits(query);
    families_of(list, part, &first, &end);
    for (size_t f = first; f < end; f++, rows++) {
        const struct family *family = &list->families[f];
        uint8_t least[JOKERS_MAX + 1];
        memset(least, FAR, sizeof least);
        for (uint32_t i = 0; i < family->count; i++) {
            struct fit fit = fit_share(query, part, family, i);
            unsigned open = fit.open < query->jokers ? fit.open : query->jokers;
            if (fit.live && fit.missing < least[open])
                least[open] = fit.missing;
        }
        for (unsigned j = 0; j <= query->jokers; j++) {
            uint8_t near = FAR;
            for (unsigned open = 0; open <= query->jokers; open++) {
                unsigned used = open < j ? open : j;
                if (least[open] < FAR && least[open] - used < near)
                    near = (uint8_t)(least[open] - used);
            }
            rows[j * stride] = near;
        }
    }
}

/* The slot of a bucket that a new row may take: an empty one, or the next in
 * turn, but none that an earlier part of the same hand lies in. A bucket has
 * more slots than a hand has suits, so there is always one. */
static size_t slot_to_give(struct row_table *table, size_t bucket, int part,
                           const struct near_rows *rows) {
    for (size_t slot = bucket; slot < bucket + BUCKET; slot++)
        if (table->tags[slot].key == 0)
            return slot;
    for (;;) {
        size_t slot = bucket + table->turn++ % BUCKET;
        bool taken = false;
        for (int earlier = 0; earlier < part; earlier++)
            taken |= rows->row[earlier] == table->slots + slot * table->row_stride;
        if (!taken)
            return slot;
    }
}

static struct row_table *table_of(struct row_memo *memo, int part) {
    return part == PART_HONOUR ? &memo->honours : &memo->suits;
}

/* The tiles left, as far as a row depends on them: not on more than some share must have
 * as themselves. Where jokers may be most tiles many contents have the same row. */
static nh_tiles left_that_matters(const struct query *query) {
    nh_tiles left = query->left;
    if (query->list->set.count[NH_JOKER] == 0)
        return left;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        uint8_t most = query->list->most_hard.count[kind];
        left.count[kind] = left.count[kind] < most ? left.count[kind] : most;
    }
    return left;
}

/* `left`: what matters of it. */
static struct tag tag_of(const struct query *query, const nh_tiles *left, int part) {
    struct tag tag = {pack(query->hand.count + part * PART_KINDS),
                      pack(left->count + part * PART_KINDS)};
    if (part == PART_HONOUR) /* its last slot is the jokers, on which no row depends */
        tag.key &= UINT32_MAX, tag.live &= UINT32_MAX;
    tag.key |= TAG_USED;
    return tag;
}

/* The row of a part, from its bucket or worked out into it. */
static const uint8_t *find_row(struct query *query, struct row_table *table, int part,
                               const struct tag *wanted, size_t bucket,
                               const struct near_rows *rows) {
    for (size_t slot = bucket; slot < bucket + BUCKET; slot++)
        if (tags_equal(&table->tags[slot], wanted))
            return table->slots + slot * table->row_stride;
    size_t slot = slot_to_give(table, bucket, part, rows);
    uint8_t *row = table->slots + slot * table->row_stride;
    fill_row(query, part, row);
    table->tags[slot] = *wanted;
    return row;
}

/* The buckets of all parts are called for before any is looked at: waiting for memory is
 * most of the time of a look-up. */
static void find_rows_of_parts(struct query *query, struct row_memo *memo, struct near_rows *rows) {
    const nh_tiles left = left_that_matters(query);
    struct tag wanted[PARTS];
    size_t bucket[PARTS];
    for (int part = 0; part < PARTS; part++) {
        const struct row_table *table = table_of(memo, part);
        wanted[part] = tag_of(query, &left, part);
        bucket[part] = tag_bucket(&wanted[part], table->bucket_bits);
        __builtin_prefetch(&table->tags[bucket[part]]);
    }
    for (int part = 0; part < PARTS; part++) {
        rows->row[part] =
            find_row(query, table_of(memo, part), part, &wanted[part], bucket[part], rows);
        __builtin_prefetch(rows->row[part]);
    }
}

void rows_look_up(struct query *query, struct row_memo *memo, struct near_rows *rows) {
    rows->many = query->jokers > KERNEL_JOKERS;
    for (int part = 0; part < PARTS; part++) {
        const struct row_table *table = table_of(memo, part);
        rows->stride[part] = table->row_stride;
        rows->pages[part] = (table->row_stride + 255) / 256;
        if (rows->many) {
            fill_many(query, part, memo->many[part], table->row_stride);
            rows->row[part] = memo->many[part];
        }
    }
    if (!rows->many)
        find_rows_of_parts(query, memo, rows);
}

void rows_find(struct query *query, struct row_memo *memo, struct near_rows *rows) {
    shortage_find(query, &memo->shortage);
    rows_look_up(query, memo, rows);
}
