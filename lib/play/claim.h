/* Which discards of other players to claim. */
#ifndef NH_PLAY_CLAIM_H
#define NH_PLAY_CLAIM_H

#include "nearhand_claim.h"
#include "rank/rank.h"

/* What claims are worked out with. */
struct claim_memory {
    const nh_list *list;
    const nh_allocator *allocator;
    struct rank_memory rank;
};

/* Answers nh_claims for a question that is checked, and writes claims as large as it says. */
nh_status find_claims(const struct claim_memory *memory, const nh_tiles *hand,
                      const nh_claim_question *question, nh_claim *claims, size_t capacity,
                      nh_claiming *claiming, nh_error *error);

#endif
