/* The families that are found while a list is compiled: equal ones are one. */
#ifndef NH_COMPILE_POOL_H
#define NH_COMPILE_POOL_H

#include "base/memory.h"
#include "compile/family.h"

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
    uint64_t work;      /* steps for the current pattern: PATTERN_WORK_MAX */
    uint64_t all_work;  /* steps for those before: LIST_WORK_MAX */
    uint64_t explained; /* steps for the reasons why patterns have no target */
    nh_status status;   /* NH_OK until memory is short or a limit is passed */
};

/* Families 0 and 1 hold the empty share, of a suit and of the honours. */
enum { FAMILY_NO_SUIT = 0, FAMILY_NO_HONOURS = 1 };

bool pool_init(struct pool *pool, const nh_allocator *allocator, const nh_tiles *set);
void pool_free(struct pool *pool);

/* The operations on a pool do nothing useful once pool->status is not NH_OK;
 * callers look at it at the end. */

/* Notes the first thing that went wrong. */
void pool_fail(struct pool *pool, nh_status status);

/* Counts steps of work, each of some nanoseconds. False once there were too
 * many, or the pool has failed before. */
bool pool_work(struct pool *pool, uint64_t steps);

/* Makes room in an array, as memory_reserve does. */
bool pool_reserve(struct pool *pool, void **items, size_t *capacity, size_t needed, size_t size);

/* Room for `count` shares, and as much again to sort them; NULL on failure. */
struct share *pool_scratch(struct pool *pool, size_t count);

/* The tiles of a share beyond the copies of the set, or -1 when jokers cannot
 * be all of them. Adding tiles to a share never makes it possible again. */
int excess_of_share(const struct pool *pool, bool honours, const struct share *share);

/* The family of tidy shares, all of one size and excess. */
uint32_t family_of_shares(struct pool *pool, bool honours, const struct share *shares, size_t count,
                          int excess);

/* Appends to the pool's results the families of any shares of one size: those that
 * no set holds are dropped, the others parted by excess. Behind the shares there
 * is as much room again. */
void families_of_shares(struct pool *pool, bool honours, struct share *shares, size_t count);

#endif
