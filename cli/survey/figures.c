/* Figures that follow from the counts of a survey. */
#include "survey/figures.h"
#include "io/message.h"

#include <math.h>
#include <stdlib.h>

/* E. B. Wilson, "Probable inference, the law of succession, and statistical inference",
 * 1927: the shares that a test at 5 % would not refuse. */
struct share share_of(uint64_t part, uint64_t whole) {
    const double z = 1.959963984540054; /* 97.5 % of a normal law lie below */
    double n = (double)whole, p = whole == 0 ? 0 : (double)part / n;
    if (whole == 0)
        return (struct share){0, 0, 1};
    double middle = (p + z * z / (2 * n)) / (1 + z * z / n);
    double reach = z / (1 + z * z / n) * sqrt(p * (1 - p) / n + z * z / (4 * n * n));
    return (struct share){p, part == 0 ? 0 : middle - reach, part == whole ? 1 : middle + reach};
}

double fair_points_together(const struct counts *counts) {
    double points = 0;
    size_t won = 0;
    for (size_t i = 0; i < nh_list_size(counts->list); i++) {
        points += counts_points(counts, i);
        won += counts_wins(counts, i) > 0;
    }
    return won == 0 ? 0 : points / (double)won;
}

struct pay pay_of(const struct counts *counts, size_t pattern) {
    const nh_pattern *own = nh_list_pattern(counts->list, pattern);
    uint64_t wins = counts_wins(counts, pattern);
    double points = counts_points(counts, pattern), each = fair_points_together(counts);
    struct share share = share_of(wins, counts->games);
    struct pay pay = {.has_paid = own->has_points || points > 0,
                      .paid = wins > 0 ? points / (double)wins : own->points,
                      .per_100 = counts->games == 0 ? 0 : 100 * points / (double)counts->games};
    if (wins == 0 || each <= 0)
        return pay;
    pay.has_fair = true;
    pay.fair = each / (double)wins;
    pay.low = each / (share.high * (double)counts->games);
    pay.high = each / (share.low * (double)counts->games);
    pay.off = pay.paid > pay.high * 4 / 3 ? 1 : pay.paid < pay.low * 3 / 4 ? -1 : 0;
    return pay;
}

/* ---------------------------------------------------------------- order --- */

struct place {
    uint64_t wins;
    size_t index;
};

static int compare_places(const void *a, const void *b) {
    const struct place *left = a, *right = b;
    if (left->wins != right->wins)
        return left->wins > right->wins ? -1 : 1;
    return left->index < right->index ? -1 : left->index > right->index;
}

size_t *patterns_by_wins(const struct counts *counts) {
    size_t size = nh_list_size(counts->list);
    struct place *places = malloc(size * sizeof *places);
    size_t *order = malloc(size * sizeof *order);
    if (places == NULL || order == NULL) {
        short_of_memory();
        free(places);
        free(order);
        return NULL;
    }
    for (size_t i = 0; i < size; i++)
        places[i] = (struct place){counts_wins(counts, i), i};
    qsort(places, size, sizeof *places, compare_places);
    for (size_t i = 0; i < size; i++)
        order[i] = places[i].index;
    free(places);
    return order;
}
