/* Figures that follow from the counts of a survey. */
#include "survey/figures.h"

#include <math.h>

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

/* The list's scale: together the patterns that were won pay as many points as they did. */
static double points_each(const struct counts *counts) {
    double points = 0;
    size_t won = 0;
    for (size_t i = 0; i < nh_list_size(counts->list); i++) {
        points += counts_points(counts, i);
        won += counts_wins(counts, i) > 0;
    }
    return won == 0 ? 0 : points / (double)won;
}

struct pay pay_of(const struct counts *counts, size_t pattern) {
    uint64_t wins = counts_wins(counts, pattern);
    double points = counts_points(counts, pattern), each = points_each(counts);
    struct share share = share_of(wins, counts->games);
    struct pay pay = {.per_100 = counts->games == 0 ? 0 : 100 * points / (double)counts->games};
    if (wins == 0 || each <= 0)
        return pay;
    double paid = points / (double)wins;
    pay.has_fair = true;
    pay.fair = each / (double)wins;
    pay.low = each / (share.high * (double)counts->games);
    pay.high = each / (share.low * (double)counts->games);
    pay.off = paid > pay.high * 4 / 3 ? 1 : paid < pay.low * 3 / 4 ? -1 : 0;
    return pay;
}
