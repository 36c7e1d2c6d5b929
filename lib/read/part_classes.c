/* The hidden tiles of one part, in classes that no product tells apart. */
#include "read/part_classes.h"
#include "base/binomials.h"

#include <string.h>

/* Scratch for putting classes together: they are found by the places of their sets and,
 * for a choice, by the sets masked with it. */
struct classes_scratch {
    struct sequences pairs; /* of sets: what fits, what nearly fits */
    uint32_t *group;        /* of a pair, for the choice at hand: and 1 */
    size_t pair_capacity;
    uint32_t *masked; /* of a set, for the choice at hand: and 1 */
    size_t masked_capacity;
    uint32_t *pair_of_group;
    size_t group_capacity;
    uint64_t *ways; /* of each group, for each number of tiles */
    size_t way_capacity;
    size_t group_count;
    uint32_t sizes;   /* numbers of tiles: 0 to sizes - 1 */
    uint32_t *bits;   /* three sets of families */
    uint32_t *larger; /* for each number of tiles, the families that have more */
};

static bool note_no_memory(struct part_classes *classes) {
    classes->work->status = NH_ERROR_MEMORY;
    return false;
}

/* --------------------------------------------------------- hidden tiles --- */

static unsigned copies_of(const nh_tiles *tiles, int part, int slot) {
    int kind = part * PART_KINDS + slot;
    return kind == NH_JOKER ? 0 : tiles->count[kind];
}

uint64_t hidden_ways(const struct part_hands *hands, int part, const struct hidden_tiles *tiles,
                     uint64_t entry, uint32_t *count) {
    uint64_t ways = 1;
    *count = 0;
    for (int slot = 0; slot < PART_KINDS; slot++) {
        unsigned copies = copies_of(&tiles->unseen, part, slot), held = tiles_of_slot(entry, slot);
        if (held > copies)
            return 0;
        ways *= hands->list->binomials[BINOMIAL(copies, held)].limb[0];
        *count += held;
    }
    return *count <= (uint32_t)tiles->most ? ways : 0;
}

bool copy_is_left(int part, const struct hidden_tiles *tiles, uint64_t entry, int slot) {
    return copies_of(&tiles->unseen, part, slot) - tiles_of_slot(entry, slot) +
               copies_of(&tiles->mine, part, slot) >
           0;
}

/* -------------------------------------------------------------- groups --- */

/* Room for as many pairs as there are; new ones are in no group. */
static bool reserve_groups(struct part_classes *classes) {
    struct classes_scratch *scratch = classes->scratch;
    const nh_allocator *allocator = classes->work->allocator;
    size_t old = scratch->pair_capacity;
    if (!memory_reserve(allocator, (void **)&scratch->group, &scratch->pair_capacity,
                        scratch->pairs.count, sizeof *scratch->group) ||
        !memory_reserve(allocator, (void **)&scratch->pair_of_group, &scratch->group_capacity,
                        scratch->group_count + 1, sizeof *scratch->pair_of_group) ||
        !memory_reserve(allocator, (void **)&scratch->ways, &scratch->way_capacity,
                        (scratch->group_count + 1) * scratch->sizes, sizeof *scratch->ways))
        return note_no_memory(classes);
    if (scratch->pair_capacity > old)
        memset(scratch->group + old, 0, (scratch->pair_capacity - old) * sizeof *scratch->group);
    return true;
}

/* Adds hands to the group of two sets. */
static bool add_to_group(struct part_classes *classes, uint32_t fits, uint32_t nearly,
                         uint32_t tiles, uint64_t ways) {
    struct classes_scratch *scratch = classes->scratch;
    uint32_t sets[2] = {fits, nearly};
    uint32_t pair = sequences_place(&scratch->pairs, sets, 2);
    if (pair == SEQUENCE_NONE || !reserve_groups(classes))
        return false;
    if (scratch->group[pair] == 0) {
        scratch->pair_of_group[scratch->group_count] = pair;
        memset(scratch->ways + scratch->group_count * scratch->sizes, 0,
               scratch->sizes * sizeof *scratch->ways);
        scratch->group[pair] = (uint32_t)++scratch->group_count;
    }
    scratch->ways[(scratch->group[pair] - 1) * scratch->sizes + tiles] += ways;
    return true;
}

static bool keep_group(struct part_classes *classes, size_t group) {
    struct classes_scratch *scratch = classes->scratch;
    const uint32_t *sets = sequences_at(&scratch->pairs, scratch->pair_of_group[group]);
    struct part_class class = {sets[0], sets[1], (uint32_t)classes->weight_count, 0};
    for (uint32_t tiles = 0; tiles < scratch->sizes; tiles++) {
        uint64_t ways = scratch->ways[group * scratch->sizes + tiles];
        if (ways == 0)
            continue;
        if (!read_hold(classes->work, sizeof *classes->weights))
            return false;
        if (!memory_reserve(classes->work->allocator, (void **)&classes->weights,
                            &classes->weight_capacity, classes->weight_count + 1,
                            sizeof *classes->weights))
            return note_no_memory(classes);
        classes->weights[classes->weight_count++] = (struct class_weight){ways, tiles};
        class.count++;
    }
    classes->items[classes->count++] = class;
    return true;
}

/* Makes classes of the groups, and empties those. */
static struct class_range keep_groups(struct part_classes *classes) {
    struct classes_scratch *scratch = classes->scratch;
    struct class_range range = {(uint32_t)classes->count, (uint32_t)scratch->group_count};
    if (!read_hold(classes->work, scratch->group_count * sizeof *classes->items))
        return range;
    if (!memory_reserve(classes->work->allocator, (void **)&classes->items, &classes->capacity,
                        classes->count + scratch->group_count, sizeof *classes->items)) {
        note_no_memory(classes);
        return range;
    }
    for (size_t i = 0; i < scratch->group_count && keep_group(classes, i); i++)
        scratch->group[scratch->pair_of_group[i]] = 0;
    scratch->group_count = 0;
    return range;
}

/* --------------------------------------------------------- all families --- */

/* The families that an entry nearly fits, as a set. */
static uint32_t nearly_of(struct part_classes *classes, const struct hidden_tiles *tiles,
                          const struct part_hand *entry, uint32_t count, bool by_joker) {
    struct part_hands *hands = classes->hands;
    uint32_t *bits = classes->scratch->bits;
    memset(bits, 0, hands->width * sizeof *bits);
    for (int slot = 0; slot < PART_KINDS; slot++) {
        uint32_t plus = entry->plus[slot];
        if (plus == PART_HAND_NONE || !copy_is_left(classes->part, tiles, entry->tiles, slot))
            continue;
        const uint32_t *more = sequences_at(&hands->sets, hands->items[plus].fits);
        for (uint32_t i = 0; i < hands->width; i++)
            bits[i] |= more[i];
    }
    const uint32_t *fits = sequences_at(&hands->sets, entry->fits);
    const uint32_t *larger = classes->scratch->larger + (size_t)count * hands->width;
    for (uint32_t i = 0; i < hands->width; i++) {
        uint32_t joker = fits[i] & larger[i];
        classes->by_joker_differs = classes->by_joker_differs || (joker & ~bits[i]) != 0;
        bits[i] |= by_joker ? joker : 0;
    }
    return sequences_place(&hands->sets, bits, hands->width);
}

static bool classify_entries(struct part_classes *classes, const struct hidden_tiles *tiles,
                             bool by_joker) {
    struct part_hands *hands = classes->hands;
    for (size_t i = 0; i < hands->count; i++) {
        uint32_t count;
        uint64_t ways = hidden_ways(hands, classes->part, tiles, hands->items[i].tiles, &count);
        if (!read_spend(classes->work, 1 + hands->width))
            return false;
        if (ways == 0)
            continue;
        uint32_t nearly = nearly_of(classes, tiles, &hands->items[i], count, by_joker);
        if (nearly == SEQUENCE_NONE ||
            !add_to_group(classes, hands->items[i].fits, nearly, count, ways))
            return false;
    }
    classes->whole_count = keep_groups(classes).count;
    classes->whole_sets = hands->sets.count;
    return classes->work->status == NH_OK;
}

static void note_larger(struct part_classes *classes) {
    const struct part_hands *hands = classes->hands;
    struct classes_scratch *scratch = classes->scratch;
    for (uint32_t tiles = 0; tiles < scratch->sizes; tiles++)
        for (uint32_t i = 0; i < hands->family_count; i++)
            if (hands->list->families[hands->families[i]].size > tiles)
                scratch->larger[tiles * hands->width + i / 32] |= UINT32_C(1) << i % 32;
}

bool part_classes_fill(struct part_classes *classes, struct part_hands *hands, int part,
                       const struct hidden_tiles *tiles, bool by_joker) {
    const nh_allocator *allocator = hands->work->allocator;
    *classes = (struct part_classes){
        .hands = hands, .work = hands->work, .part = part, .choices = {.work = hands->work}};
    struct classes_scratch *scratch = memory_new(allocator, 1, sizeof *scratch);
    if (scratch == NULL)
        return note_no_memory(classes);
    classes->scratch = scratch;
    scratch->pairs.work = hands->work;
    scratch->sizes = (uint32_t)tiles->most + 1;
    scratch->bits = memory_new(allocator, 3 * (size_t)hands->width + 1, sizeof *scratch->bits);
    scratch->larger =
        memory_new(allocator, (size_t)scratch->sizes * hands->width, sizeof *scratch->larger);
    if (scratch->bits == NULL || scratch->larger == NULL)
        return note_no_memory(classes);
    note_larger(classes);
    return classify_entries(classes, tiles, by_joker);
}

/* -------------------------------------------------------- some families --- */

/* The part of a set that lies in the families, which stand in the scratch. */
static uint32_t masked_set(struct part_classes *classes, uint32_t place) {
    struct part_hands *hands = classes->hands;
    struct classes_scratch *scratch = classes->scratch;
    if (scratch->masked[place] != 0)
        return scratch->masked[place] - 1;
    const uint32_t *families = scratch->bits + 1;
    uint32_t *bits = scratch->bits + 1 + hands->width;
    const uint32_t *all = sequences_at(&hands->sets, place);
    uint32_t some = 0;
    for (uint32_t i = 0; i < hands->width; i++) {
        bits[i] = all[i] & families[i];
        some |= bits[i];
    }
    uint32_t masked = some == 0 ? 0 : sequences_place(&hands->sets, bits, hands->width);
    scratch->masked[place] = masked + 1;
    return masked;
}

static bool add_masked(struct part_classes *classes, size_t index, bool nearly) {
    struct part_class class = classes->items[index];
    uint32_t fits = masked_set(classes, class.fits);
    uint32_t near = nearly ? masked_set(classes, class.nearly) : 0;
    if (!read_spend(classes->work, 1) || (fits == 0 && near == 0))
        return classes->work->status == NH_OK;
    for (uint32_t i = 0; i < class.count; i++) {
        struct class_weight weight = classes->weights[class.first + i];
        if (!add_to_group(classes, fits, near, weight.tiles, weight.ways))
            return false;
    }
    return true;
}

static struct class_range make_choice(struct part_classes *classes, bool nearly) {
    struct classes_scratch *scratch = classes->scratch;
    struct class_range range = {0, 0};
    if (!read_spend(classes->work, classes->whole_sets))
        return range;
    if (!memory_reserve(classes->work->allocator, (void **)&scratch->masked,
                        &scratch->masked_capacity, classes->whole_sets, sizeof *scratch->masked)) {
        note_no_memory(classes);
        return range;
    }
    memset(scratch->masked, 0, classes->whole_sets * sizeof *scratch->masked);
    for (size_t i = 0; i < classes->whole_count; i++)
        if (!add_masked(classes, i, nearly))
            return range;
    return keep_groups(classes);
}

struct class_range classes_for(struct part_classes *classes, const uint32_t *families,
                               bool nearly) {
    struct class_range range = {0, 0};
    uint32_t *key = classes->scratch->bits;
    key[0] = nearly;
    memcpy(key + 1, families, classes->hands->width * sizeof *key);
    size_t known = classes->choices.count;
    uint32_t place = sequences_place(&classes->choices, key, classes->hands->width + 1);
    if (place == SEQUENCE_NONE || place < known)
        return place == SEQUENCE_NONE ? range : classes->of_choice[place];
    if (!memory_reserve(classes->work->allocator, (void **)&classes->of_choice,
                        &classes->choice_capacity, classes->choices.count,
                        sizeof *classes->of_choice))
        note_no_memory(classes);
    else
        classes->of_choice[place] = range = make_choice(classes, nearly);
    return range;
}

void part_classes_free(struct part_classes *classes) {
    if (classes->work == NULL)
        return;
    const nh_allocator *allocator = classes->work->allocator;
    struct classes_scratch *scratch = classes->scratch;
    memory_release(allocator, classes->items);
    memory_release(allocator, classes->weights);
    memory_release(allocator, classes->of_choice);
    sequences_free(&classes->choices);
    if (scratch == NULL)
        return;
    sequences_free(&scratch->pairs);
    memory_release(allocator, scratch->group);
    memory_release(allocator, scratch->masked);
    memory_release(allocator, scratch->pair_of_group);
    memory_release(allocator, scratch->ways);
    memory_release(allocator, scratch->bits);
    memory_release(allocator, scratch->larger);
    memory_release(allocator, scratch);
}
