/* What is left of a hand, and the products near enough to matter. */
#include "pass/remains.h"
#include "distance/match.h"

bool remains_scratch_init(struct remains_scratch *scratch, const nh_list *list,
                          const nh_allocator *allocator) {
    scratch->away = memory_new(allocator, list->pattern_count, 1);
    scratch->near = memory_new_raw(allocator, list->product_count, sizeof *scratch->near);
    scratch->found = memory_new_raw(allocator, list->largest_run, sizeof *scratch->found);
    return scratch->away != NULL && scratch->near != NULL && scratch->found != NULL;
}

void remains_scratch_free(struct remains_scratch *scratch, const nh_allocator *allocator) {
    memory_release(allocator, scratch->away);
    memory_release(allocator, scratch->near);
    memory_release(allocator, scratch->found);
}

void remains_set(struct remains *remains, const nh_list *list, const nh_tiles *hand,
                 const nh_situation *situation, const uint8_t *chosen, struct row_memo *memo,
                 struct remains_scratch *scratch) {
    query_set(&remains->query, list, hand, situation, NULL);
    remains->away = find_distances(&remains->query, chosen, memo, &remains->rows, scratch->away);
    remains->fits = memo->shortage.shortage.fits;
    query_add_bits(&remains->query);
    remains->near_count = remains->nearest = remains->within_one = 0;
    for (size_t i = 0; i < list->pattern_count; i++) {
        unsigned away = scratch->away[i];
        remains->nearest += away != NH_AWAY_NONE && away == remains->away;
        remains->within_one += away != NH_AWAY_NONE && away <= remains->away + 1;
    }
}

/* Adds the products of a run whose numbers were found, `away` away unless jokers run
 * out. Those that come out farther than `farthest` then are left out. */
static void add_near_run(struct remains *remains, const struct run *run, unsigned away,
                         unsigned farthest, size_t count, struct remains_scratch *scratch) {
    const struct query *query = &remains->query;
    for (size_t i = 0; i < count; i++) {
        uint32_t number = scratch->found[i] - run->product;
        struct near_product near = {scratch->found[i], (uint8_t)away, false};
        if (query->short_of_jokers) {
            near.scarce = product_is_scarce(query, run, number);
            if (near.scarce)
                near.away = (uint8_t)product_away(query, &remains->rows, run, number, farthest + 1);
        }
        if (near.away <= farthest)
            scratch->near[remains->near_count++] = near;
    }
}

void remains_find_near(struct remains *remains, unsigned coming, struct remains_scratch *scratch) {
    const nh_list *list = remains->query.list;
    struct query plain = remains->query; /* ignores that jokers run out */
    plain.short_of_jokers = false;
    unsigned farthest = remains->away + coming - 1;
    remains->near = scratch->near;
    remains->near_count = 0;
    for (size_t i = 0; i < list->pattern_count && coming > 0; i++) {
        const struct list_pattern *pattern = &list->patterns[i];
        if (scratch->away[i] > farthest)
            continue;
        unsigned away = pattern_can_run_out(&remains->query, pattern) ? 0 : scratch->away[i];
        for (; away <= farthest; away++) {
            for (uint32_t run = 0; run < pattern->run_count; run++) {
                size_t count =
                    products_at(&plain, &remains->rows, pattern, run, away, scratch->found);
                add_near_run(remains, &list->runs[pattern->run_first + run], away, farthest, count,
                             scratch);
            }
        }
    }
}
