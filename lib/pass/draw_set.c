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

void draws_add_within(struct draw_set *set, int part, const struct gains *gains, unsigned gain,
                      unsigned most) {
    if (gain < 3 && most >= 2 && gains->pair_rows[2 - gain] != 0)
        for (int i = 0; i < PAIR_WORDS; i++)
            set->pairs_within[part][i] |= gains->pair[2 - gain].words[i];
    if (most >= 3 && (gains->levels >> (3 - gain) & 1u) != 0)
        for (int i = 0; i < TRIPLE_WORDS; i++)
            set->triples_within[part][i] |= gains->triple[3 - gain].words[i];
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
        for (uint64_t lower = row == 0 ? 0 : below; lower != 0; lower &= lower - 1)
            set->triple[pair_row(lowest(lower), x)] |= row;
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
            set->triple[pair_row(x, y)] |= second & above_part(y / PART_KINDS);
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
    uint64_t kinds;          /* those that are not single */
    uint64_t pair[NH_KINDS]; /* row x, bit y, whichever is greater */
};

static inline uint64_t row_within(const uint64_t *words, int row) {
    return words[row / 4] >> row % 4 * 16 & PART_BITS;
}

static void merge_pairs(const struct draw_set *set, const struct unseen *unseen,
                        struct merged *merged) {
    merged->kinds = 0;
    for (int x = 0; x < NH_KINDS; x++) {
        int part = x / PART_KINDS;
        if (unseen->count[x] > 0 && (set->single >> x & 1u) == 0)
            merged->kinds |= UINT64_C(1) << x;
        merged->pair[x] = set->pair[x] | row_within(set->pairs_within[part], x % PART_KINDS)
                                             << part * PART_KINDS;
    }
    for (int x = 0; x < NH_KINDS; x++)
        for (uint64_t rest = merged->pair[x] & above_kind(x); rest != 0; rest &= rest - 1)
            merged->pair[lowest(rest)] |= UINT64_C(1) << x;
}

/* Draws of two tiles, none of which is single. */
static uint64_t count_pairs(const struct merged *merged, const struct unseen *unseen) {
    uint64_t ways = 0;
    for (uint64_t first = merged->kinds; first != 0; first &= first - 1) {
        int x = lowest(first);
        uint64_t second = merged->pair[x] & merged->kinds;
        ways += unseen->count[x] * unseen_of(unseen, second & above_kind(x));
        if ((second >> x & 1u) != 0)
            ways += draws_of(unseen->count[x], 2);
    }
    return ways;
}

/* The kinds z with which x <= y, no pair of the set, are in it. */
static inline uint64_t thirds(const struct draw_set *set, const struct merged *merged, int x,
                              int y) {
    uint64_t thirds = merged->pair[x] | merged->pair[y] | set->triple[pair_row(x, y)];
    int part = x / PART_KINDS;
    if (y < (part + 1) * PART_KINDS) {
        int row = triple_row(x - part * PART_KINDS, y - part * PART_KINDS);
        thirds |= row_within(set->triples_within[part], row) << part * PART_KINDS;
    }
    return thirds & merged->kinds;
}

/* Ways to draw two tiles y <= z, of which z is one of `third`. */
static inline uint64_t count_from(const struct unseen *unseen, int y, uint64_t third) {
    uint64_t tiles = unseen->count[y];
    uint64_t above = unseen_of(unseen, third & above_kind(y)), same = third >> y & 1u;
    return tiles * above + same * (tiles * (tiles - 1) / 2);
}

/* Ways to draw two tiles x, and a third from x on that is one of `third`. */
static inline uint64_t count_alike(const struct unseen *unseen, int x, uint64_t third) {
    uint64_t tiles = unseen->count[x];
    return draws_of(tiles, 2) * unseen_of(unseen, third & above_kind(x)) +
           (third >> x & 1u) * draws_of(tiles, 3);
}

/* Draws of three tiles x <= y <= z, none of which is single. */
static uint64_t count_triples(const struct draw_set *set, const struct merged *merged,
                              const struct unseen *unseen) {
    uint64_t ways = 0, any[NH_KINDS]; /* ways to draw y and any z from y on */
    for (uint64_t kinds = merged->kinds; kinds != 0; kinds &= kinds - 1)
        any[lowest(kinds)] = count_from(unseen, lowest(kinds), merged->kinds);
    for (uint64_t first = merged->kinds; first != 0; first &= first - 1) {
        int x = lowest(first);
        uint64_t second = first & (first - 1), mates = merged->pair[x], after_x = 0;
        for (uint64_t paired = second & mates; paired != 0; paired &= paired - 1)
            after_x += any[lowest(paired)];
        for (uint64_t others = second & ~mates; others != 0; others &= others - 1) {
            uint64_t third = thirds(set, merged, x, lowest(others));
            if (third != 0)
                after_x += count_from(unseen, lowest(others), third);
        }
        bool alike = (mates >> x & 1u) != 0;
        ways += unseen->count[x] * after_x;
        ways += count_alike(unseen, x, alike ? merged->kinds : thirds(set, merged, x, x));
    }
    return ways;
}

uint64_t draws_count(const struct draw_set *set, const struct unseen *unseen, unsigned tiles) {
    struct merged merged;
    merge_pairs(set, unseen, &merged);
    uint64_t rest = unseen_of(unseen, merged.kinds);
    uint64_t ways = draws_of(unseen->total, tiles) - draws_of(rest, tiles);
    if (tiles == 2)
        ways += count_pairs(&merged, unseen);
    if (tiles == 3)
        ways += count_triples(set, &merged, unseen);
    return ways;
}

/* ------------------------------------------------------------ one by one --- */

void draws_list(const struct draw_set *set, const struct unseen *unseen, unsigned tiles,
                uint64_t *row) {
    struct merged merged;
    uint64_t all = kinds_of(unseen);
    merge_pairs(set, unseen, &merged);
    for (int x = 0; x < NH_KINDS; x++) {
        bool single = (set->single >> x & 1u) != 0;
        if (tiles == 2)
            *row++ = (single ? all : merged.pair[x] | set->single) & all & ~below_kind(x);
        for (int y = x; tiles == 3 && y < NH_KINDS; y++) {
            single = ((set->single >> x | set->single >> y) & 1u) != 0;
            bool paired = (merged.pair[x] >> y & 1u) != 0;
            uint64_t third = single || paired ? all : thirds(set, &merged, x, y) | set->single;
            *row++ = third & all & ~below_kind(y);
        }
    }
}

uint64_t draws_in_common(const uint64_t *const lists[], unsigned count, const struct unseen *unseen,
                         unsigned tiles) {
    const uint64_t *a = lists[0], *b = lists[count > 1], *c = lists[count - 1];
    uint64_t ways = 0, kinds = kinds_of(unseen);
    for (uint64_t first = kinds; first != 0; first &= first - 1) {
        int x = lowest(first), start = pair_row(x, 0);
        if (tiles == 2) {
            uint64_t n = unseen->count[x], row = a[x] & b[x] & c[x];
            ways += n * unseen_of(unseen, row & above_kind(x)) + (row >> x & 1u) * draws_of(n, 2);
            continue;
        }
        uint64_t after_x = 0;
        for (uint64_t second = first & (first - 1); second != 0; second &= second - 1) {
            int y = lowest(second), i = start + y;
            uint64_t row = a[i] & b[i] & c[i];
            if (row != 0)
                after_x += count_from(unseen, y, row);
        }
        ways += unseen->count[x] * after_x;
        ways += count_alike(unseen, x, a[start + x] & b[start + x] & c[start + x]);
    }
    return ways;
}
