/* The tables of one reading, and the counts that are made with them. */
#include "read/reader.h"
#include "base/binomials.h"

#include <string.h>

static bool lack_memory(struct reader *reader) {
    reader->work->status = NH_ERROR_MEMORY;
    return false;
}

/* ------------------------------------------------------------ the tables --- */

static unsigned jokers_unseen(const struct reader *reader) {
    return reader->tiles.unseen.count[NH_JOKER];
}

/* What bounds the tiles of a part: copies that can be hidden, and one of one's own that
 * can complete the hand. */
static struct part_bounds part_bounds_of(const struct reader *reader, bool honours) {
    struct part_bounds bounds = {.jokers = (int)jokers_unseen(reader)};
    bounds.jokers += reader->tiles.mine.count[NH_JOKER] > 0;
    for (int kind = 0; kind < NH_JOKER; kind++) {
        if ((kind >= NH_EAST) != honours)
            continue;
        int most = reader->tiles.unseen.count[kind] + (reader->tiles.mine.count[kind] > 0);
        uint8_t *bound = &bounds.most[kind % PART_KINDS];
        *bound = most > *bound ? (uint8_t)most : *bound;
    }
    return bounds;
}

static bool fill_hands(struct reader *reader, const struct product *products,
                       size_t product_count) {
    struct part_bounds suits = part_bounds_of(reader, false),
                       honours = part_bounds_of(reader, true);
    return part_hands_fill(&reader->suits, reader->list, false, products, product_count, &suits,
                           reader->work) &&
           part_hands_fill(&reader->honours, reader->list, true, products, product_count, &honours,
                           reader->work);
}

/* Where all jokers can be in the hidden hand, none is left then to be the missing tile;
 * that matters where some tiles lack one that no copy is left of. */
static bool start_no_joker(struct reader *reader) {
    int jokers = (int)jokers_unseen(reader);
    bool differs = false;
    for (int part = 0; part < PARTS; part++)
        differs = differs || reader->count.classes[part].by_joker_differs;
    reader->uses_last =
        differs && jokers <= reader->tiles.most && reader->tiles.mine.count[NH_JOKER] == 0;
    reader->last = reader->tiles;
    reader->last.most -= jokers;
    return !reader->uses_last ||
           ready_count_start(&reader->no_joker, &reader->tails, &reader->suits, &reader->honours,
                             &reader->last, false);
}

bool reader_start(struct reader *reader, const nh_list *list, const struct hidden_tiles *tiles,
                  const struct product *products, size_t product_count, struct read_work *work) {
    *reader = (struct reader){.list = list, .work = work, .tiles = *tiles};
    bool by_joker = tiles->unseen.count[NH_JOKER] + tiles->mine.count[NH_JOKER] > 0;
    reader->ready = memory_new(work->allocator, (size_t)tiles->most + 1, sizeof *reader->ready);
    if (reader->ready == NULL)
        return lack_memory(reader);
    return tails_make(&reader->tails, products, product_count, work) &&
           fill_hands(reader, products, product_count) &&
           ready_count_start(&reader->count, &reader->tails, &reader->suits, &reader->honours,
                             &reader->tiles, by_joker) &&
           start_no_joker(reader);
}

void reader_free(struct reader *reader) {
    ready_count_free(&reader->count);
    ready_count_free(&reader->no_joker);
    part_hands_free(&reader->suits);
    part_hands_free(&reader->honours);
    tails_free(&reader->tails);
    memory_release(reader->work->allocator, reader->ready);
}

/* --------------------------------------------------------------- ready --- */

/* Hands of so many tiles, at most those hidden, with the jokers that they need to be as
 * many as are hidden. */
static nh_natural with_jokers(const struct reader *reader, nh_natural hands, int tiles) {
    int jokers = reader->tiles.most - tiles;
    if (jokers > (int)jokers_unseen(reader))
        return natural_from(0);
    nh_natural ways = reader->list->binomials[BINOMIAL(jokers_unseen(reader), (unsigned)jokers)];
    return natural_scale(hands, ways.limb[0]);
}

/* Adds the hands of each number of tiles; those with all jokers only if `last` is theirs. */
static nh_natural sum_ready(const struct reader *reader, bool last) {
    nh_natural sum = natural_from(0);
    int all_jokers = reader->tiles.most - (int)jokers_unseen(reader);
    for (int tiles = 0; tiles <= reader->tiles.most; tiles++)
        if (!reader->uses_last || (tiles == all_jokers) == last)
            sum = natural_add(sum, with_jokers(reader, reader->ready[tiles], tiles));
    return sum;
}

bool reader_ready(struct reader *reader, size_t first, size_t product_count, nh_natural *ready) {
    const uint32_t *tails = reader->tails.of_product + first;
    if (!count_ready(&reader->count, tails, product_count, reader->ready))
        return false;
    *ready = sum_ready(reader, false);
    if (!reader->uses_last)
        return true;
    memset(reader->ready, 0, ((size_t)reader->tiles.most + 1) * sizeof *reader->ready);
    if (!count_ready(&reader->no_joker, tails, product_count, reader->ready))
        return false;
    *ready = natural_add(*ready, sum_ready(reader, true));
    return true;
}

/* ---------------------------------------------------------------- wins --- */

/* For the sets of families that tiles of a part fit, the hands of the other parts and
 * jokers that complete them, by the hidden tiles of the part. */
struct completing {
    struct reader *reader;
    int part;
    uint32_t *row; /* of each set: and 1 */
    nh_natural *rows;
    size_t row_count, row_capacity;
    size_t sizes;
};

static bool add_row(struct completing *completing, uint32_t fits) {
    struct reader *reader = completing->reader;
    size_t sizes = completing->sizes, first = completing->row_count * sizes;
    if (!count_others(&reader->count, completing->part, fits, reader->ready) ||
        !read_hold(reader->work, sizes * sizeof *completing->rows))
        return false;
    if (!memory_reserve(reader->work->allocator, (void **)&completing->rows,
                        &completing->row_capacity, first + sizes, sizeof *completing->rows))
        return lack_memory(reader);
    nh_natural *row = completing->rows + first;
    for (size_t own = 0; own < sizes; own++) {
        row[own] = natural_from(0);
        for (size_t others = 0; own + others < sizes; others++)
            row[own] = natural_add(row[own],
                                   with_jokers(reader, reader->ready[others], (int)(own + others)));
    }
    completing->row[fits] = (uint32_t)++completing->row_count;
    return true;
}

/* Adds the hidden hands that become an entry with the tile of a slot. */
static void add_slot(const struct completing *completing, const struct part_hands *hands,
                     const struct part_hand *entry, int slot, nh_natural *wins) {
    const struct reader *reader = completing->reader;
    uint64_t hidden = entry->tiles - (UINT64_C(1) << (4 * slot));
    uint32_t tiles;
    uint64_t ways = hidden_ways(hands, completing->part, &reader->tiles, hidden, &tiles);
    if (ways == 0 || !copy_is_left(completing->part, &reader->tiles, hidden, slot))
        return;
    const nh_natural *row =
        completing->rows + (size_t)(completing->row[entry->fits] - 1) * completing->sizes;
    nh_natural *sum = &wins[completing->part * PART_KINDS + slot];
    *sum = natural_add(*sum, natural_scale(row[tiles], ways));
}

static bool add_wins(struct completing *completing, const struct part_hands *hands,
                     nh_natural *wins) {
    for (size_t i = 0; i < hands->count; i++) {
        const struct part_hand *entry = &hands->items[i];
        if (entry->fits == 0)
            continue;
        if ((completing->rows == NULL || completing->row[entry->fits] == 0) &&
            !add_row(completing, entry->fits))
            return false;
        for (int slot = 0; slot < PART_KINDS; slot++)
            if (tiles_of_slot(entry->tiles, slot) > 0)
                add_slot(completing, hands, entry, slot, wins);
        if (!read_spend(completing->reader->work, PART_KINDS))
            return false;
    }
    return true;
}

bool reader_wins(struct reader *reader, nh_natural *wins) {
    const nh_allocator *allocator = reader->work->allocator;
    bool fine = true;
    for (int part = 0; part < PARTS && fine; part++) {
        const struct part_hands *hands = part == PART_HONOUR ? &reader->honours : &reader->suits;
        struct completing completing = {
            .reader = reader, .part = part, .sizes = (size_t)reader->tiles.most + 1};
        completing.row = memory_new(allocator, hands->sets.count, sizeof *completing.row);
        fine = completing.row != NULL ? add_wins(&completing, hands, wins) : lack_memory(reader);
        memory_release(allocator, completing.row);
        memory_release(allocator, completing.rows);
    }
    return fine;
}
