/* What remembered tables are found by: two words that hold in full what a table
 * depends on, so that it is only ever used for exactly that. */
#ifndef NH_DISTANCE_CACHE_TAG_H
#define NH_DISTANCE_CACHE_TAG_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Slots of a bucket, one of which a hash chooses: their tags are a cache line. */
#define BUCKET 4

/* Set in every key: none is 0, as an empty slot's is. */
#define TAG_USED (UINT64_C(1) << 63)

struct tag {
    uint64_t key, live; /* the tiles held, and those left */
};

static inline bool tags_equal(const struct tag *a, const struct tag *b) {
    return a->key == b->key && a->live == b->live;
}

/* A hash whose high bits are the best. */
static inline uint64_t tag_hash(const struct tag *tag) {
    uint64_t hash =
        (tag->key * UINT64_C(0x9E3779B97F4A7C15)) ^ (tag->live * UINT64_C(0xC2B2AE3D27D4EB4F));
    return hash * UINT64_C(0xD6E8FEB86659FD93);
}

/* The first slot of the tag's bucket, of 2^bits buckets. */
static inline size_t tag_bucket(const struct tag *tag, unsigned bits) {
    return (size_t)(tag_hash(tag) >> (64 - bits)) * BUCKET;
}

#endif
