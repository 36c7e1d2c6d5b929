/* Sets of draws. */
#include "pass/draw_set.h"

#include <stddef.h>
#include <string.h>

/* The kinds of all parts above a part, and below it. */
static uint64_t above_part(int part) {
    return ~UINT64_C(0) << (part + 1) * PART_KINDS;
}

static uint64_t below_part(int part) {
    return (UINT64_C(1) << part * PART_KINDS) - 1u;
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
        add_words(set->pairs_within[part].words, gains->pair[2 - gain].words, PAIR_WORDS);
    if (most >= 3 && (gains->levels >> (3 - gain) & 1u) != 0)
        add_words(set->triples_within[part].words, gains->triple[3 - gain].words, TRIPLE_WORDS);
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

/* ------------------------------------------------------------ completing --- */

static inline void add_rows(uint64_t *restrict to, const uint16_t *restrict rows, int count,
                            int part) {
    for (int i = 0; i < count; i++)
        to[i] |= (uint64_t)rows[i] << part * PART_KINDS;
}

static void end_triples(struct draw_set *set, int part) {
    const uint16_t *rows = set->triples_within[part].row;
    for (int slot = 0; slot < PART_KINDS; slot++) {
        int x = part * PART_KINDS + slot;
        add_rows(set->triple + pair_row(x, x), rows + triple_row(slot, slot), PART_KINDS - slot,
                 part);
    }
}

void draws_end(struct draw_set *set, unsigned most) {
    for (int part = 0; part < PARTS && most >= 2; part++)
        add_rows(set->pair + part * PART_KINDS, set->pairs_within[part].row, PART_KINDS, part);
    for (int part = 0; part < PARTS && most >= 3; part++)
        end_triples(set, part);
    set->paired = 0;
    for (int kind = 0; kind < NH_KINDS; kind++)
        set->paired |= (uint64_t)(set->pair[kind] != 0) << kind;
}
