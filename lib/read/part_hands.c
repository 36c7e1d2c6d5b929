/* What a hidden hand may hold of one part, and which families it fits.
 *
 * Families come one after another, and each adds itself to the tiles that fit it. The
 * families of an entry are a path in a trie whose steps are kept once, so that adding one
 * costs a look; in the end each path becomes a set of bits. */
#include "read/part_hands.h"

#include <string.h>

/* Steps for tiles that are looked up. */
#define STEPS_LOOK 12u

/* ----------------------------------------------------------- the table --- */

static size_t hash_tiles(uint64_t tiles) {
    tiles *= UINT64_C(0x9E3779B97F4A7C15);
    return (size_t)(tiles ^ tiles >> 29);
}

static bool out_of_memory(struct part_hands *hands) {
    hands->work->status = NH_ERROR_MEMORY;
    return false;
}

#define HAND_SLOTS_FIRST 1024u

static bool grow_hand_slots(struct part_hands *hands) {
    size_t slot_count = hands->slot_count == 0 ? HAND_SLOTS_FIRST : 2 * hands->slot_count;
    if (!read_hold(hands->work, (slot_count - hands->slot_count) * sizeof(uint32_t)))
        return false;
    uint32_t *slots = memory_new(hands->work->allocator, slot_count, sizeof *slots);
    if (slots == NULL)
        return out_of_memory(hands);
    for (size_t i = 0; i < hands->count; i++) {
        size_t slot = hash_tiles(hands->items[i].tiles) & (slot_count - 1);
        while (slots[slot] != 0)
            slot = (slot + 1) & (slot_count - 1);
        slots[slot] = (uint32_t)i + 1;
    }
    memory_release(hands->work->allocator, hands->slots);
    hands->slots = slots;
    hands->slot_count = slot_count;
    return true;
}

/* The entry of tiles, which fits nothing yet when it is new. */
static uint32_t hand_entry(struct part_hands *hands, uint64_t tiles) {
    if (!read_spend(hands->work, STEPS_LOOK) ||
        (2 * hands->count >= hands->slot_count && !grow_hand_slots(hands)))
        return PART_HAND_NONE;
    size_t slot = hash_tiles(tiles) & (hands->slot_count - 1);
    for (; hands->slots[slot] != 0; slot = (slot + 1) & (hands->slot_count - 1))
        if (hands->items[hands->slots[slot] - 1].tiles == tiles)
            return hands->slots[slot] - 1;
    struct part_hand item = {.tiles = tiles};
    memset(item.plus, 0xFF, sizeof item.plus);
    if (!read_hold(hands->work, sizeof item))
        return PART_HAND_NONE;
    if (!memory_reserve(hands->work->allocator, (void **)&hands->items, &hands->capacity,
                        hands->count + 1, sizeof item)) {
        out_of_memory(hands);
        return PART_HAND_NONE;
    }
    hands->items[hands->count++] = item;
    hands->slots[slot] = (uint32_t)hands->count;
    return (uint32_t)hands->count - 1;
}

/* ------------------------------------------------------------- filling --- */

struct filling {
    struct part_hands *hands;
    const struct part_bounds *bounds;
    struct sequences trie; /* steps: the path so far, and a family; a path is a step and 1 */
    const struct share *share;
    uint32_t family; /* its number */
};

/* Adds the family to an entry, unless it is there. */
static void add_family(struct filling *filling, uint64_t tiles) {
    struct part_hands *hands = filling->hands;
    uint32_t entry = hand_entry(hands, tiles);
    if (entry == PART_HAND_NONE)
        return;
    uint32_t path = hands->items[entry].fits;
    if (path != 0 && sequences_at(&filling->trie, path - 1)[1] == filling->family)
        return;
    uint32_t step[2] = {path, filling->family};
    uint32_t place = sequences_place(&filling->trie, step, 2);
    if (place != SEQUENCE_NONE)
        hands->items[entry].fits = place + 1;
}

/* Adds the family to each way to leave tiles of the share to jokers, from `slot` on. */
static void add_part_tiles(struct filling *filling, int slot, uint64_t tiles, int jokers) {
    if (filling->hands->work->status != NH_OK)
        return;
    if (slot == PART_KINDS) {
        add_family(filling, tiles);
        return;
    }
    int need = filling->share->need[slot], least = need - filling->bounds->most[slot];
    int most = filling->share->joker[slot] < jokers ? filling->share->joker[slot] : jokers;
    for (int joked = least > 0 ? least : 0; joked <= most; joked++)
        add_part_tiles(filling, slot + 1, tiles | (uint64_t)(need - joked) << (4 * slot),
                       jokers - joked);
}

static bool add_families(struct filling *filling) {
    struct part_hands *hands = filling->hands;
    for (uint32_t i = 0; i < hands->family_count; i++) {
        const struct family *family = &hands->list->families[hands->families[i]];
        filling->family = i;
        for (uint32_t j = 0; j < family->count && read_spend(hands->work, 1); j++) {
            filling->share = &hands->list->shares[family->first + j];
            add_part_tiles(filling, 0, 0, filling->bounds->jokers);
        }
    }
    return hands->work->status == NH_OK;
}

/* Makes the entries with one tile less than those that fit something, and leads from
 * them there. */
static bool add_one_less(struct part_hands *hands) {
    size_t fitting = hands->count;
    for (size_t i = 0; i < fitting; i++)
        for (int slot = 0; slot < PART_KINDS; slot++) {
            uint64_t tiles = hands->items[i].tiles;
            if (tiles_of_slot(tiles, slot) == 0)
                continue;
            uint32_t less = hand_entry(hands, tiles - (UINT64_C(1) << (4 * slot)));
            if (less == PART_HAND_NONE)
                return false;
            hands->items[less].plus[slot] = (uint32_t)i;
        }
    return true;
}

/* The set of families of a path, as bits. */
static uint32_t set_of_path(struct filling *filling, uint32_t path, uint32_t *bits) {
    struct part_hands *hands = filling->hands;
    uint64_t steps = 1;
    memset(bits, 0, hands->width * sizeof *bits);
    for (; path != 0; steps++) {
        const uint32_t *step = sequences_at(&filling->trie, path - 1);
        bits[step[1] / 32] |= UINT32_C(1) << step[1] % 32;
        path = step[0];
    }
    return read_spend(hands->work, steps) ? sequences_place(&hands->sets, bits, hands->width)
                                          : SEQUENCE_NONE;
}

static bool paths_to_sets(struct filling *filling) {
    struct part_hands *hands = filling->hands;
    size_t paths = filling->trie.count + 1;
    uint32_t *bits = memory_new(hands->work->allocator, hands->width, sizeof *bits);
    uint32_t *set = memory_new(hands->work->allocator, paths, sizeof *set); /* and 1 */
    if (bits == NULL || set == NULL)
        out_of_memory(hands);
    for (size_t i = 0; i < hands->count && hands->work->status == NH_OK; i++) {
        uint32_t path = hands->items[i].fits;
        if (set[path] == 0)
            set[path] = set_of_path(filling, path, bits) + 1;
        hands->items[i].fits = set[path] - 1;
    }
    memory_release(hands->work->allocator, bits);
    memory_release(hands->work->allocator, set);
    return hands->work->status == NH_OK;
}

/* ------------------------------------------------------------- families --- */

static bool number_part_families(struct part_hands *hands, const struct product *products,
                                 size_t product_count) {
    size_t all = hands->list->family_count;
    hands->number = memory_new(hands->work->allocator, all, sizeof *hands->number);
    hands->families = memory_new(hands->work->allocator, all, sizeof *hands->families);
    if (hands->number == NULL || hands->families == NULL)
        return out_of_memory(hands);
    for (size_t i = 0; i < product_count; i++)
        for (int part = 0; part < PARTS; part++)
            if ((part == PART_HONOUR) == hands->honours)
                hands->number[products[i].family[part]] = 1;
    for (size_t i = 0; i < all; i++)
        if (hands->number[i] != 0) {
            hands->number[i] = hands->family_count;
            hands->families[hands->family_count++] = (uint32_t)i;
        }
    hands->width = hands->family_count / 32 + 1;
    return true;
}

/* The empty set of families is the first. */
static bool keep_empty_set(struct part_hands *hands) {
    uint32_t *bits = memory_new(hands->work->allocator, hands->width, sizeof *bits);
    if (bits == NULL)
        return out_of_memory(hands);
    uint32_t place = sequences_place(&hands->sets, bits, hands->width);
    memory_release(hands->work->allocator, bits);
    return place == 0;
}

bool part_hands_fill(struct part_hands *hands, const nh_list *list, bool honours,
                     const struct product *products, size_t product_count,
                     const struct part_bounds *bounds, struct read_work *work) {
    *hands =
        (struct part_hands){.list = list, .work = work, .honours = honours, .sets = {.work = work}};
    struct filling filling = {.hands = hands, .bounds = bounds, .trie = {.work = work}};
    bool filled = number_part_families(hands, products, product_count) && keep_empty_set(hands) &&
                  add_families(&filling) && add_one_less(hands) && paths_to_sets(&filling);
    sequences_free(&filling.trie);
    return filled;
}

void part_hands_free(struct part_hands *hands) {
    if (hands->work == NULL)
        return;
    memory_release(hands->work->allocator, hands->number);
    memory_release(hands->work->allocator, hands->families);
    memory_release(hands->work->allocator, hands->items);
    memory_release(hands->work->allocator, hands->slots);
    sequences_free(&hands->sets);
}
