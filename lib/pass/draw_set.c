/* Sets of draws and how many draws they have. */
#include "pass/draw_set.h"

#define PART_BITS ((UINT64_C(1) << PART_KINDS) - 1u)

/* The kinds of all parts above a part, and below it. */
static uint64_t above_part(int part) {
    return ~UINT64_C(0) << (part + 1) * PART_KINDS;
}

static uint64_t below_part(int part) {
    return (UINT64_C(1) << part * PART_KINDS) - 1u;
}

static uint64_t above_kind(int kind) {
    return ~UINT64_C(0) << (kind + 1);
}

static int lowest(uint64_t kinds) {
    return __builtin_ctzll(kinds);
}

/* -------------------------------------------------------------- adding --- */

/* Two tiles of one part, of `level`, and a single one of another: `single` has
 * those of all parts. */
static void add_two_and_one(struct draw_set *set, const struct gains *const gains[PARTS],
                            unsigned level, uint64_t single) {
    for (int part = 0; part < PARTS; part++) {
        uint64_t above = single & above_part(part), below = single & below_part(part);
        if ((above | below) == 0)
            continue;
        uint64_t rows = gains[part]->pair_rows[level];
        rows &= ~(set->single >> part * PART_KINDS);
        for (; rows != 0; rows &= rows - 1) {
            int slot = lowest(rows), x = part * PART_KINDS + slot;
            uint64_t row = gains[part]->pair[level].row[slot];
            row = row << part * PART_KINDS & ~set->single;
            for (uint64_t lower = below; lower != 0; lower &= lower - 1)
                set->triple[lowest(lower)][x] |= row;
            for (uint64_t second = above == 0 ? 0 : row; second != 0; second &= second - 1)
                set->triple[x][lowest(second)] |= above;
        }
    }
}

/* One tile of each of two parts. */
static void add_one_and_one(struct draw_set *set, uint64_t single) {
    for (uint64_t first = single; first != 0; first &= first - 1) {
        int x = lowest(first);
        set->pair[x] |= single & above_part(x / PART_KINDS);
    }
}

/* One tile of each of three parts. */
static void add_one_and_one_and_one(struct draw_set *set, uint64_t single) {
    for (uint64_t first = single; first != 0; first &= first - 1) {
        int x = lowest(first);
        for (uint64_t second = single & above_part(x / PART_KINDS); second != 0;
             second &= second - 1) {
            int y = lowest(second);
            set->triple[x][y] |= single & above_part(y / PART_KINDS);
        }
    }
}

static void add_pairs_within(struct draw_set *set, const struct gains *const gains[PARTS],
                             unsigned level) {
    for (int part = 0; part < PARTS; part++)
        for (int i = 0; i < PAIR_WORDS && gains[part]->pair_rows[level] != 0; i++)
            set->pairs_within[part][i] |= gains[part]->pair[level].words[i];
}

static void add_triples_within(struct draw_set *set, const struct gains *const gains[PARTS],
                               unsigned level) {
    for (int part = 0; part < PARTS; part++)
        for (int i = 0; i < TRIPLE_WORDS && (gains[part]->levels >> level & 1) != 0; i++)
            set->triples_within[part][i] |= gains[part]->triple[level].words[i];
}

/* A gain is shared out to the parts, at least one tile for each part that has a
 * share in it; m tiles of one part that gain g are at level m - g there. */
void draws_add(struct draw_set *set, const struct gains *const gains[PARTS], unsigned gain,
               unsigned most) {
    uint64_t single = 0;
    for (int part = 0; part < PARTS; part++)
        single |= (uint64_t)gains[part]->single << part * PART_KINDS;
    set->used = true;
    if (gain == 1)
        set->single |= single;
    single &= ~set->single;
    if (gain < 3 && most >= 2)
        add_pairs_within(set, gains, 2 - gain);
    if (gain == 2 && most >= 2)
        add_one_and_one(set, single);
    if (most < 3)
        return;
    add_triples_within(set, gains, 3 - gain);
    if (gain >= 2)
        add_two_and_one(set, gains, 3 - gain, single);
    if (gain == 3)
        add_one_and_one_and_one(set, single);
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
    for (int i = 0; i < 3; i++) {
        unseen->sum[i][0] = 0;
        for (unsigned set = 1; set < 4096; set++) {
            int kind = 12 * i + __builtin_ctz(set);
            unseen->sum[i][set] = (uint16_t)(unseen->sum[i][set & (set - 1)] + unseen->count[kind]);
        }
    }
}

static uint64_t tiles_of(const struct unseen *unseen, uint64_t kinds) {
    return (uint64_t)unseen->sum[0][kinds & 4095] + unseen->sum[1][kinds >> 12 & 4095] +
           unseen->sum[2][kinds >> 24 & 4095];
}

/* Draws counted with all rules in one place for each pair of kinds. */
struct merged {
    uint64_t kinds;          /* those that are not single */
    uint64_t pair[NH_KINDS]; /* row x, bit y, whichever is greater */
};

static uint64_t row_within(const uint64_t *words, int row) {
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
        ways += unseen->count[x] * tiles_of(unseen, second & above_kind(x));
        if ((second >> x & 1u) != 0)
            ways += draws_of(unseen->count[x], 2);
    }
    return ways;
}

/* The kinds z with which x <= y are in the set. */
static uint64_t thirds(const struct draw_set *set, const struct merged *merged, int x, int y) {
    if ((merged->pair[x] >> y & 1u) != 0)
        return merged->kinds;
    uint64_t thirds = merged->pair[x] | merged->pair[y] | set->triple[x][y];
    int part = x / PART_KINDS;
    if (part == y / PART_KINDS) {
        int row = triple_row(x % PART_KINDS, y % PART_KINDS);
        thirds |= row_within(set->triples_within[part], row) << part * PART_KINDS;
    }
    return thirds & merged->kinds;
}

/* Draws of three tiles x <= y <= z, none of which is single. */
static uint64_t count_triples(const struct draw_set *set, const struct merged *merged,
                              const struct unseen *unseen) {
    uint64_t ways = 0;
    for (uint64_t first = merged->kinds; first != 0; first &= first - 1) {
        int x = lowest(first);
        uint64_t tiles = unseen->count[x];
        for (uint64_t second = first; second != 0; second &= second - 1) {
            int y = lowest(second);
            uint64_t third = thirds(set, merged, x, y);
            if (third == 0)
                continue;
            uint64_t both = x == y ? draws_of(tiles, 2) : tiles * unseen->count[y];
            ways += both * tiles_of(unseen, third & above_kind(y));
            if ((third >> y & 1u) == 0)
                continue;
            ways += x == y ? draws_of(tiles, 3) : tiles * draws_of(unseen->count[y], 2);
        }
    }
    return ways;
}

uint64_t draws_count(const struct draw_set *set, const struct unseen *unseen, unsigned tiles) {
    struct merged merged;
    if (!set->used || tiles == 0)
        return 0;
    merge_pairs(set, unseen, &merged);
    uint64_t rest = tiles_of(unseen, merged.kinds);
    uint64_t ways = draws_of(unseen->total, tiles) - draws_of(rest, tiles);
    if (tiles == 2)
        ways += count_pairs(&merged, unseen);
    if (tiles == 3)
        ways += count_triples(set, &merged, unseen);
    return ways;
}
