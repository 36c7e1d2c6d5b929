/* The distance of a hand to families, products and patterns.
 *
 * A target is the sum of its four shares, so what it lacks is the sum of what
 * its shares lack, and the best of a product is the sum of the best of its
 * families. Jokers tie the parts together: with j of them for a part its best
 * share is at least(missing - min(j, open)), and the parts share the hand's
 * jokers in every way there is. For a single target that split loses nothing:
 * min(J, a + b) is the largest min(i, a) + min(J - i, b). */
#include "distance/match.h"
#include "distance/family_fits.h"

static bool wind_applies(uint8_t presumed, uint8_t known) {
    return presumed == 0 || known == 0 || presumed == known;
}

static bool pattern_can_run_out(const struct query *query, const struct list_pattern *pattern) {
    return query->short_of_jokers && query->shortage->pattern[pattern - query->list->patterns];
}

bool product_is_scarce(const struct query *query, const uint16_t family[PARTS]) {
    return excess_of_product(query->shortage, family) > query->jokers_left;
}

/* Steps of work for a product's bound, and for joining its fits. */
#define STEPS_PRODUCT 8u
#define STEPS_FITS 16u

/* The distance that ignores the joker supply is a lower bound, and exact when the
 * supply suffices. */
unsigned product_away(const struct query *query, const struct near_rows *rows,
                      const uint16_t family[PARTS], uint32_t number, unsigned nearest) {
    struct fits_memo *memo = query->shortage->fits;
    unsigned bound = away_of_product(family, rows, query->jokers);
    memo->work += STEPS_PRODUCT;
    if (bound >= nearest)
        return nearest;
    if (!product_is_scarce(query, family))
        return bound;
    memo->work += STEPS_FITS;
    const struct product *product = &query->list->products[number];
    struct family_fits fits[PARTS];
    unsigned least[PARTS]; /* with all jokers for each part */
    fits_reserve(memo);
    for (int part = 0; part < PARTS; part++) {
        fits[part] = fits_find(query, memo, part, product->family[part]);
        least[part] = near_value(rows, part, family[part], query->jokers);
    }
    return fits_away_together(query, fits, least, bound, nearest);
}

/* The same of product i of a run. */
static unsigned away_in_run(const struct query *query, const struct near_rows *rows,
                            const struct run *run, uint32_t i, unsigned nearest) {
    return product_away(query, rows, query->list->lanes.together[run->first + i], run->product + i,
                        nearest);
}

bool product_applies(const struct query *query, const struct product *product) {
    return wind_applies(product->prevailing, query->prevailing) &&
           wind_applies(product->seat, query->seat);
}

static bool run_applies(const struct query *query, const struct run *run) {
    return wind_applies(run->prevailing, query->prevailing) && wind_applies(run->seat, query->seat);
}

static const struct kernels *kernels_for(const struct query *query) {
    return query->jokers <= KERNEL_JOKERS ? query->list->kernels : kernels_at(0);
}

/* The least distance of a pattern's products that ignores jokers
 * running out. */
static unsigned least_bound(const struct query *query, const struct near_rows *rows,
                            const struct list_pattern *pattern) {
    const nh_list *list = query->list;
    unsigned least = FAR;
    const struct run *run = list->runs + pattern->run_first;
    for (uint32_t r = 0; r < pattern->run_count; r++, run++) {
        if (!run_applies(query, run))
            continue;
        unsigned away = kernels_for(query)->least_away(&list->lanes, run->first, run->count, rows,
                                                       query->jokers);
        least = away < least ? away : least;
    }
    return least;
}

/* Whether a product whose bound is `away` is as near as that. */
static bool bound_is_reached(const struct query *query, const struct near_rows *rows,
                             const struct run *run, unsigned away) {
    uint32_t found[LANES];
    for (uint32_t i = 0; i < run->count; i += LANES) {
        size_t rest = run->count - i < LANES ? run->count - i : LANES;
        size_t count = kernels_for(query)->find_away(&query->list->lanes, run->first + i, rest,
                                                     rows, query->jokers, away, found);
        for (size_t k = 0; k < count; k++)
            if (away_in_run(query, rows, run, found[k] - run->first, away + 1) == away)
                return true;
    }
    return false;
}

/* Where jokers can run out the bound is tried first, as it nearly always is the
 * distance. */
static unsigned pattern_away_strictly(const struct query *query, const struct near_rows *rows,
                                      const struct list_pattern *pattern, unsigned bound) {
    unsigned nearest = FAR;
    const struct run *runs = query->list->runs + pattern->run_first;
    for (uint32_t r = 0; r < pattern->run_count; r++)
        if (run_applies(query, &runs[r]) && bound_is_reached(query, rows, &runs[r], bound))
            return bound;
    for (uint32_t r = 0; r < pattern->run_count; r++)
        for (uint32_t i = 0; i < runs[r].count && run_applies(query, &runs[r]); i++)
            nearest = away_in_run(query, rows, &runs[r], i, nearest);
    return nearest;
}

unsigned pattern_away(const struct query *query, const struct near_rows *rows,
                      const struct list_pattern *pattern) {
    unsigned bound = least_bound(query, rows, pattern);
    if (bound >= FAR || !pattern_can_run_out(query, pattern))
        return bound;
    return pattern_away_strictly(query, rows, pattern, bound);
}

size_t products_at(const struct query *query, const struct near_rows *rows,
                   const struct list_pattern *pattern, uint32_t run_number, unsigned away,
                   uint32_t *found) {
    const nh_list *list = query->list;
    const struct run *run = &list->runs[pattern->run_first + run_number];
    if (!run_applies(query, run))
        return 0;
    size_t count = 0;
    if (pattern_can_run_out(query, pattern)) {
        for (uint32_t i = 0; i < run->count; i++) {
            found[count] = run->product + i;
            count += away_in_run(query, rows, run, i, away + 1) == away;
        }
        return count;
    }
    count = kernels_for(query)->find_away(&list->lanes, run->first, run->count, rows, query->jokers,
                                          away, found);
    for (size_t i = 0; i < count; i++)
        found[i] += run->product - run->first;
    return count;
}
