/* Families of shares and products of families: how a pattern is held.
 *
 * A target falls into four shares, one for each part of the set (three suits,
 * the honours). A family is a set of shares, all of one size; a product of four
 * families, one for each part, stands for every target that takes one share
 * from each. A pattern is a union of products. "Four sets and a pair", which
 * has 11,498,658 targets, is 140 products of some 20 families. */
#ifndef NH_COMPILE_FAMILY_H
#define NH_COMPILE_FAMILY_H

#include "base/memory.h"
#include "tiles/tiles.h"

/* The tiles of one part that a target asks for, and for how many of them a
 * joker may stand. joker[i] <= need[i]; all zero for a set without jokers. */
struct share {
    uint8_t need[PART_KINDS];
    uint8_t joker[PART_KINDS];
};

/* A set of distinct shares with the same number of tiles and the same excess:
 * tiles beyond the copies of the set, which only jokers can be. Suit families
 * serve for each suit alike. */
struct family {
    uint32_t first, count; /* in the shares of the pool */
    uint32_t hash;
    uint8_t size;
    uint8_t excess;
    bool honours;
    uint8_t jokers; /* the most that a share has use for; set in a loaded list */
};

/* A product, and the winds that it presumes (nh_wind, unknown for any). */
struct product {
    uint32_t family[PARTS];
    uint8_t prevailing, seat;
};

struct products {
    struct product *items;
    size_t count, capacity;
};

/* The families that have come up so far: equal families are one. */
struct pool {
    const nh_allocator *allocator;
    nh_tiles set;
    struct share *shares;
    size_t share_count, share_capacity;
    struct family *families;
    size_t family_count, family_capacity;
    uint32_t *family_slots; /* hash table of family + 1 */
    size_t family_slot_count;
    struct sum_memo *sums; /* hash table: families a, b -> results */
    size_t sum_count, sum_slot_count;
    uint32_t *results; /* lists of families */
    size_t result_count, result_capacity;
    struct share *scratch;
    size_t scratch_capacity;
    uint64_t *keys; /* scratch for sorting products */
    size_t key_capacity;
    uint64_t work;     /* steps for the pattern at hand: NH_WORK_MAX */
    uint64_t all_work; /* and for those before: NH_LIST_WORK_MAX */
    nh_status status;  /* NH_OK until memory is short or a limit is passed */
};

/* Family 0 and 1 hold the empty share, of a suit and of the honours. */
enum { FAMILY_NO_SUIT = 0, FAMILY_NO_HONOURS = 1 };

bool pool_init(struct pool *pool, const nh_allocator *allocator, const nh_tiles *set);
void pool_free(struct pool *pool);

/* Counts steps of work, each of some nanoseconds, so that a list of few words
 * that stands for too much of it is refused and does not keep its reader
 * waiting. False once there were too many, or the pool has failed before. */
bool pool_work(struct pool *pool, uint64_t steps);

/* All of the operations below do nothing useful once pool->status is not
 * NH_OK; callers look at it at the end. */

/* Adds the product of the single target whose four shares are given; nothing
 * when no set of tiles holds it. */
void products_add_target(struct pool *pool, const struct share shares[PARTS], uint8_t prevailing,
                         uint8_t seat, struct products *out);

/* Appends the sums of every target of `a` with every one of `b`. */
void products_add_sum(struct pool *pool, const struct products *a, const struct products *b,
                      struct products *out);

void products_append(struct pool *pool, const struct products *from, struct products *out);

/* Drops repeated products and merges those that differ in one part only. */
void products_merge(struct pool *pool, struct products *products);

void products_free(const struct pool *pool, struct products *products);

/* The one product of nothing: all shares empty. */
void products_add_nothing(struct pool *pool, struct products *out);

#endif
