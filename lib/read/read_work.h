/* What a reading may cost: steps of work, and memory that it holds. */
#ifndef NH_READ_READ_WORK_H
#define NH_READ_READ_WORK_H

#include "base/cancel.h"
#include "base/memory.h"

/* Steps of about 10 ns for the whole list, for a pattern by itself, and for a call, which
 * counts the whole list and perhaps each pattern after it: a second at most. With nothing on
 * the table the club list takes 50 million, four sets and a pair with 35 other patterns 46
 * million; the jokers list is too much as a whole, and its patterns one by one take 33 million,
 * one of them 17. */
#define READ_LIST_MAX UINT64_C(57000000)
#define READ_PATTERN_MAX UINT64_C(20000000)
#define READ_CALL_MAX UINT64_C(95000000)

/* Bytes of all tables together. */
#define READ_BYTES_MAX (UINT64_C(120) << 20)

struct read_work {
    const nh_allocator *allocator;
    uint64_t steps, most; /* so far, and for this count */
    uint64_t bytes;
    const nh_cancel *cancel;
    nh_status status; /* NH_OK until memory is short, a limit is passed or work is cancelled */
};

/* Counts steps. False once the work is to end. */
static inline bool read_spend(struct read_work *work, uint64_t steps) {
    work->steps += steps;
    if (work->status == NH_OK && work->steps > work->most)
        work->status = NH_ERROR_LIMIT;
    if (work->status == NH_OK && cancel_asked(work->cancel))
        work->status = NH_ERROR_CANCELLED;
    return work->status == NH_OK;
}

/* Counts bytes that a table is about to grow by; the same. */
static inline bool read_hold(struct read_work *work, uint64_t bytes) {
    work->bytes += bytes;
    if (work->status == NH_OK && work->bytes > READ_BYTES_MAX)
        work->status = NH_ERROR_LIMIT;
    return work->status == NH_OK;
}

#endif
