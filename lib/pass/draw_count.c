/* How many draws are in sets, in plain C. */
#include "pass/draw_count.h"

#include <string.h>

uint64_t draws_of(uint64_t n, unsigned k) {
    if (k > n)
        return 0;
    switch (k) {
    case 0:
        return 1;
    case 1:
        return n;
    case 2:
        return n * (n - 1) / 2;
    default:
        return n * (n - 1) * (n - 2) / 6;
    }
}

static void sum_parts(struct unseen *unseen) {
    for (int part = 0; part < PARTS; part++) {
        unseen->sum[part][0] = 0;
        for (unsigned kinds = 1; kinds < 1u << PART_KINDS; kinds++) {
            int kind = part * PART_KINDS + __builtin_ctz(kinds);
            unseen->sum[part][kinds] =
                (uint8_t)(unseen->sum[part][kinds & (kinds - 1)] + unseen->count[kind]);
        }
    }
}

void unseen_set(struct unseen *unseen, const uint8_t count[NH_KINDS]) {
    memset(unseen, 0, sizeof *unseen);
    for (int kind = 0; kind < NH_KINDS; kind++) {
        uint8_t tiles = kind == NH_JOKER ? 0 : count[kind];
        unseen->count[kind] = tiles;
        unseen->total += tiles;
        unseen->pairs[kind] = draws_of(tiles, 2);
        unseen->kinds |= (uint64_t)(tiles > 0) << kind;
        for (int digit = 0; digit < 4; digit++)
            unseen->digit[digit] |= (uint64_t)(tiles >> digit & 1u) << kind;
    }
    sum_parts(unseen);
    unseen->kernels = draw_kernels_best();
}

/* Ways to draw two tiles y <= z, of which z is one of `third`. */
static inline uint64_t count_from(const struct unseen *unseen, int y, uint64_t third) {
    uint64_t above = unseen_of(unseen, third & above_kind(y));
    return unseen->count[y] * above + (third >> y & 1u) * unseen->pairs[y];
}

/* The sum of ways[y] over some kinds. */
static inline uint64_t sum_of(const uint64_t ways[NH_KINDS], uint64_t kinds) {
    uint64_t sum = 0;
    for (; kinds != 0; kinds &= kinds - 1)
        sum += ways[lowest(kinds)];
    return sum;
}

/* ------------------------------------------------------------ counting --- */

static uint64_t count_pairs(const struct draw_set *set, uint64_t kinds,
                            const struct unseen *unseen) {
    uint64_t ways = 0;
    for (uint64_t first = kinds & set->paired; first != 0; first &= first - 1) {
        int x = lowest(first);
        ways += count_from(unseen, x, set->pair[x] & kinds);
    }
    return ways;
}

static uint64_t count_triples(const struct draw_set *set, uint64_t kinds,
                              const struct unseen *unseen) {
    uint64_t ways = 0, any[NH_KINDS];
    for (uint64_t rest = kinds; rest != 0; rest &= rest - 1)
        any[lowest(rest)] = count_from(unseen, lowest(rest), kinds);
    for (uint64_t first = kinds; first != 0; first &= first - 1) {
        int x = lowest(first);
        uint64_t second = first & (first - 1), mates = set->pair[x] & kinds;
        uint64_t others = second & ~mates, after_x = sum_of(any, second & mates);
        if (mates == 0)
            others &= set->paired | set->tripled[x] | part_kinds(x / PART_KINDS);
        for (; others != 0; others &= others - 1) {
            uint64_t third = thirds(set, x, lowest(others)) & kinds;
            if (third != 0)
                after_x += count_from(unseen, lowest(others), third);
        }
        bool alike = (mates >> x & 1u) != 0;
        ways += unseen->count[x] * after_x +
                count_alike(unseen, x, alike ? kinds : thirds(set, x, x) & kinds);
    }
    return ways;
}

uint64_t draws_count(const struct draw_set *set, const struct unseen *unseen, unsigned tiles) {
    uint64_t kinds = unseen->kinds & ~set->single;
    uint64_t ways = draws_of(unseen->total, tiles) - draws_of(unseen_of(unseen, kinds), tiles);
    if (tiles == 2)
        ways += count_pairs(set, kinds, unseen);
    if (tiles == 3)
        ways += unseen->kernels->count(set, kinds, unseen);
    return ways;
}

/* ------------------------------------------------------------ one by one --- */

static uint64_t list_pairs(const struct draw_set *set, const struct unseen *unseen,
                           struct draw_list *list) {
    uint64_t ways = 0;
    for (int x = 0; x < NH_KINDS; x++) {
        list->row[x] = whole_from(set, x, unseen->kinds & ~below_kind(x));
        ways += count_from(unseen, x, list->row[x]);
    }
    return ways;
}

/* Adds the ways to draw two tiles y <= z, `times` of them, of which z is one of `third`, to
 * the parts of z. */
static inline void add_by_part(const struct unseen *unseen, int y, uint64_t third, uint32_t pair,
                               uint32_t times, uint32_t number[PARTS]) {
    uint64_t above = third & above_kind(y);
    for (int part = 0; part < PARTS; part++)
        number[part] += times * unseen->sum[part][above >> part * PART_KINDS & PART_BITS];
    if ((third >> y & 1u) != 0)
        number[y / PART_KINDS] += pair;
}

static void list_from(const struct draw_set *set, int x, const struct unseen *unseen,
                      struct draw_list *list) {
    uint64_t from = unseen->kinds & ~below_kind(x), single = set->single & unseen->kinds;
    uint64_t whole = whole_from(set, x, from), some = 0, *row = list->row + pair_row(x, 0);
    for (uint64_t second = whole; second != 0; second &= second - 1)
        row[lowest(second)] = unseen->kinds & ~below_kind(lowest(second));
    for (uint64_t second = from & ~whole; second != 0; second &= second - 1) {
        int y = lowest(second);
        row[y] = ((thirds(set, x, y) & unseen->kinds) | single) & ~below_kind(y);
        some |= (uint64_t)(row[y] != 0) << y;
    }
    list->listed[x] = whole | some;
    for (uint64_t second = list->listed[x] & above_kind(x); second != 0; second &= second - 1) {
        int y = lowest(second);
        add_by_part(unseen, y, row[y], (uint32_t)unseen->pairs[y], unseen->count[y],
                    list->number[x]);
    }
}

/* Completes the numbers of draws that begin with x; how many there are. */
static uint64_t number_from(const struct unseen *unseen, int x, struct draw_list *list) {
    uint64_t ways = 0;
    for (int part = 0; part < PARTS; part++)
        list->number[x][part] *= unseen->count[x];
    if ((list->listed[x] >> x & 1u) != 0)
        add_by_part(unseen, x, list->row[pair_row(x, x)], (uint32_t)draws_of(unseen->count[x], 3),
                    (uint32_t)unseen->pairs[x], list->number[x]);
    for (int part = 0; part < PARTS; part++)
        ways += list->number[x][part];
    return ways;
}

uint64_t draws_list(const struct draw_set *set, const struct unseen *unseen, unsigned tiles,
                    struct draw_list *list) {
    uint64_t ways = 0;
    if (tiles == 2)
        return list_pairs(set, unseen, list);
    memset(list->number, 0, sizeof list->number);
    for (uint64_t kinds = unseen->kinds; kinds != 0; kinds &= kinds - 1) {
        unseen->kernels->list_from(set, lowest(kinds), unseen, list);
        ways += number_from(unseen, lowest(kinds), list);
    }
    return ways;
}

/* ------------------------------------------------------------ in common --- */

static uint64_t pairs_in_common(const struct draw_list *a, const struct draw_list *b,
                                const struct draw_list *c, const struct unseen *unseen) {
    uint64_t ways = 0;
    for (uint64_t first = unseen->kinds; first != 0; first &= first - 1) {
        int x = lowest(first);
        ways += count_from(unseen, x, a->row[x] & b->row[x] & c->row[x]);
    }
    return ways;
}

/* An upper bound of how many draws that begin with x three lists have in common. */
static inline uint64_t triples_at_most(const struct draw_list *a, const struct draw_list *b,
                                       const struct draw_list *c, int x) {
    uint64_t ways = 0;
    for (int part = 0; part < PARTS; part++) {
        uint32_t number = a->number[x][part];
        number = b->number[x][part] < number ? b->number[x][part] : number;
        ways += c->number[x][part] < number ? c->number[x][part] : number;
    }
    return ways;
}

static uint64_t common_after(const struct draw_list *a, const struct draw_list *b,
                             const struct draw_list *c, int x, const struct unseen *unseen) {
    uint64_t ways = 0;
    int start = pair_row(x, 0);
    for (uint64_t listed = common_from(a, b, c, x) & above_kind(x); listed != 0;
         listed &= listed - 1) {
        int y = lowest(listed), i = start + y;
        ways += count_from(unseen, y, a->row[i] & b->row[i] & c->row[i]);
    }
    return ways;
}

/* The draws x x z that three lists have in common. */
static uint64_t alike_in_common(const struct draw_list *a, const struct draw_list *b,
                                const struct draw_list *c, int x, const struct unseen *unseen) {
    int i = pair_row(x, x);
    if ((common_from(a, b, c, x) >> x & 1u) == 0)
        return 0;
    return count_alike(unseen, x, a->row[i] & b->row[i] & c->row[i]);
}

uint64_t draws_in_common_at_most(const struct draw_list *const lists[], unsigned count) {
    uint64_t ways = 0;
    for (int x = 0; x < NH_KINDS; x++)
        ways += triples_at_most(lists[0], lists[1], lists[count - 1], x);
    return ways;
}

uint64_t draws_in_common(const struct draw_list *const lists[], unsigned count,
                         const struct unseen *unseen, unsigned tiles, uint64_t least) {
    const struct draw_list *a = lists[0], *b = lists[1], *c = lists[count - 1];
    if (tiles == 2)
        return pairs_in_common(a, b, c, unseen);
    uint64_t ways = draws_in_common_at_most(lists, count);
    for (uint64_t first = unseen->kinds; first != 0 && ways >= least; first &= first - 1) {
        int x = lowest(first);
        uint64_t here = unseen->count[x] * unseen->kernels->common_after(a, b, c, x, unseen) +
                        alike_in_common(a, b, c, x, unseen);
        ways -= triples_at_most(a, b, c, x) - here;
    }
    return ways;
}

/* -------------------------------------------------------------- kernels --- */

static const struct draw_kernels portable = {"portable", count_triples, list_from, common_after};

const struct draw_kernels *draw_kernels_at(int index) {
    return index == 0 ? &portable : index == 1 ? draw_kernels_of_processor() : NULL;
}

const struct draw_kernels *draw_kernels_best(void) {
    const struct draw_kernels *wider = draw_kernels_of_processor();
    return wider != NULL ? wider : &portable;
}
