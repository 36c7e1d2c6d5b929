/* Targets that jokers can complete in several ways. 1112344 4 of one suit is
 * 111 234 44, where jokers may be ones, and 123 444 11, where they may be fours;
 * a hand takes whichever the draws make the better one.
 *
 * A way is defined by how many missing tiles of each kind are hard: no joker may be
 * them. The draws that serve in two ways at once are those that serve in the way
 * with the larger number for each kind, so the draws that serve in any way are
 *
 *     |A or rest| = |A| + |rest| - |A and each of the rest|. */
#include "rank/joker_ways.h"
#include "compile/twins.h"

/* More ways than any target of at most NH_TARGET_MAX tiles has. */
#define WAYS_MAX 256

struct way {
    uint8_t hard[NH_TARGET_MAX];
};

/* The kinds that a target lacks. */
struct target_lacks {
    const struct draws *draws;
    struct chance_memo *chances;
    uint8_t missing[NH_TARGET_MAX], unseen[NH_TARGET_MAX];
    int part[NH_TARGET_MAX], slot[NH_TARGET_MAX];
    int count;
};

/* ------------------------------------------------------------- counting --- */

static nh_natural count_way(const struct target_lacks *lacks, const struct way *way) {
    lack_number numbers[NH_TARGET_MAX];
    for (int i = 0; i < lacks->count; i++)
        insert_lack(numbers, i, number_of_lack(lacks->missing[i], way->hard[i], lacks->unseen[i]));
    return chance_of(lacks->chances, lacks->draws, numbers, lacks->count);
}

/* Whether all draws that serve in way `a` serve in way `b`. */
static bool way_within(const struct way *a, const struct way *b, int count) {
    for (int i = 0; i < count; i++)
        if (a->hard[i] < b->hard[i])
            return false;
    return true;
}

/* Adds a way unless it lies within another; drops those that lie within it. */
static size_t add_way(struct way *ways, size_t count, const struct way *way, int kinds) {
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        if (way_within(way, &ways[i], kinds))
            return count;
    for (size_t i = 0; i < count; i++)
        if (!way_within(&ways[i], way, kinds))
            ways[kept++] = ways[i];
    if (kept < WAYS_MAX)
        ways[kept++] = *way;
    return kept;
}

/* Draws that serve in any way of one or more. */
static nh_natural count_any(const struct target_lacks *lacks, const struct way *ways,
                            size_t count) {
    nh_natural sum = count_way(lacks, &ways[0]);
    if (count == 1)
        return sum;
    struct way both[WAYS_MAX];
    size_t both_count = 0;
    for (size_t i = 1; i < count; i++) {
        struct way way = ways[i];
        for (int kind = 0; kind < lacks->count; kind++)
            if (ways[0].hard[kind] > way.hard[kind])
                way.hard[kind] = ways[0].hard[kind];
        both_count = add_way(both, both_count, &way, lacks->count);
    }
    sum = natural_add(sum, count_any(lacks, ways + 1, count - 1));
    return natural_subtract(sum, count_any(lacks, both, both_count));
}

/* ------------------------------------------------------------ gathering --- */

static void find_lacks(const struct query *query, const struct share *const target[PARTS],
                       struct target_lacks *lacks) {
    for (int part = 0; part < PARTS; part++) {
        for (int slot = 0; slot < PART_KINDS; slot++) {
            int kind = part * PART_KINDS + slot;
            int held = query->hand.count[kind];
            if (kind == NH_JOKER || target[part]->need[slot] <= held)
                continue;
            int i = lacks->count++;
            lacks->missing[i] = (uint8_t)(target[part]->need[slot] - held);
            lacks->unseen[i] = (uint8_t)(query->left.count[kind] - held);
            lacks->part[i] = part;
            lacks->slot[i] = slot;
        }
    }
}

/* Adds the ways in which a product holds the target, if it does. */
static size_t add_ways_of_product(const nh_list *list, const struct target_lacks *lacks,
                                  const struct share *const target[PARTS],
                                  const struct product *product, struct way *ways, size_t count) {
    uint32_t first[PARTS], twins[PARTS], at[PARTS] = {0};
    for (int part = 0; part < PARTS; part++) {
        const struct family *family = &list->families[product->family[part]];
        twins[part] = find_twins(list, family, target[part], &first[part]);
        if (twins[part] == 0)
            return count;
    }
    for (int part = 0; part < PARTS;) {
        struct way way = {{0}};
        for (int i = 0; i < lacks->count; i++) {
            int where = lacks->part[i];
            uint8_t joker = list->shares[first[where] + at[where]].joker[lacks->slot[i]];
            way.hard[i] = (uint8_t)(lacks->missing[i] > joker ? lacks->missing[i] - joker : 0);
        }
        count = add_way(ways, count, &way, lacks->count);
        for (part = 0; part < PARTS && ++at[part] == twins[part]; part++)
            at[part] = 0;
    }
    return count;
}

nh_natural ways_count(const struct query *query, const struct draws *draws,
                      const struct list_pattern *pattern, const struct product *product,
                      const uint32_t share[PARTS], struct chance_memo *chances) {
    const nh_list *list = query->list;
    const struct share *target[PARTS];
    for (int part = 0; part < PARTS; part++)
        target[part] = &list->shares[list->families[product->family[part]].first + share[part]];
    struct target_lacks lacks = {.draws = draws, .chances = chances};
    find_lacks(query, target, &lacks);
    struct way ways[WAYS_MAX];
    size_t count = add_ways_of_product(list, &lacks, target, product, ways, 0);
    for (uint32_t i = 0; pattern->overlaps && i < pattern->count; i++) {
        const struct product *other = &list->products[pattern->first + i];
        if (other != product && product_applies(query, other) && same_sizes(list, product, other))
            count = add_ways_of_product(list, &lacks, target, other, ways, count);
    }
    return count_any(&lacks, ways, count);
}
