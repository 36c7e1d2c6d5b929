/* The contents that stand for the families of a list.
 *
 * With jokers a share stands for all contents of a hand that jokers complete to it: of
 * each kind at least the tiles that no joker may be, at most the tiles of the share and
 * the copies that there are. What is lacking is the jokers.
 *
 * A loaded list has no target that needs more jokers than there are. In the rest of a
 * list fewer tiles are left, so there families are parted by their excess: the tiles
 * of a share that are not there, and that jokers have to be. */
#include "count/family_contents.h"
#include "base/binomials.h"
#include "base/natural.h"

#include <string.h>

#define PLACE(family, part) ((size_t)(family)*PARTS + (size_t)(part))

bool family_counting_start(struct family_counting *families, const nh_list *list, bool with_jokers,
                           const nh_cancel *cancel) {
    const uint8_t *copies = list->off_table.count;
    *families = (struct family_counting){
        .list = list, .copies = list->off_table, .with_jokers = with_jokers};
    counting_start(&families->counting, &list->allocator, &list->off_table, cancel);
    families->suits_alike = memcmp(copies, copies + PART_KINDS, PART_KINDS) == 0 &&
                            memcmp(copies, copies + 2 * PART_KINDS, PART_KINDS) == 0;
    families->places =
        memory_new(&list->allocator, list->family_count * PARTS, sizeof *families->places);
    return families->places != NULL;
}

void family_counting_end(struct family_counting *families) {
    const nh_allocator *allocator = &families->list->allocator;
    counting_end(&families->counting);
    memory_release(allocator, families->places);
    memory_release(allocator, families->sets);
    memory_release(allocator, families->quads);
}

/* ------------------------------------------------------------- one share --- */

/* The tiles of a share that only jokers can be; -1 where no joker may. */
static int excess_here(const struct family_counting *families, int part,
                       const struct share *share) {
    int excess = 0;
    for (int slot = 0; slot < PART_KINDS; slot++) {
        int kind = part * PART_KINDS + slot;
        int copies = kind == NH_JOKER ? 0 : families->copies.count[kind];
        int more = share->need[slot] - copies;
        if (more > share->joker[slot])
            return -1;
        excess += more > 0 ? more : 0;
    }
    return excess > families->copies.count[NH_JOKER] ? -1 : excess;
}

/* The contents of a share as they are written one after the other. */
struct spread {
    uint8_t least[PART_KINDS], most[PART_KINDS];
    const uint8_t *need;
    unsigned jokers; /* the most that stand in */
    uint64_t *out;   /* NULL: they are only counted */
    size_t count;
};

/* Writes the contents of the slots from `slot` on in ascending order, where `lacking`
 * tiles are jokers so far. */
static void write_spread(struct spread *spread, int slot, uint64_t contents, unsigned lacking) {
    if (slot == PART_KINDS) {
        if (spread->out != NULL)
            spread->out[spread->count] = contents;
        spread->count++;
        return;
    }
    for (unsigned tiles = spread->least[slot]; tiles <= spread->most[slot]; tiles++) {
        unsigned more = lacking + spread->need[slot] - tiles;
        if (more <= spread->jokers)
            write_spread(spread, slot + 1, contents | (uint64_t)tiles << contents_shift(slot),
                         more);
    }
}

static void spread_share(const struct family_counting *families, int part,
                         const struct share *share, struct spread *spread) {
    spread->need = share->need;
    spread->jokers = families->copies.count[NH_JOKER];
    for (int slot = 0; slot < PART_KINDS; slot++) {
        int kind = part * PART_KINDS + slot;
        unsigned copies = kind == NH_JOKER ? 0 : families->copies.count[kind];
        unsigned need = share->need[slot];
        spread->least[slot] = (uint8_t)(need - share->joker[slot]);
        spread->most[slot] = (uint8_t)(need < copies ? need : copies);
    }
    write_spread(spread, 0, 0, 0);
}

/* ------------------------------------------------------------ one family --- */

/* Adds the set of sorted contents, which it takes. */
static void new_set(struct family_counting *families, int part, uint64_t *items, size_t count,
                    int excess) {
    uint32_t number = counting_add_set(&families->counting, part, items, count);
    if (memory_reserve(&families->list->allocator, (void **)&families->sets,
                       &families->set_capacity, families->set_count + 1, sizeof *families->sets))
        families->sets[families->set_count++] = (struct family_set){number, (uint8_t)excess};
    else
        counting_fail(&families->counting, NH_ERROR_MEMORY);
}

/* The set of a family's shares with an excess (any of them if it is negative). */
static void add_plain_set(struct family_counting *families, int part, const struct family *family,
                          int excess) {
    uint64_t *items = memory_new_raw(&families->list->allocator, family->count, sizeof *items);
    size_t kept = 0;
    counting_spend(&families->counting, (uint64_t)family->count * 4);
    for (uint32_t i = 0; items != NULL && i < family->count; i++) {
        const struct share *share = &families->list->shares[family->first + i];
        uint64_t contents = contents_of(share->need);
        bool repeated = kept > 0 && contents == items[kept - 1];
        if (!repeated && (excess < 0 || excess_here(families, part, share) == excess))
            items[kept++] = contents;
    }
    if (items == NULL)
        counting_fail(&families->counting, NH_ERROR_MEMORY);
    else if (kept > 0)
        new_set(families, part, items, kept, excess < 0 ? 0 : excess);
    else
        memory_release(&families->list->allocator, items);
}

/* How many contents hands have for the shares, each share by itself. */
static size_t spread_size(struct family_counting *families, int part, const struct family *family) {
    struct spread spread = {.out = NULL};
    for (uint32_t i = 0; i < family->count && spread.count <= COUNT_ROOM_MAX; i++)
        spread_share(families, part, &families->list->shares[family->first + i], &spread);
    size_t rounds = 1;
    while (family->count >> rounds > 0)
        rounds++;
    counting_spend(&families->counting, (uint64_t)spread.count * (8 + rounds));
    if (spread.count > COUNT_ROOM_MAX)
        counting_fail(&families->counting, NH_ERROR_LIMIT);
    return spread.count;
}

static void add_joker_set(struct family_counting *families, int part, const struct family *family) {
    const nh_allocator *allocator = &families->list->allocator;
    size_t count = spread_size(families, part, family);
    if (families->counting.status != NH_OK)
        return;
    struct number_runs runs = {memory_new_raw(allocator, count, sizeof(uint64_t)),
                               memory_new_raw(allocator, count, sizeof(uint64_t)),
                               memory_new_raw(allocator, family->count, sizeof(size_t)),
                               family->count};
    if (runs.items != NULL && runs.spare != NULL && runs.ends != NULL) {
        struct spread spread = {.out = runs.items};
        for (uint32_t i = 0; i < family->count; i++) {
            spread_share(families, part, &families->list->shares[family->first + i], &spread);
            runs.ends[i] = spread.count;
        }
        count = merge_runs(&runs);
        new_set(families, part, runs.items, count, 0);
    } else {
        counting_fail(&families->counting, NH_ERROR_MEMORY);
        memory_release(allocator, runs.items);
    }
    memory_release(allocator, runs.spare);
    memory_release(allocator, runs.ends);
}

/* The sets of a family in a part. */
static const struct family_place *place_of_family(struct family_counting *families, uint32_t number,
                                                  int part) {
    int where = families->suits_alike && part != PART_HONOUR ? PART_BAM : part;
    struct family_place *place = &families->places[PLACE(number, where)];
    const struct family *family = &families->list->families[number];
    if (place->made)
        return place;
    place->made = true;
    place->first = (uint32_t)families->set_count;
    if (families->with_jokers)
        add_joker_set(families, where, family);
    else if (families->list->set_count == 0)
        add_plain_set(families, where, family, -1);
    else
        for (int excess = 0; excess <= families->copies.count[NH_JOKER]; excess++)
            add_plain_set(families, where, family, excess);
    place->count = (uint16_t)(families->set_count - place->first);
    return place;
}

/* -------------------------------------------------------------- products --- */

int product_size(const nh_list *list, const struct product *product) {
    int size = 0;
    for (int part = 0; part < PARTS; part++)
        size += list->families[product->family[part]].size;
    return size;
}

/* Adds the quads of the parts from `part` on, for which `jokers` are left. */
static void add_quads(struct family_counting *families, const struct product *product, int part,
                      int jokers, struct quad *quad) {
    if (part == PARTS) {
        if (memory_reserve(&families->list->allocator, (void **)&families->quads,
                           &families->quad_capacity, families->quad_count + 1,
                           sizeof *families->quads))
            families->quads[families->quad_count++] = *quad;
        else
            counting_fail(&families->counting, NH_ERROR_MEMORY);
        return;
    }
    const struct family_place *place = place_of_family(families, product->family[part], part);
    for (uint32_t i = place->first; i < place->first + place->count; i++) {
        const struct family_set set = families->sets[i];
        if (set.excess > jokers || families->counting.status != NH_OK)
            continue;
        quad->set[part] = set.number;
        add_quads(families, product, part + 1, jokers - set.excess, quad);
    }
}

void family_counting_add(struct family_counting *families, const struct product *products,
                         size_t count, int size) {
    counting_spend(&families->counting, (uint64_t)count * PARTS);
    for (size_t i = 0; i < count && families->counting.status == NH_OK; i++) {
        struct quad quad;
        if (size == 0 || product_size(families->list, &products[i]) == size)
            add_quads(families, &products[i], 0, families->copies.count[NH_JOKER], &quad);
    }
}

void family_counting_union(struct family_counting *families, struct totals *totals) {
    *totals = totals_of_none();
    if (families->counting.status == NH_OK)
        counting_union(&families->counting, families->quads, families->quad_count, totals);
    families->quad_count = 0;
}

nh_natural hands_in_totals(const struct family_counting *families, const struct totals *totals,
                           int size) {
    unsigned jokers = families->copies.count[NH_JOKER];
    nh_natural hands = {{0}};
    for (unsigned stand_in = 0; stand_in <= jokers && (int)stand_in <= size; stand_in++)
        hands = natural_add(
            hands, natural_multiply(totals->ways[(unsigned)size - stand_in],
                                    families->list->binomials[BINOMIAL(jokers, stand_in)]));
    return hands;
}
