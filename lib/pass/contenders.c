/* The products that can be near what is left of a hand. */
#include "pass/contenders.h"
#include "distance/match.h"

#include <string.h>

bool contenders_init(struct contenders *contenders, const nh_list *list,
                     const nh_allocator *allocator) {
    contenders->list = memory_new_raw(allocator, list->product_count, sizeof *contenders->list);
    contenders->bound = memory_new(allocator, list->pattern_count, 1);
    contenders->found = memory_new_raw(allocator, list->largest_run, sizeof *contenders->found);
    return contenders->list != NULL && contenders->bound != NULL && contenders->found != NULL;
}

void contenders_free(struct contenders *contenders, const nh_allocator *allocator) {
    memory_release(allocator, contenders->list);
    memory_release(allocator, contenders->bound);
    memory_release(allocator, contenders->found);
}

void contenders_start(struct contenders *contenders, const struct query *query,
                      const uint8_t *chosen, struct row_memo *memo) {
    const nh_list *list = query->list;
    struct near_rows rows;
    contenders->query = *query;
    contenders->query.short_of_jokers = false;
    rows_look_up(&contenders->query, memo, &rows);
    contenders->nearest = FAR;
    for (size_t i = 0; i < list->pattern_count; i++) {
        unsigned bound = FAR;
        if (chosen == NULL || chosen[i] != 0)
            bound = pattern_away(&contenders->query, &rows, &list->patterns[i]);
        contenders->bound[i] = (uint8_t)bound;
        contenders->nearest = bound < contenders->nearest ? bound : contenders->nearest;
    }
    contenders->listed = contenders->nearest;
    memset(contenders->first, 0, sizeof contenders->first);
}

/* Adds those of a run, whose numbers were found. */
static uint32_t list_run(struct contenders *contenders, size_t pattern, const struct run *run,
                         size_t found, uint32_t count) {
    const struct lanes *lanes = &contenders->query.list->lanes;
    for (size_t i = 0; i < found; i++) {
        struct contender *contender = &contenders->list[count++];
        uint32_t product = contenders->found[i];
        memcpy(contender->family, lanes->together[run->first + (product - run->product)],
               sizeof contender->family);
        contender->product = product;
        contender->pattern = (uint32_t)pattern;
    }
    return count;
}

/* Lists those of the next distance. */
static void list_next(struct contenders *contenders, const struct near_rows *rows) {
    const struct query *query = &contenders->query;
    const nh_list *list = query->list;
    unsigned away = contenders->listed++;
    uint32_t count = contenders->first[away];
    for (size_t p = 0; p < list->pattern_count; p++) {
        const struct list_pattern *pattern = &list->patterns[p];
        if (contenders->bound[p] > away)
            continue;
        for (uint32_t r = 0; r < pattern->run_count; r++) {
            size_t found = products_at(query, rows, pattern, r, away, contenders->found);
            count = list_run(contenders, p, &list->runs[pattern->run_first + r], found, count);
        }
    }
    contenders->first[away + 1] = count;
}

void contenders_list(struct contenders *contenders, unsigned away, struct row_memo *memo) {
    struct near_rows rows;
    rows_look_up(&contenders->query, memo, &rows);
    while (contenders->listed <= away)
        list_next(contenders, &rows);
}
