/* Sets of draws and how many draws they have. */
#include "pass/draw_set.h"

#include <stddef.h>
#include <string.h>

#define PART_BITS ((UINT64_C(1) << PART_KINDS) - 1u)

/* The kinds of all parts above a part, and below it. */
static uint64_t above_part(int part) {
    return ~UINT64_C(0) << (part + 1) * PART_KINDS;
}

static uint64_t below_part(int part) {
    return (UINT64_C(1) << part * PART_KINDS) - 1u;
}

static uint64_t below_kind(int kind) {
    return (UINT64_C(1) << kind) - 1u;
}

static inline uint64_t above_kind(int kind) {
    return ~UINT64_C(0) << (kind + 1);
}

static inline int lowest(uint64_t kinds) {
    return __builtin_ctzll(kinds);
}

/* -------------------------------------------------------------- adding --- */

void draws_clear(struct draw_set *set, unsigned most) {
    memset(set, 0, most < 3 ? offsetof(struct draw_set, triples_within) : sizeof *set);
}

void draws_add_single(struct draw_set *set, uint64_t kinds) {
    set->single |= kinds;
}

static inline void add_words(uint64_t *restrict to, const uint64_t *restrict words, int count) {
    for (int i = 0; i < count; i++)
        to[i] |= words[i];
}

void draws_add_within(struct draw_set *set, int part, const struct gains *gains, unsigned gain,
                      unsigned most) {
    if (gain < 3 && most >= 2 && gains->pair_rows[2 - gain] != 0)
        add_words(set->pairs_within[part], gains->pair[2 - gain].words, PAIR_WORDS);
    if (most >= 3 && (gains->levels >> (3 - gain) & 1u) != 0)
        add_words(set->triples_within[part], gains->triple[3 - gain].words, TRIPLE_WORDS);
}

/* One tile of the part, and one of a part above. */
static void add_one_and_one(struct draw_set *set, uint64_t single, uint64_t above) {
    for (; single != 0 && above != 0; single &= single - 1)
        set->pair[lowest(single)] |= above;
}

/* Two tiles of the part, and one of another. */
static void add_two_and_one(struct draw_set *set, int part, const uint16_t *pairs, uint64_t rows,
                            uint64_t others) {
    uint64_t above = others & above_part(part), below = others & below_part(part);
    rows &= ~(set->single >> part * PART_KINDS);
    for (; rows != 0; rows &= rows - 1) {
        int slot = lowest(rows), x = part * PART_KINDS + slot;
        uint64_t row = (uint64_t)pairs[slot] << part * PART_KINDS & ~set->single;
        for (uint64_t lower = row == 0 ? 0 : below; lower != 0; lower &= lower - 1) {
            set->triple[pair_row(lowest(lower), x)] |= row;
            set->tripled[lowest(lower)] |= UINT64_C(1) << x;
        }
        set->tripled[x] |= above == 0 ? 0 : row;
        for (uint64_t second = above == 0 ? 0 : row; second != 0; second &= second - 1)
            set->triple[pair_row(x, lowest(second))] |= above;
    }
}

void draws_add_across(struct draw_set *set, int part, const struct gains *gains, unsigned gain,
                      uint64_t others, unsigned most) {
    others &= ~(set->single | part_kinds(part));
    if (others == 0)
        return;
    if (gain == 2) {
        uint64_t single = (uint64_t)gains->single << part * PART_KINDS & ~set->single;
        add_one_and_one(set, single, others & above_part(part));
    }
    if (most >= 3)
        add_two_and_one(set, part, gains->pair[3 - gain].row, gains->pair_rows[3 - gain], others);
}

void draws_add_three_parts(struct draw_set *set, uint64_t kinds) {
    for (uint64_t first = kinds & ~set->single; first != 0; first &= first - 1) {
        int x = lowest(first);
        for (uint64_t second = first & above_part(x / PART_KINDS); second != 0;
             second &= second - 1) {
            int y = lowest(second);
            uint64_t third = second & above_part(y / PART_KINDS);
            if (third == 0)
                break;
            set->tripled[x] |= UINT64_C(1) << y;
            set->triple[pair_row(x, y)] |= third;
        }
    }
}

/* ------------------------------------------------------------ counting --- */

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

void unseen_set(struct unseen *unseen, const uint8_t count[NH_KINDS]) {
    unseen->total = 0;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        unseen->count[kind] = kind == NH_JOKER ? 0 : count[kind];
        unseen->total += unseen->count[kind];
    }
    for (int part = 0; part < PARTS; part++) {
        unseen->sum[part][0] = 0;
        for (unsigned kinds = 1; kinds < 1u << PART_KINDS; kinds++) {
            int kind = part * PART_KINDS + __builtin_ctz(kinds);
            unseen->sum[part][kinds] =
                (uint8_t)(unseen->sum[part][kinds & (kinds - 1)] + unseen->count[kind]);
        }
    }
}

static inline uint64_t unseen_of(const struct unseen *unseen, uint64_t kinds) {
    return (uint64_t)unseen->sum[0][kinds & PART_BITS] +
           unseen->sum[1][kinds >> PART_KINDS & PART_BITS] +
           unseen->sum[2][kinds >> 2 * PART_KINDS & PART_BITS] +
           unseen->sum[3][kinds >> 3 * PART_KINDS & PART_BITS];
}

/* Kinds of which tiles are unseen. */
static uint64_t kinds_of(const struct unseen *unseen) {
    uint64_t kinds = 0;
    for (int kind = 0; kind < NH_KINDS; kind++)
        kinds |= (uint64_t)(unseen->count[kind] > 0) << kind;
    return kinds;
}

/* Draws counted with all rules in one place for each pair of kinds. */
struct merged {
    uint64_t kinds;              /* those that are not single */
    uint64_t pair[NH_KINDS];     /* row x, bit y, whichever is greater; both of `kinds` */
    uint64_t paired;             /* kinds whose row is not empty */
    uint64_t rows_within[PARTS]; /* rows of triples within a part that are not empty */
};

static inline uint64_t row_within(const uint64_t *words, int row) {
    return words[row / 4] >> row % 4 * 16 & PART_BITS;
}

/* The rows of the triples of a part that are not empty. Of rows side by side, 16 bits each
 * and the highest clear, all but 0 carry into it. */
static uint64_t rows_filled(const uint64_t words[TRIPLE_WORDS]) {
    const uint64_t carries = UINT64_C(0x7FFF7FFF7FFF7FFF);
    uint64_t rows = 0;
    for (int word = 0; word < TRIPLE_WORDS; word++) {
        uint64_t filled = ((words[word] + carries) & ~carries) >> 15;
        filled |= filled >> 15 | filled >> 30 | filled >> 45;
        rows |= (filled & 0xF) << 4 * word;
    }
    return rows;
}

static void merge_rules(const struct draw_set *set, const struct unseen *unseen, unsigned tiles,
                        struct merged *merged) {
    merged->kinds = kinds_of(unseen) & ~set->single;
    merged->paired = 0;
    memset(merged->pair, 0, sizeof merged->pair);
    for (uint64_t kinds = merged->kinds; kinds != 0; kinds &= kinds - 1) {
        int x = lowest(kinds), part = x / PART_KINDS;
        uint64_t within = row_within(set->pairs_within[part], x % PART_KINDS);
        uint64_t row = (set->pair[x] | within << part * PART_KINDS) & merged->kinds;
        merged->pair[x] |= row;
        merged->paired |= row | (uint64_t)(row != 0) << x;
        for (row &= above_kind(x); row != 0; row &= row - 1)
            merged->pair[lowest(row)] |= UINT64_C(1) << x;
    }
    for (int part = 0; part < PARTS && tiles == 3; part++)
        merged->rows_within[part] = rows_filled(set->triples_within[part]);
}

/* The kinds y >= x, with x, that triples begin with which are in the set by themselves. */
static inline uint64_t tripled_with(const struct draw_set *set, const struct merged *merged,
                                    int x) {
    int slot = x % PART_KINDS;
    uint64_t within = merged->rows_within[x / PART_KINDS] >> triple_row(slot, slot);
    return set->tripled[x] | (within & (PART_BITS >> slot)) << x;
}

/* Ways to draw two tiles y <= z, of which z is one of `third`. */
static inline uint64_t count_from(const struct unseen *unseen, int y, uint64_t third) {
    uint64_t tiles = unseen->count[y];
    uint64_t above = unseen_of(unseen, third & above_kind(y)), same = third >> y & 1u;
    return tiles * above + same * (tiles * (tiles - 1) / 2);
}

/* Draws of two tiles, none of which is single. */
static uint64_t count_pairs(const struct merged *merged, const struct unseen *unseen) {
    uint64_t ways = 0;
    for (uint64_t first = merged->kinds; first != 0; first &= first - 1) {
        int x = lowest(first);
        ways += count_from(unseen, x, merged->pair[x]);
    }
    return ways;
}

/* The kinds z with which x <= y, no pair of the set, are in it. `tripled` is that of x. */
static inline uint64_t thirds(const struct draw_set *set, const struct merged *merged, int x, int y,
                              uint64_t tripled) {
    uint64_t thirds = merged->pair[x] | merged->pair[y];
    if ((tripled >> y & 1u) == 0)
        return thirds;
    thirds |= set->triple[pair_row(x, y)];
    int part = x / PART_KINDS;
    if (y < (part + 1) * PART_KINDS) {
        int row = triple_row(x - part * PART_KINDS, y - part * PART_KINDS);
        thirds |= row_within(set->triples_within[part], row) << part * PART_KINDS;
    }
    return thirds & merged->kinds;
}

/* Ways to draw two tiles x, and a third from x on that is one of `third`. */
static inline uint64_t count_alike(const struct unseen *unseen, int x, uint64_t third) {
    uint64_t tiles = unseen->count[x];
    return draws_of(tiles, 2) * unseen_of(unseen, third & above_kind(x)) +
           (third >> x & 1u) * draws_of(tiles, 3);
}

/* The sum of ways[y] over some kinds. */
static inline uint64_t sum_of(const uint64_t ways[NH_KINDS], uint64_t kinds) {
    uint64_t sum = 0;
    for (; kinds != 0; kinds &= kinds - 1)
        sum += ways[lowest(kinds)];
    return sum;
}

/* For each kind y the ways to draw y and any of `kinds` from y on. */
static void count_with_any(const struct unseen *unseen, uint64_t kinds, uint64_t ways[NH_KINDS]) {
    for (uint64_t rest = kinds; rest != 0; rest &= rest - 1)
        ways[lowest(rest)] = count_from(unseen, lowest(rest), kinds);
}

/* Draws of three tiles x <= y <= z, none of which is single. */
static uint64_t count_triples(const struct draw_set *set, const struct merged *merged,
                              const struct unseen *unseen) {
    uint64_t ways = 0, any[NH_KINDS];
    count_with_any(unseen, merged->kinds, any);
    for (uint64_t first = merged->kinds; first != 0; first &= first - 1) {
        int x = lowest(first);
        uint64_t second = first & (first - 1), mates = merged->pair[x];
        uint64_t tripled = tripled_with(set, merged, x), others = second & ~mates;
        uint64_t after_x = sum_of(any, second & mates);
        if (mates == 0)
            others &= merged->paired | tripled;
        for (; others != 0; others &= others - 1) {
            uint64_t third = thirds(set, merged, x, lowest(others), tripled);
            if (third != 0)
                after_x += count_from(unseen, lowest(others), third);
        }
        bool alike = (mates >> x & 1u) != 0;
        ways += unseen->count[x] * after_x;
        ways += count_alike(unseen, x, alike ? merged->kinds : thirds(set, merged, x, x, tripled));
    }
    return ways;
}

uint64_t draws_count(const struct draw_set *set, const struct unseen *unseen, unsigned tiles) {
    struct merged merged;
    merge_rules(set, unseen, tiles, &merged);
    uint64_t rest = unseen_of(unseen, merged.kinds);
    uint64_t ways = draws_of(unseen->total, tiles) - draws_of(rest, tiles);
    if (tiles == 2)
        ways += count_pairs(&merged, unseen);
    if (tiles == 3)
        ways += count_triples(set, &merged, unseen);
    return ways;
}

/* ------------------------------------------------------------ one by one --- */

static uint64_t list_pairs(const struct draw_set *set, const struct merged *merged, uint64_t all,
                           const struct unseen *unseen, struct draw_list *list) {
    uint64_t ways = 0;
    for (int x = 0; x < NH_KINDS; x++) {
        bool single = (set->single >> x & 1u) != 0;
        list->row[x] = (single ? all : merged->pair[x] | set->single) & all & ~below_kind(x);
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

/* Lists the draws of three tiles that begin with x; how many there are. */
static uint64_t list_triples(const struct draw_set *set, const struct merged *merged, uint64_t all,
                             int x, const struct unseen *unseen, struct draw_list *list) {
    uint64_t from = all & ~below_kind(x), single = set->single & all;
    uint64_t whole = (single >> x & 1u) != 0 ? from : (merged->pair[x] | single) & from;
    uint64_t tripled = tripled_with(set, merged, x), some = 0, *row = list->row + pair_row(x, 0);
    uint32_t number[PARTS] = {0};
    for (uint64_t second = whole; second != 0; second &= second - 1)
        row[lowest(second)] = all & ~below_kind(lowest(second));
    for (uint64_t second = from & ~whole; second != 0; second &= second - 1) {
        int y = lowest(second);
        row[y] = (thirds(set, merged, x, y, tripled) | single) & ~below_kind(y);
        some |= (uint64_t)(row[y] != 0) << y;
    }
    list->whole[x] = whole;
    list->some[x] = some;
    for (uint64_t second = (whole | some) & above_kind(x); second != 0; second &= second - 1) {
        int y = lowest(second);
        uint32_t tiles = unseen->count[y];
        add_by_part(unseen, y, row[y], tiles * (tiles - 1) / 2, tiles, number);
    }
    uint64_t ways = 0;
    uint32_t tiles = unseen->count[x];
    for (int part = 0; part < PARTS; part++)
        number[part] *= tiles;
    if (((whole | some) >> x & 1u) != 0)
        add_by_part(unseen, x, row[x], (uint32_t)draws_of(tiles, 3), (uint32_t)draws_of(tiles, 2),
                    number);
    for (int part = 0; part < PARTS; part++)
        ways += list->number[x][part] = number[part];
    return ways;
}

uint64_t draws_list(const struct draw_set *set, const struct unseen *unseen, unsigned tiles,
                    struct draw_list *list) {
    struct merged merged;
    uint64_t all = kinds_of(unseen), ways = 0;
    merge_rules(set, unseen, tiles, &merged);
    if (tiles == 2)
        return list_pairs(set, &merged, all, unseen, list);
    memset(list->number, 0, sizeof list->number);
    for (uint64_t kinds = all; kinds != 0; kinds &= kinds - 1)
        ways += list_triples(set, &merged, all, lowest(kinds), unseen, list);
    return ways;
}

static uint64_t pairs_in_common(const struct draw_list *a, const struct draw_list *b,
                                const struct draw_list *c, const struct unseen *unseen) {
    uint64_t ways = 0;
    for (uint64_t first = kinds_of(unseen); first != 0; first &= first - 1) {
        int x = lowest(first);
        ways += count_from(unseen, x, a->row[x] & b->row[x] & c->row[x]);
    }
    return ways;
}

/* At least as many draws that begin with x as three lists have in common. */
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

uint64_t draws_in_common_at_most(const struct draw_list *const lists[], unsigned count) {
    uint64_t ways = 0;
    for (int x = 0; x < NH_KINDS; x++)
        ways += triples_at_most(lists[0], lists[1], lists[count - 1], x);
    return ways;
}

/* Those that begin with x. `any` has the ways to go on where all are in the lists. */
static uint64_t triples_from(const struct draw_list *a, const struct draw_list *b,
                             const struct draw_list *c, int x, const uint64_t any[NH_KINDS],
                             const struct unseen *unseen) {
    int start = pair_row(x, 0);
    uint64_t whole = a->whole[x] & b->whole[x] & c->whole[x];
    uint64_t some =
        (a->whole[x] | a->some[x]) & (b->whole[x] | b->some[x]) & (c->whole[x] | c->some[x]);
    uint64_t after_x = sum_of(any, whole & above_kind(x)), alike = 0;
    if ((some >> x & 1u) != 0)
        alike = a->row[start + x] & b->row[start + x] & c->row[start + x];
    for (some &= ~whole & above_kind(x); some != 0; some &= some - 1) {
        int y = lowest(some), i = start + y;
        after_x += count_from(unseen, y, a->row[i] & b->row[i] & c->row[i]);
    }
    return unseen->count[x] * after_x + count_alike(unseen, x, alike);
}

uint64_t draws_in_common(const struct draw_list *const lists[], unsigned count,
                         const struct unseen *unseen, unsigned tiles, uint64_t least) {
    const struct draw_list *a = lists[0], *b = lists[1], *c = lists[count - 1];
    if (tiles == 2)
        return pairs_in_common(a, b, c, unseen);
    uint64_t kinds = kinds_of(unseen), any[NH_KINDS];
    uint64_t ways = draws_in_common_at_most(lists, count);
    count_with_any(unseen, kinds, any);
    for (uint64_t first = kinds; first != 0 && ways >= least; first &= first - 1) {
        int x = lowest(first);
        ways -= triples_at_most(a, b, c, x) - triples_from(a, b, c, x, any, unseen);
    }
    return ways;
}
