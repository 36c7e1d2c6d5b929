/* A claimed hand: the patterns that it completes. */
#ifndef NH_PLAY_CHECK_H
#define NH_PLAY_CHECK_H

#include "distance/distances.h"

/* Answers nh_check for a query that is set and a question that is checked. `away` has a
 * byte for each pattern. */
nh_status check_hand(struct query *query, const nh_check_question *question, struct row_memo *memo,
                     uint8_t *away, nh_completed *rows, size_t capacity, nh_checking *checking,
                     nh_error *error);

#endif
