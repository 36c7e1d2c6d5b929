/* Targets that jokers can complete in several ways: the same tiles, from groups
 * of which different tiles are three or more alike. */
#ifndef NH_RANK_JOKER_WAYS_H
#define NH_RANK_JOKER_WAYS_H

#include "distance/match.h"
#include "rank/chance_memo.h"

/* Draws that complete the target of shares `share` of a product in any of its
 * ways: those of the product, and of all products of the pattern where these
 * overlap. */
nh_natural ways_count(const struct query *query, const struct draws *draws,
                      const struct list_pattern *pattern, const struct product *product,
                      const uint32_t share[PARTS], struct chance_memo *chances);

#endif
