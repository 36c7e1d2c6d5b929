/* Tables of the draws that bring a family nearer. */
#include "pass/gain_tables.h"

#include <string.h>

#define GAINS_MAX 8192u
#define PLACE_BITS 14
#define PLACES_MAX ((size_t)1 << PLACE_BITS)

bool gain_memo_init(struct gain_memo *memo, const nh_list *list, const nh_allocator *allocator) {
    *memo = (struct gain_memo){.allocator = *allocator};
    memo->tables = memory_new_raw(allocator, GAINS_MAX, sizeof *memo->tables);
    memo->places = memory_new(allocator, PLACES_MAX, sizeof *memo->places);
    memo->matches = memory_new_raw(allocator, list->largest_family + 1u, sizeof *memo->matches);
    return memo->tables != NULL && memo->places != NULL && memo->matches != NULL;
}

void gain_memo_free(struct gain_memo *memo) {
    memory_release(&memo->allocator, memo->tables);
    memory_release(&memo->allocator, memo->places);
    memory_release(&memo->allocator, memo->matches);
}

void gains_forget(struct gain_memo *memo) {
    memset(memo->places, 0, PLACES_MAX * sizeof *memo->places);
    memo->used = 0;
}

void gains_reserve(struct gain_memo *memo, unsigned tables) {
    if (memo->used + tables > GAINS_MAX)
        gains_forget(memo);
}

/* -------------------------------------------------------------- shares --- */

/* What a share lacks: the slots of which at least one, two, three tiles are
 * missing, and those of which so many are closed to jokers; and how many open
 * tiles bring it nearer. */
struct lacking {
    uint16_t missing[NH_PASS_MAX], closed[NH_PASS_MAX]; /* closed: if there are open ones */
    unsigned open;
};

/* Every fourth bit, from the lowest on, next to one another. */
static uint16_t gather_slots(uint64_t bits) {
    bits = (bits | bits >> 3) & UINT64_C(0x303030303);
    bits = (bits | bits >> 6) & UINT64_C(0x3000F000F);
    bits = (bits | bits >> 12) & UINT64_C(0x3000000FF);
    return (uint16_t)((bits | bits >> 24) & 0x1FF);
}

/* The slots with any bit set. The flower's bits are those of two slots, the last
 * of which is no kind of its own: see match.h. */
static uint16_t slots_with(uint64_t bits, bool honours) {
    bits |= (bits >> 1) & UINT64_C(0x777777777);
    bits |= (bits >> 2) & UINT64_C(0x333333333);
    uint16_t slots = gather_slots(bits & UINT64_C(0x111111111));
    return honours ? (uint16_t)((slots | ((slots >> 1) & 0x80)) & 0xFF) : slots;
}

/* The bits of missing tiles lie together in each slot, so that n of them lie
 * side by side exactly when n are missing. */
static void count_missing(uint64_t bits, bool honours, uint16_t slots[NH_PASS_MAX]) {
    const uint64_t flowers = honours ? UINT64_C(0xFF0000000) : 0;
    uint64_t two = bits & (bits >> 1) & (UINT64_C(0x777777777) | (flowers & (flowers >> 1)));
    uint64_t three = two & (two >> 1) & (UINT64_C(0x333333333) | (flowers & (flowers >> 2)));
    slots[0] = slots_with(bits, honours);
    slots[1] = two != 0 ? slots_with(two, honours) : 0;
    slots[2] = three != 0 ? slots_with(three, honours) : 0;
}

/* The slots that have use for one more tile after `held` of the same kind, 0 to
 * NH_PASS_MAX - 1. */
static unsigned useful(const struct lacking *lacking, unsigned held, unsigned open) {
    return open > 0 ? lacking->missing[held] : lacking->closed[held];
}

/* The open tiles that still count after one of a useful slot. */
static unsigned open_after(const struct lacking *lacking, int slot, unsigned held, unsigned open) {
    return open - ((lacking->closed[held] >> slot & 1u) == 0);
}

/* What may come after a tile of `slot`, of which there are `held` then, so that
 * slots do not descend. */
static unsigned useful_after(const struct lacking *lacking, int slot, unsigned held,
                             unsigned open) {
    unsigned above = useful(lacking, 0, open) & ~((2u << slot) - 1u);
    return above | (useful(lacking, held, open) & 1u << slot);
}

/* Adds what a share at D + `level` has use for: each tile after the others, so that
 * open ones are used up. */
static void add_one_by_one(struct gains *gains, const struct lacking *lacking, unsigned level) {
    unsigned first = useful(lacking, 0, lacking->open);
    for (; first != 0; first &= first - 1) {
        int x = __builtin_ctz(first);
        unsigned open = open_after(lacking, x, 0, lacking->open);
        unsigned second = useful_after(lacking, x, 1, open);
        if (level < NH_PASS_MAX - 1 && second != 0) {
            gains->pair[level].row[x] |= (uint16_t)second;
            gains->pair_rows[level] |= (uint16_t)(1u << x);
        }
        for (; second != 0; second &= second - 1) {
            int y = __builtin_ctz(second);
            unsigned held = y == x;
            unsigned third = useful_after(lacking, y, held + 1, open_after(lacking, y, held, open));
            gains->triple[level].row[triple_row(x, y)] |= (uint16_t)third;
        }
    }
}

/* The same where open tiles are not used up by three draws, or there are none: what is
 * useful then are the tiles of `slots`, whatever came before. */
static void add_all(struct gains *gains, const uint16_t slots[NH_PASS_MAX], unsigned level) {
    for (unsigned first = slots[0]; first != 0; first &= first - 1) {
        int x = __builtin_ctz(first);
        unsigned second = (first & (first - 1)) | (slots[1] & 1u << x);
        uint16_t *row = &gains->triple[level].row[triple_row(x, 0)];
        if (level < NH_PASS_MAX - 1 && second != 0) {
            gains->pair[level].row[x] |= (uint16_t)second;
            gains->pair_rows[level] |= (uint16_t)(1u << x);
        }
        for (; second != 0; second &= second - 1) {
            int y = __builtin_ctz(second);
            unsigned same = y == x ? slots[2] : slots[1];
            row[y] |= (uint16_t)((second & (second - 1) & slots[0]) | (same & 1u << y));
        }
    }
}

static void start_level(struct gains *gains, unsigned level) {
    gains->levels |= (uint8_t)(1u << level);
    memset(&gains->triple[level], 0, sizeof gains->triple[level]);
    if (level < NH_PASS_MAX - 1)
        memset(&gains->pair[level], 0, sizeof gains->pair[level]);
}

static void add_share_gains(struct gains *gains, const struct lacking *lacking, unsigned level) {
    if (lacking->missing[0] == 0)
        return;
    if ((gains->levels >> level & 1u) == 0)
        start_level(gains, level);
    if (level == 0)
        gains->single |= lacking->missing[0];
    if (lacking->open == 0 || lacking->open >= NH_PASS_MAX)
        add_all(gains, lacking->missing, level);
    else
        add_one_by_one(gains, lacking, level);
}

/* -------------------------------------------------------------- tables --- */

/* A family in a part, as the hand stands to it. */
struct sight {
    const struct kernels *kernels;
    const uint64_t *bits, *hard;
    uint32_t count;
    uint64_t have, live;
    unsigned size, jokers, most_excess;
    bool honours, any_jokers;
};

static bool share_serves(const struct sight *sight, uint32_t i) {
    return sight->most_excess == ANY_EXCESS ||
           sight->size - bit_count(sight->bits[i] & sight->live) <= sight->most_excess;
}

/* What a share has use for; returns its distance with the jokers. Where no open tile
 * brings it nearer, only its closed ones are missing for it. */
static unsigned find_lacking(const struct sight *sight, uint32_t i, struct lacking *lacking) {
    uint64_t missing = sight->bits[i] & ~sight->have, closed = sight->hard[i] & ~sight->have;
    /* tiles beyond the set's copies have no bits, but are missing too */
    unsigned lacks = sight->size - bit_count(sight->bits[i] & sight->have);
    unsigned least = sight->any_jokers ? bit_count(closed) : lacks;
    lacking->open = lacks > least + sight->jokers ? lacks - least - sight->jokers : 0;
    if (sight->any_jokers && lacking->open == 0)
        missing = closed;
    count_missing(missing, sight->honours, lacking->missing);
    if (lacking->open > 0 && lacking->open < NH_PASS_MAX)
        count_missing(closed, sight->honours, lacking->closed);
    return least + lacking->open;
}

/* Steps of work for a table: for one, for eight shares, for one that has a use. */
#define STEPS_TABLE 8u
#define STEPS_SHARES 8u
#define STEPS_SHARE 4u

static void fill_gains(const struct sight *sight, unsigned depth, unsigned away,
                       struct gain_memo *memo, struct gains *gains) {
    uint32_t *matches = memo->matches;
    gains->single = gains->pair_rows[0] = gains->pair_rows[1] = 0;
    gains->levels = 0;
    gains->depth = (uint8_t)depth;
    unsigned jokers = sight->any_jokers ? sight->jokers : 0;
    size_t count =
        sight->kernels->find_lacking(sight->bits, sight->hard, sight->count, sight->have,
                                     ~sight->live, sight->size, jokers, away + depth, matches);
    memo->work += STEPS_TABLE + sight->count / STEPS_SHARES + count * STEPS_SHARE;
    for (size_t i = 0; i < count; i++) {
        struct lacking lacking;
        if (!share_serves(sight, matches[i]))
            continue;
        unsigned level = find_lacking(sight, matches[i], &lacking) - away;
        add_share_gains(gains, &lacking, level);
    }
}

/* The table of a tag: one there was, or the next free one, whose depth is not set. */
static struct gains *find_table(struct gain_memo *memo, const struct tag *tag, bool *found) {
    uint64_t hash = tag_hash(tag);
    uint16_t check = (uint16_t)hash;
    size_t at = (size_t)(hash >> (64 - PLACE_BITS));
    *found = true;
    for (; memo->places[at].table != 0; at = (at + 1) % PLACES_MAX) {
        struct gains *gains = &memo->tables[memo->places[at].table - 1];
        if (memo->places[at].check == check && tags_equal(&gains->tag, tag))
            return gains;
    }
    *found = false;
    struct gains *gains = &memo->tables[memo->used++];
    memo->places[at].check = check;
    memo->places[at].table = (uint16_t)memo->used;
    gains->tag = *tag;
    return gains;
}

const struct gains *gains_find(const struct query *query, struct gain_memo *memo, int part,
                               const struct gains_wanted *wanted, unsigned depth) {
    const nh_list *list = query->list;
    struct tag tag = {query->have[part], query->live[part]};
    tag.key |= (uint64_t)wanted->family << 36 | TAG_USED;
    tag.live |= (uint64_t)wanted->jokers << 36 | (uint64_t)wanted->excess << 42;
    bool found;
    struct gains *gains = find_table(memo, &tag, &found);
    if (found && gains->depth >= depth)
        return gains;
    const struct family *family = &list->families[wanted->family];
    struct sight sight = {.kernels = list->kernels,
                          .bits = list->bits + family->first,
                          .hard = list->hard + family->first,
                          .count = family->count,
                          .have = query->have[part],
                          .live = query->live[part],
                          .size = family->size,
                          .jokers = wanted->jokers,
                          .most_excess = wanted->excess,
                          .honours = part == PART_HONOUR,
                          .any_jokers = list->set.count[NH_JOKER] > 0};
    fill_gains(&sight, depth, wanted->away, memo, gains);
    return gains;
}
