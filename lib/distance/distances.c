/* Tiles away of every pattern. */
#include "distance/distances.h"
#include "distance/match.h"

unsigned find_distances(struct query *query, const uint8_t *chosen, struct row_memo *memo,
                        struct near_rows *near, uint8_t *away) {
    const nh_list *list = query->list;
    rows_find(query, memo, near);
    if (query->short_of_jokers)
        query_add_bits(query);
    unsigned nearest = NH_AWAY_NONE;
    for (size_t i = 0; i < list->pattern_count; i++) {
        away[i] = NH_AWAY_NONE;
        if (chosen != NULL && chosen[i] == 0)
            continue;
        unsigned least = pattern_away(query, near, &list->patterns[i]);
        if (least >= FAR)
            continue;
        away[i] = (uint8_t)least;
        nearest = least < nearest ? least : nearest;
    }
    return nearest;
}
