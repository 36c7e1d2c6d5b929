/* Figures of passes: their order, what they cost, and estimates. */
#include "pass/pass_task.h"

#include <math.h>

bool pass_is_dead(const struct pass_choice *choice) {
    return choice->choice.expected == UINT64_MAX;
}

/* Exact: a part is at most NH_TARGET_MAX times its whole, and that is less than
 * 2^20, three tiles out of 160. */
static int compare_fractions(uint64_t part_a, uint64_t whole_a, uint64_t part_b, uint64_t whole_b) {
    uint64_t a = part_a * whole_b;
    uint64_t b = part_b * whole_a;
    return (a > b) - (a < b);
}

int pass_compare_expected(const struct pass_choice *a, const struct pass_choice *b) {
    if (pass_is_dead(a) || pass_is_dead(b))
        return pass_is_dead(a) - pass_is_dead(b);
    return compare_fractions(a->choice.expected, a->draws, b->choice.expected, b->draws);
}

int pass_compare_choices(const void *left, const void *right) {
    const struct pass_choice *a = left;
    const struct pass_choice *b = right;
    int order = pass_compare_expected(a, b);
    if (order == 0)
        order = compare_fractions(b->choice.nearer, b->draws, a->choice.nearer, a->draws);
    if (order == 0)
        order = (b->choice.within_one > a->choice.within_one) -
                (b->choice.within_one < a->choice.within_one);
    if (order == 0)
        order = nh_tiles_total(&a->choice.pass) - nh_tiles_total(&b->choice.pass);
    for (int kind = 0; order == 0 && kind < NH_KINDS; kind++)
        order = b->choice.pass.count[kind] - a->choice.pass.count[kind];
    return order;
}

struct fraction pass_cost(const struct pass_choice *choice, const struct pass_choice *best) {
    if (choice->draws == best->draws)
        return (struct fraction){choice->choice.expected - best->choice.expected, best->draws};
    return (struct fraction){choice->choice.expected * best->draws -
                                 best->choice.expected * choice->draws,
                             choice->draws * best->draws};
}

struct estimate pass_estimate(const nh_ahead *ahead) {
    double courses = (double)ahead->courses;
    double away = (double)ahead->sum / courses;
    double spread = (double)ahead->squares / courses - away * away;
    bool none = ahead->courses < 2 || spread < 0;
    return (struct estimate){away, none ? 0 : sqrt(spread / (courses - 1))};
}

/* Chance alone makes a difference beyond twice its standard error about once in twenty times.
 * The error here is that of estimates with luck of their own; these have the same luck, which
 * leaves less to chance. One course says nothing of chance. */
bool pass_may_be_as_close(const struct pass_choice *choice, const struct pass_choice *closest) {
    if (choice->ahead.courses < 2 || closest->ahead.courses < 2)
        return true;
    struct estimate far = pass_estimate(&choice->ahead), near = pass_estimate(&closest->ahead);
    return far.away - near.away <= 2 * hypot(far.error, near.error);
}
