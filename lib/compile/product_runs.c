/* The products of each pattern, sorted into runs that presume the same winds and
 * written to lanes. */
#include "compile/product_runs.h"

#include <stdlib.h>
#include <string.h>

static int product_winds_compare(const void *a, const void *b) {
    const struct product *x = a, *y = b;
    if (x->prevailing != y->prevailing)
        return x->prevailing < y->prevailing ? -1 : 1;
    if (x->seat != y->seat)
        return x->seat < y->seat ? -1 : 1;
    return memcmp(x->family, y->family, sizeof x->family);
}

static bool same_winds(const struct product *a, const struct product *b) {
    return a->prevailing == b->prevailing && a->seat == b->seat;
}

/* Sorts each pattern's products by winds and writes the runs; with NULL `runs` only
 * counts them and their lanes. */
static void find_runs(nh_list *list, struct run *runs, size_t *run_count, size_t *lane_count) {
    *run_count = *lane_count = 0;
    for (size_t p = 0; p < list->pattern_count; p++) {
        struct list_pattern *pattern = &list->patterns[p];
        struct product *products = list->products + pattern->first;
        if (runs == NULL)
            qsort(products, pattern->count, sizeof *products, product_winds_compare);
        pattern->run_first = (uint32_t)*run_count;
        for (uint32_t i = 0; i < pattern->count;) {
            uint32_t end = i + 1;
            while (end < pattern->count && same_winds(&products[end], &products[i]))
                end++;
            if (runs != NULL)
                runs[*run_count] = (struct run){(uint32_t)*lane_count, end - i, pattern->first + i,
                                                products[i].prevailing, products[i].seat};
            if (end - i > list->largest_run)
                list->largest_run = end - i;
            ++*run_count;
            *lane_count += (end - i + LANES - 1) / LANES * LANES;
            i = end;
        }
        pattern->run_count = (uint32_t)(*run_count - pattern->run_first);
    }
}

/* Writes the products of each run to the lanes; the last one fills the padding. */
static void fill_lanes(nh_list *list, uint16_t (*together)[PARTS], uint8_t *apart,
                       size_t lane_count) {
    for (int part = 0; part < PARTS; part++) {
        list->lanes.low[part] = apart + (size_t)part * lane_count;
        list->lanes.high[part] = apart + (size_t)(PARTS + part) * lane_count;
    }
    list->lanes.together = (const uint16_t(*)[PARTS])together;
    const struct product *product = list->products;
    for (size_t p = 0; p < list->pattern_count; p++) {
        for (uint32_t r = 0; r < list->patterns[p].run_count; r++) {
            const struct run *run = &list->runs[list->patterns[p].run_first + r];
            uint32_t padded = (run->count + LANES - 1) / LANES * LANES;
            for (uint32_t i = 0; i < padded; i++) {
                const struct product *one = &product[i < run->count ? i : run->count - 1];
                for (int part = 0; part < PARTS; part++) {
                    uint32_t number = family_number(list, part, one->family[part]);
                    size_t lane = run->first + i;
                    together[lane][part] = (uint16_t)number;
                    apart[(size_t)part * lane_count + lane] = (uint8_t)number;
                    apart[(size_t)(PARTS + part) * lane_count + lane] = (uint8_t)(number >> 8);
                }
            }
            product += run->count;
        }
    }
}

bool list_add_runs(nh_list *list) {
    size_t run_count, lane_count;
    find_runs(list, NULL, &run_count, &lane_count);
    list->runs = memory_new(&list->allocator, run_count, sizeof *list->runs);
    list->lane_memory =
        memory_new(&list->allocator, lane_count, sizeof(uint16_t[PARTS]) + 2 * PARTS);
    if (list->runs == NULL || list->lane_memory == NULL)
        return false;
    find_runs(list, list->runs, &run_count, &lane_count);
    uint16_t(*together)[PARTS] = list->lane_memory;
    fill_lanes(list, together, (uint8_t *)(together + lane_count), lane_count);
    return true;
}
