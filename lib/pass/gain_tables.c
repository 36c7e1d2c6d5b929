/* Tables of the draws that bring a family nearer. */
#include "pass/gain_tables.h"

#include <string.h>

#define BUCKET_BITS 9 /* of one part */
#define PART_SLOTS ((size_t)BUCKET << BUCKET_BITS)

/* Tables of one family that are remembered by `last`: jokers up to 3, or more. */
#define LAST_JOKERS 4

bool gain_memo_init(struct gain_memo *memo, const nh_list *list, const nh_allocator *allocator) {
    *memo = (struct gain_memo){.allocator = *allocator};
    memo->tags = memory_new(allocator, PARTS * PART_SLOTS, sizeof *memo->tags);
    memo->slots = memory_new_raw(allocator, PARTS * PART_SLOTS, sizeof *memo->slots);
    memo->last =
        memory_new(allocator, PARTS * LAST_JOKERS * list->family_count, sizeof *memo->last);
    memo->matches = memory_new_raw(allocator, list->largest_family + 1u, sizeof *memo->matches);
    return memo->tags != NULL && memo->slots != NULL && memo->last != NULL && memo->matches != NULL;
}

void gain_memo_free(struct gain_memo *memo) {
    memory_release(&memo->allocator, memo->tags);
    memory_release(&memo->allocator, memo->slots);
    memory_release(&memo->allocator, memo->last);
    memory_release(&memo->allocator, memo->matches);
}

/* -------------------------------------------------------------- shares --- */

/* What a share lacks: the slots of which at least one, two, three tiles are
 * missing, and those of which so many are closed to jokers; and how many open
 * tiles bring it nearer. */
struct lacking {
    uint16_t missing[NH_PASS_MAX], closed[NH_PASS_MAX];
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

/* Adds what a share at D + `level` has use for. */
static void add_share(struct gains *gains, const struct lacking *lacking, unsigned level) {
    unsigned first = useful(lacking, 0, lacking->open);
    if (first != 0)
        gains->levels |= (uint8_t)(1u << level);
    if (level == 0)
        gains->single |= (uint16_t)first;
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
    if ((sight->hard[i] & ~sight->live) != 0)
        return false;
    return sight->most_excess == ANY_EXCESS ||
           sight->size - bit_count(sight->bits[i] & sight->live) <= sight->most_excess;
}

/* Tiles that a share lacks beside its jokers. */
static unsigned share_away(const struct sight *sight, uint32_t i) {
    unsigned missing = sight->size - bit_count(sight->bits[i] & sight->have);
    if (!sight->any_jokers)
        return missing;
    unsigned closed = bit_count(sight->hard[i] & ~sight->have);
    return missing < closed + sight->jokers ? closed : missing - sight->jokers;
}

static void find_lacking(const struct sight *sight, uint32_t i, struct lacking *lacking) {
    uint64_t closed = sight->hard[i] & ~sight->have;
    count_missing(sight->bits[i] & ~sight->have, sight->honours, lacking->missing);
    if (!sight->any_jokers) {
        memcpy(lacking->closed, lacking->missing, sizeof lacking->closed);
        lacking->open = 0;
        return;
    }
    count_missing(closed, sight->honours, lacking->closed);
    lacking->open = share_away(sight, i) - bit_count(closed);
}

/* The shares that are at most `farthest` away and serve; how many. */
static size_t find_shares(const struct sight *sight, unsigned farthest, uint32_t *matches) {
    unsigned jokers = sight->any_jokers ? sight->jokers : 0;
    size_t found =
        sight->kernels->find_lacking(sight->bits, sight->hard, sight->count, sight->have,
                                     ~sight->live, sight->size, jokers, farthest, matches);
    size_t count = 0;
    for (size_t i = 0; i < found; i++) {
        matches[count] = matches[i];
        count += share_serves(sight, matches[i]);
    }
    return count;
}

static unsigned least_away(const struct sight *sight) {
    unsigned least = FAR;
    for (uint32_t i = 0; i < sight->count; i++) {
        unsigned away = share_serves(sight, i) ? share_away(sight, i) : FAR;
        least = away < least ? away : least;
    }
    return least;
}

static void fill_gains(const struct sight *sight, unsigned depth, unsigned away, uint32_t *matches,
                       struct gains *gains) {
    memset(gains, 0, sizeof *gains);
    gains->depth = (uint8_t)depth;
    gains->away = (uint8_t)(away < FAR ? away : least_away(sight));
    size_t count = find_shares(sight, gains->away + depth, matches);
    for (size_t i = 0; i < count; i++) {
        struct lacking lacking;
        unsigned excess = sight->size - bit_count(sight->bits[matches[i]] & sight->live);
        gains->excess = (uint8_t)(excess > gains->excess ? excess : gains->excess);
        find_lacking(sight, matches[i], &lacking);
        add_share(gains, &lacking, share_away(sight, matches[i]) - gains->away);
    }
}

/* Beside the tiles held and left: family, jokers and excess. */
static struct tag tag_of(const struct query *query, int part, uint32_t family, unsigned jokers,
                         unsigned excess) {
    struct tag tag = {query->have[part], query->live[part]};
    tag.key |= (uint64_t)family << 36 | TAG_USED;
    tag.live |= (uint64_t)jokers << 36 | (uint64_t)excess << 42;
    return tag;
}

/* The slot of a table, found or free; which it is. */
static bool find_slot(struct gain_memo *memo, int part, const struct tag *wanted, size_t *slot) {
    size_t bucket = (size_t)part * PART_SLOTS + tag_bucket(wanted, BUCKET_BITS);
    for (*slot = bucket; *slot < bucket + BUCKET && memo->tags[*slot].key != 0; ++*slot)
        if (tags_equal(&memo->tags[*slot], wanted))
            return true;
    if (*slot == bucket + BUCKET)
        *slot = bucket + memo->turn++ % BUCKET;
    return false;
}

const struct gains *gains_find(const struct query *query, struct gain_memo *memo, int part,
                               uint32_t family, unsigned jokers, unsigned excess, unsigned depth,
                               unsigned away) {
    const nh_list *list = query->list;
    struct tag wanted = tag_of(query, part, family, jokers, excess);
    size_t hint = (size_t)part * list->family_count + family;
    uint16_t *last = &memo->last[hint * LAST_JOKERS + jokers % LAST_JOKERS];
    size_t slot = *last;
    if (tags_equal(&memo->tags[slot], &wanted) && memo->slots[slot].depth >= depth)
        return &memo->slots[slot];
    if (!find_slot(memo, part, &wanted, &slot) || memo->slots[slot].depth < depth) {
        const struct family *held = &list->families[family];
        struct sight sight = {.kernels = list->kernels,
                              .bits = list->bits + held->first,
                              .hard = list->hard + held->first,
                              .count = held->count,
                              .have = query->have[part],
                              .live = query->live[part],
                              .size = held->size,
                              .jokers = jokers,
                              .most_excess = excess,
                              .honours = part == PART_HONOUR,
                              .any_jokers = list->set.count[NH_JOKER] > 0};
        memo->tags[slot] = wanted;
        fill_gains(&sight, depth, away, memo->matches, &memo->slots[slot]);
    }
    *last = (uint16_t)slot;
    return &memo->slots[slot];
}
