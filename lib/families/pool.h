/* The families that are found while a list is compiled: equal ones are one. */
#ifndef NH_FAMILIES_POOL_H
#define NH_FAMILIES_POOL_H

#include "base/budget.h"
#include "base/memory.h"
#include "families/family.h"
#include "families/packed_share.h"
#include "families/work.h"

struct pool {
    struct budget budget;
    nh_allocator budgeted;
    const nh_allocator *allocator; /* within the budget, for all that does not outlive the pool */
    nh_tiles set;
    uint64_t copies[2]; /* of the kinds of a suit, and of the honours, as counts of a share */
    struct packed_share *shares;
    size_t share_count, share_capacity;
    struct family *families;
    size_t family_count, family_capacity;
    uint32_t *family_slots; /* hash table of family + 1 */
    size_t family_slot_count;
    struct sum_memo *sums; /* hash table: families a, b -> results */
    size_t sum_count, sum_slot_count;
    struct union_memo *unions; /* hash table: families in results -> family */
    size_t union_count, union_slot_count;
    uint32_t *results; /* lists of families */
    size_t result_count, result_capacity;
    struct packed_share *scratch;
    size_t scratch_capacity;
    struct merge_scratch *merge; /* of products: product_merge.c */
    uint64_t work;               /* steps for the current pattern: PATTERN_WORK_MAX */
    uint64_t all_work;           /* steps for those before: LIST_WORK_MAX */
    uint64_t explained;          /* steps for the reasons why patterns have no target */
    size_t earlier_bytes;        /* held when the current pattern began */
    nh_status status;            /* NH_OK until memory is short or a limit is passed */
    bool kept;                   /* it outlives the list that is finished */
    enum work_limit passed;      /* the limit */
};

/* Families 0 and 1 hold the empty share, of a suit and of the honours. */
enum { FAMILY_NO_SUIT = 0, FAMILY_NO_HONOURS = 1 };

/* The scratch of merges, see product_merge.c. */
bool merge_scratch_init(struct pool *pool);
void merge_scratch_free(struct pool *pool);

/* The pool stays where it is. */
bool pool_init(struct pool *pool, const nh_allocator *allocator, const nh_tiles *set);

/* Frees what the pool holds, if it still does. */
void pool_free(struct pool *pool);

/* The operations on a pool do nothing useful once pool->status is not NH_OK;
 * callers look at it at the end. */

/* Begins the work of the next pattern. */
void pool_next_pattern(struct pool *pool);

/* Notes that the allocator gave nothing, or that a limit is passed, where nothing went
 * wrong before. */
void pool_short_of_memory(struct pool *pool);
void pool_past_limit(struct pool *pool, enum work_limit limit);

/* Counts steps of work, each of two or three nanoseconds. False once there were too
 * many, or the pool has failed before. */
bool pool_work(struct pool *pool, uint64_t steps);

/* Makes room in an array, as memory_reserve does; a large one grows by a half. */
bool pool_grow(struct pool *pool, void **items, size_t *capacity, size_t needed, size_t size);

static inline bool pool_reserve(struct pool *pool, void **items, size_t *capacity, size_t needed,
                                size_t size) {
    return needed <= *capacity || pool_grow(pool, items, capacity, needed, size);
}

/* Room for `count` shares, what is there stays; NULL on failure. */
struct packed_share *pool_scratch(struct pool *pool, size_t count);

/* The tiles of a share beyond the copies of the set, or -1 when jokers cannot
 * be all of them. Adding tiles to a share never makes it possible again. */
static inline int excess_of_share(const struct pool *pool, bool honours,
                                  const struct packed_share *share) {
    uint64_t copies = pool->copies[honours];
    if (kinds_below(copies, share->need) == 0)
        return 0;
    unsigned excess = packed_total(packed_beyond(share->need, copies));
    bool jokers_can = kinds_below(copies, share->need - share->joker) == 0;
    return jokers_can && excess <= pool->set.count[NH_JOKER] ? (int)excess : -1;
}

/* The family of tidy shares, all of one size and excess. */
uint32_t family_of_shares(struct pool *pool, bool honours, const struct packed_share *shares,
                          size_t count, int excess);

#endif
