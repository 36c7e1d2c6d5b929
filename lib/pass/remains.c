/* What is left of a hand, and the products near enough to matter. */
#include "pass/remains.h"
#include "distance/match.h"

#include <string.h>

bool remains_scratch_init(struct remains_scratch *scratch, const nh_list *list,
                          const nh_allocator *allocator) {
    bool good = contenders_init(&scratch->contenders, list, allocator);
    scratch->away = memory_new(allocator, list->pattern_count, 1);
    scratch->near = memory_new_raw(allocator, list->product_count, sizeof *scratch->near);
    return good && scratch->away != NULL && scratch->near != NULL;
}

void remains_scratch_free(struct remains_scratch *scratch, const nh_allocator *allocator) {
    contenders_free(&scratch->contenders, allocator);
    memory_release(allocator, scratch->away);
    memory_release(allocator, scratch->near);
}

/* Finds the rows, and lists contenders up to `away`, which loses rows that were found. */
static void list_up_to(struct remains *remains, unsigned away, struct row_memo *memo,
                       struct contenders *contenders) {
    contenders_list(contenders, away, memo);
    rows_look_up(&remains->query, memo, &remains->rows);
}

/* The distance that ignores that jokers can run out. */
static inline unsigned contender_bound(const struct remains *remains,
                                       const struct contender *contender) {
    if (remains->query.jokers == 0)
        return away_without_jokers(contender->family, &remains->rows);
    return away_of_product(contender->family, &remains->rows, remains->query.jokers);
}

/* The distance of a contender whose bound is `away`, at most `most`; more than that where
 * it is. */
static struct near_product look_at_contender(const struct remains *remains, uint32_t number,
                                             unsigned away, unsigned most) {
    const struct contender *contender = &remains->contenders[number];
    const struct query *query = &remains->query;
    struct near_product near = {number, (uint8_t)away, false};
    if (!query->short_of_jokers)
        return near;
    near.scarce = product_is_scarce(query, contender->family);
    if (near.scarce)
        near.away = (uint8_t)product_away(query, &remains->rows, contender->family,
                                          contender->product, most + 1);
    return near;
}

/* Finds the distance, and all products at most `reach` farther. Contenders at a distance
 * from the hand are at least as far from what is left of it. */
static void find_near(struct remains *remains, unsigned reach, struct row_memo *memo,
                      struct remains_scratch *scratch) {
    struct contenders *contenders = &scratch->contenders;
    unsigned nearest = FAR, most = FAR - 1;
    size_t count = 0;
    for (unsigned away = contenders->nearest; away <= most; away++) {
        if (away >= contenders->listed)
            list_up_to(remains, away, memo, contenders);
        for (uint32_t i = contenders->first[away]; i < contenders->first[away + 1]; i++) {
            unsigned bound = contender_bound(remains, &remains->contenders[i]);
            if (bound > most)
                continue;
            struct near_product near = look_at_contender(remains, i, bound, most);
            if (near.away > most)
                continue;
            scratch->near[count++] = near;
            nearest = near.away < nearest ? near.away : nearest;
            most = nearest + reach < most ? nearest + reach : most;
        }
    }
    remains->away = nearest < FAR ? nearest : NH_AWAY_NONE;
    remains->near = scratch->near;
    for (size_t i = 0; i < count; i++)
        if (scratch->near[i].away <= most)
            scratch->near[remains->near_count++] = scratch->near[i];
}

/* Counts the patterns that are as near, and at most one tile farther. */
static void count_patterns(struct remains *remains, struct remains_scratch *scratch) {
    size_t patterns = remains->query.list->pattern_count;
    memset(scratch->away, NH_AWAY_NONE, patterns);
    for (size_t i = 0; i < remains->near_count; i++) {
        const struct near_product *near = &remains->near[i];
        uint8_t *away = &scratch->away[remains->contenders[near->contender].pattern];
        *away = near->away < *away ? near->away : *away;
    }
    for (size_t i = 0; i < patterns; i++) {
        remains->nearest += scratch->away[i] == remains->away;
        remains->within_one += scratch->away[i] <= remains->away + 1;
    }
}

void remains_set(struct remains *remains, const nh_tiles *left, const nh_situation *situation,
                 unsigned reach, struct row_memo *memo, struct remains_scratch *scratch) {
    const nh_list *list = scratch->contenders.query.list;
    query_set(&remains->query, list, left, situation, NULL);
    shortage_find_excess(&remains->query, &memo->shortage);
    rows_look_up(&remains->query, memo, &remains->rows);
    query_add_bits(&remains->query);
    remains->fits = memo->shortage.shortage.fits;
    remains->contenders = scratch->contenders.list;
    remains->near_count = remains->nearest = remains->within_one = 0;
    /* patterns within one tile are counted in any case */
    find_near(remains, reach > 1 ? reach : 1, memo, scratch);
    if (remains->away != NH_AWAY_NONE)
        count_patterns(remains, scratch);
}
