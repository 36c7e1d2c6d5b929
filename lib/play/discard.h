/* Which tile to discard. */
#ifndef NH_PLAY_DISCARD_H
#define NH_PLAY_DISCARD_H

#include "nearhand_discard.h"
#include "pass/expectation.h"
#include "rank/rank.h"

/* What questions about discards work with. */
struct discard_memory {
    const nh_list *list;
    struct expect_scratch *expect;
    struct rank_memory rank;
};

/* Answers nh_discard, whose question is checked: full rows of this version, of which
 * `choices` has room for NH_DISCARDS_MAX. The first `capacity` at most count. */
nh_status find_discards(const struct discard_memory *memory, const nh_tiles *hand,
                        const nh_discard_question *question, nh_discard_choice *choices,
                        size_t capacity, nh_discarding *discarding, nh_error *error);

#endif
