/* Jokers taken from sets on the table. */
#ifndef NH_PLAY_EXCHANGE_H
#define NH_PLAY_EXCHANGE_H

#include "distance/distances.h"
#include "nearhand_claim.h"

/* Answers nh_exchanges for a question that is checked and a query of the hand. `away` has a
 * byte for each pattern. */
nh_status find_exchanges(const struct query *query, const nh_exchange_question *question,
                         struct row_memo *memo, uint8_t *away, nh_exchange *exchanges,
                         size_t capacity, size_t *count, nh_error *error);

#endif
