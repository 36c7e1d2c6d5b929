/* Chances that were counted, remembered. */
#ifndef NH_RANK_CHANCE_MEMO_H
#define NH_RANK_CHANCE_MEMO_H

#include "base/memory.h"
#include "rank/chance.h"

struct chance_slot;

struct chance_memo {
    struct chance_slot *slots;
};

bool chance_memo_init(struct chance_memo *memo, const nh_allocator *allocator);
void chance_memo_free(struct chance_memo *memo, const nh_allocator *allocator);

/* As chance_count, of lacks as numbers in ascending order. */
nh_natural chance_of(struct chance_memo *memo, const struct draws *draws,
                     const lack_number *numbers, int count);

#endif
