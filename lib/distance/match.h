/* The distance of a hand to families, products and patterns. */
#ifndef NH_DISTANCE_MATCH_H
#define NH_DISTANCE_MATCH_H

#include "distance/query.h"

/* The least distance of a pattern's products. */
unsigned pattern_away(const struct query *query, const struct near_rows *rows,
                      const struct list_pattern *pattern);

/* Whether jokers can run out in a product with these family numbers, where the query is
 * short of jokers. */
bool product_is_scarce(const struct query *query, const uint16_t family[PARTS]);

/* The distance of product `number`, with these family numbers, where jokers can run out, or
 * `nearest` when it is not below. */
unsigned product_away(const struct query *query, const struct near_rows *rows,
                      const uint16_t family[PARTS], uint32_t number, unsigned nearest);

bool product_applies(const struct query *query, const struct product *product);

/* Writes the numbers of the pattern's products at exactly `away`, its distance;
 * how many there are. `found` has room for those of a run; one run at a time is
 * looked at, `run` of the pattern's. */
size_t products_at(const struct query *query, const struct near_rows *rows,
                   const struct list_pattern *pattern, uint32_t run, unsigned away,
                   uint32_t *found);

#endif
