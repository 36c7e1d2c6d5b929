/* How many a union of products has, without listing them.
 *
 * Products may overlap. To count their union, the contents of one part are put into
 * classes by the sets that hold them; everything of a class goes together with the same
 * products, and so with the same union over the other parts:
 *
 *     |union| = sum over classes of |class| * |union of their products' rests|.
 *
 * Sets without a number of tiles in common hold no contents in common. Ways are counted
 * alike, each of the contents weighted with its product of C(copies, tiles), and by the
 * number of tiles, which says how many jokers a hand has besides.
 *
 * Classes can be as many as the collections of sets that overlap, in each part anew. No
 * list that is played comes near COUNT_WORK_MAX steps; a list made for it can, and gets
 * an error. */
#include "count/union_count.h"
#include "base/cancel.h"
#include "base/natural.h"
#include "base/sort.h"
#include "count/classes.h"

#include <string.h>

/* ------------------------------------------------------------- counting --- */

void counting_start(struct counting *counting, const nh_allocator *allocator,
                    const nh_tiles *copies, const nh_cancel *cancel) {
    memset(counting, 0, sizeof *counting);
    counting->allocator = counting->known.allocator = allocator;
    counting->cancel = cancel;
    counting->kinds = kind_ways_of(copies);
}

static void free_levels(struct counting *counting) {
    for (int part = 0; part < PARTS; part++) {
        struct count_level *level = &counting->levels[part];
        memory_release(counting->allocator, level->set);
        memory_release(counting->allocator, level->next);
        memory_release(counting->allocator, level->marks);
        *level = (struct count_level){0};
    }
}

void counting_end(struct counting *counting) {
    for (size_t i = 0; i < counting->set_count; i++) {
        memory_release(counting->allocator, counting->sets[i].items);
        memory_release(counting->allocator, counting->sets[i].of_size);
    }
    memory_release(counting->allocator, counting->sets);
    free_levels(counting);
    unions_free(&counting->known);
}

void counting_fail(struct counting *counting, nh_status status) {
    if (counting->status == NH_OK)
        counting->status = status;
}

void counting_spend(struct counting *counting, uint64_t steps) {
    counting->work += steps;
    if (counting->work > COUNT_WORK_MAX)
        counting_fail(counting, NH_ERROR_LIMIT);
    else if (cancel_asked(counting->cancel))
        counting_fail(counting, NH_ERROR_CANCELLED);
}

/* Zeroed room, or NULL once the counting has failed. */
static void *new_items(struct counting *counting, size_t count, size_t size) {
    void *items = counting->status == NH_OK ? memory_new(counting->allocator, count, size) : NULL;
    if (items == NULL)
        counting_fail(counting, NH_ERROR_MEMORY);
    return items;
}

/* ----------------------------------------------------------------- sets --- */

static void tally_set(struct counting *counting, int part, struct content_set *set) {
    unsigned least = NH_TARGET_MAX, most = 0;
    for (size_t i = 0; i < set->count; i++) {
        unsigned tiles = contents_tiles(set->items[i]);
        least = tiles < least ? tiles : least;
        most = tiles > most ? tiles : most;
    }
    set->least = (uint8_t)least;
    set->most = (uint8_t)most;
    size_t sizes = least > most ? 0 : most - least + 1u;
    set->of_size = new_items(counting, sizes, sizeof *set->of_size);
    bool alike = least == most; /* as those of targets are */
    for (size_t i = 0; set->of_size != NULL && i < set->count; i++)
        tally_add_contents(&set->of_size[alike ? 0 : contents_tiles(set->items[i]) - least],
                           &counting->kinds, part, set->items[i]);
}

uint32_t counting_add_set(struct counting *counting, int part, uint64_t *items, size_t count) {
    counting_spend(counting, 16 * (uint64_t)count);
    counting->room += count;
    if (counting->room > COUNT_ROOM_MAX)
        counting_fail(counting, NH_ERROR_LIMIT);
    if (!memory_reserve(counting->allocator, (void **)&counting->sets, &counting->set_capacity,
                        counting->set_count + 1, sizeof *counting->sets)) {
        counting_fail(counting, NH_ERROR_MEMORY);
        memory_release(counting->allocator, items);
        return 0;
    }
    struct content_set *set = &counting->sets[counting->set_count];
    *set = (struct content_set){.items = items, .count = count};
    tally_set(counting, part, set);
    return (uint32_t)counting->set_count++;
}

/* --------------------------------------------------------------- levels --- */

static bool number_before(const void *a, const void *b, const void *context) {
    (void)context;
    return *(const uint64_t *)a < *(const uint64_t *)b;
}

/* Sorts numbers and drops those that are repeated. */
static size_t sort_numbers(uint64_t *numbers, size_t count) {
    sort_in_place(numbers, count, sizeof *numbers, number_before, NULL);
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        if (kept == 0 || numbers[i] != numbers[kept - 1])
            numbers[kept++] = numbers[i];
    return kept;
}

static uint32_t place_of(const uint64_t *numbers, size_t count, uint64_t number) {
    size_t low = 0, high = count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (numbers[middle] < number)
            low = middle + 1;
        else
            high = middle;
    }
    return (uint32_t)low;
}

/* Makes the level of a part; item[q] is the item of quad q at the next level, and then
 * at this one. */
static void make_level(struct counting *counting, int part, const struct quad *quads, size_t count,
                       uint32_t *item) {
    struct count_level *level = &counting->levels[part];
    uint64_t *keys = new_items(counting, count, sizeof *keys);
    for (size_t q = 0; keys != NULL && q < count; q++)
        keys[q] = (uint64_t)quads[q].set[part] << 32 | item[q];
    if (keys != NULL)
        level->count = sort_numbers(keys, count);
    level->set = new_items(counting, level->count, sizeof *level->set);
    level->next = new_items(counting, level->count, sizeof *level->next);
    level->marks = new_items(counting, level->count / 64 + 1, sizeof *level->marks);
    for (size_t i = 0; counting->status == NH_OK && i < level->count; i++) {
        level->set[i] = (uint32_t)(keys[i] >> 32);
        level->next[i] = (uint32_t)keys[i];
    }
    for (size_t q = 0; counting->status == NH_OK && q < count; q++)
        item[q] = place_of(keys, level->count, (uint64_t)quads[q].set[part] << 32 | item[q]);
    memory_release(counting->allocator, keys);
}

/* Makes all levels; every item of the first is one of the products. */
static void make_levels(struct counting *counting, const struct quad *quads, size_t count) {
    uint32_t *item = new_items(counting, count, sizeof *item);
    counting_spend(counting, (uint64_t)count * PARTS * 32);
    for (int part = PARTS - 1; part >= 0 && counting->status == NH_OK; part--)
        make_level(counting, part, quads, count, item);
    memory_release(counting->allocator, item);
}

/* --------------------------------------------------------------- unions --- */

/* The items of one level whose union is counted, and those of them with one set. */
struct stretch {
    const struct content_set *set;
    const uint32_t *items;
    size_t count;
};

static void count_items(struct counting *counting, int part, const uint32_t *items, size_t count,
                        struct totals *totals);

/* The same, but what was counted before is not counted again. */
static void count_known(struct counting *counting, int part, const uint32_t *items, size_t count,
                        struct totals *totals) {
    if (unions_find(&counting->known, part, items, count, totals))
        return;
    count_items(counting, part, items, count, totals);
    if (counting->status == NH_OK && !unions_keep(&counting->known, part, items, count, totals))
        counting_fail(counting, NH_ERROR_MEMORY);
}

/* Empties the marks of a level into ascending numbers. */
static size_t gather_marks(struct count_level *level, uint32_t *items) {
    size_t count = 0;
    for (size_t word = 0; word <= level->count / 64; word++) {
        uint64_t bits = level->marks[word];
        level->marks[word] = 0;
        for (unsigned bit = 0; bits != 0; bit++, bits >>= 1)
            if (bits & 1u)
                items[count++] = (uint32_t)(word * 64 + bit);
    }
    return count;
}

/* The union of what some stretches have after this part. `rest` has room for every
 * item of the next level. */
static void count_rest(struct counting *counting, int part, const struct stretch *stretches,
                       const uint64_t *chosen, size_t chosen_count, uint32_t *rest,
                       struct totals *totals) {
    if (part == PARTS - 1) {
        *totals = totals_of_empty();
        return;
    }
    struct count_level *next = &counting->levels[part + 1];
    size_t steps = next->count / 64 + 1;
    for (size_t c = 0; c < chosen_count; c++) {
        const struct stretch *stretch = &stretches[chosen[c] & CLASS_SET_MASK];
        steps += stretch->count;
        for (size_t i = 0; i < stretch->count; i++) {
            uint32_t item = counting->levels[part].next[stretch->items[i]];
            next->marks[item / 64] |= UINT64_C(1) << item % 64;
        }
    }
    size_t count = gather_marks(next, rest);
    counting_spend(counting, steps + 4 * count);
    count_known(counting, part + 1, rest, count, totals);
}

/* A stretch whose set shares no contents with the others. */
static void count_stretch_alone(struct counting *counting, int part, const struct stretch *stretch,
                                uint32_t *rest, struct totals *totals) {
    struct totals after;
    const uint64_t first = 0;
    count_rest(counting, part, stretch, &first, 1, rest, &after);
    for (unsigned tiles = stretch->set->least; tiles <= stretch->set->most; tiles++)
        totals_add(totals, &stretch->set->of_size[tiles - stretch->set->least], tiles, &after);
}

/* Merges what the sets hold: contents, and in the low bits which stretch has them. */
static size_t merge_sets(struct counting *counting, const struct stretch *stretches, size_t count,
                         struct number_runs *runs) {
    size_t total = 0, at = 0, rounds = 1;
    for (size_t s = 0; s < count; s++)
        total += stretches[s].set->count;
    while ((count - 1) >> rounds > 0)
        rounds++;
    counting_spend(counting, (uint64_t)total * (8 + rounds));
    counting->room += total;
    if (counting->room > COUNT_ROOM_MAX || count > CLASS_SET_MASK)
        counting_fail(counting, NH_ERROR_LIMIT);
    runs->items = new_items(counting, total, sizeof *runs->items);
    runs->spare = new_items(counting, total, sizeof *runs->spare);
    runs->ends = new_items(counting, count, sizeof *runs->ends);
    runs->run_count = count;
    for (size_t s = 0; counting->status == NH_OK && s < count; s++) {
        for (size_t i = 0; i < stretches[s].set->count; i++)
            runs->items[at++] = stretches[s].set->items[i] << CLASS_SET_BITS | s;
        runs->ends[s] = at;
    }
    return counting->status == NH_OK ? merge_runs(runs) : 0;
}

/* Stretches whose sets may share contents. */
static void count_together(struct counting *counting, int part, const struct stretch *stretches,
                           size_t count, uint32_t *rest, struct totals *totals) {
    struct number_runs runs = {0};
    struct classes classes = {0};
    uint64_t room = counting->room;
    size_t entries = merge_sets(counting, stretches, count, &runs);
    if (counting->status == NH_OK &&
        !classes_find(counting->allocator, &counting->kinds, part, runs.items, entries, &classes))
        counting_fail(counting, NH_ERROR_MEMORY);
    for (size_t c = 0; c < classes.count && counting->status == NH_OK; c++) {
        const struct class *class = &classes.items[c];
        struct totals after;
        if (!class->first_of_sets)
            continue;
        count_rest(counting, part, stretches, class->sets, class->set_count, rest, &after);
        for (; class != NULL && counting->status == NH_OK;
             class = class_of_next_size(&classes, class))
            totals_add(totals, &class->tally, class->tiles, &after);
    }
    classes_free(counting->allocator, &classes);
    memory_release(counting->allocator, runs.items);
    memory_release(counting->allocator, runs.spare);
    memory_release(counting->allocator, runs.ends);
    counting->room = room;
}

static bool stretch_before(const void *a, const void *b, const void *context) {
    const struct stretch *x = a, *y = b;
    (void)context;
    if (x->set->least != y->set->least)
        return x->set->least < y->set->least;
    return x->set < y->set;
}

/* Items with the same set follow one another. */
static size_t find_stretches(const struct counting *counting, int part, const uint32_t *items,
                             size_t count, struct stretch *stretches) {
    size_t found = 0;
    for (size_t i = 0; i < count; i++) {
        const struct content_set *set = &counting->sets[counting->levels[part].set[items[i]]];
        if (found == 0 || stretches[found - 1].set != set)
            stretches[found++] = (struct stretch){.set = set, .items = items + i};
        stretches[found - 1].count++;
    }
    sort_in_place(stretches, found, sizeof *stretches, stretch_before, NULL);
    return found;
}

/* The union of items of a level. */
static void count_items(struct counting *counting, int part, const uint32_t *items, size_t count,
                        struct totals *totals) {
    size_t after = part < PARTS - 1 ? counting->levels[part + 1].count : 0;
    struct stretch *stretches = new_items(counting, count, sizeof *stretches);
    uint32_t *rest = new_items(counting, after, sizeof *rest);
    *totals = totals_of_none();
    size_t found = 0;
    if (counting->status == NH_OK)
        found = find_stretches(counting, part, items, count, stretches);
    counting_spend(counting, count);
    for (size_t s = 0; s < found && counting->status == NH_OK;) {
        size_t end = s + 1;
        unsigned most = stretches[s].set->most;
        for (; end < found && stretches[end].set->least <= most; end++)
            most = stretches[end].set->most > most ? stretches[end].set->most : most;
        if (end == s + 1)
            count_stretch_alone(counting, part, &stretches[s], rest, totals);
        else
            count_together(counting, part, stretches + s, end - s, rest, totals);
        s = end;
    }
    memory_release(counting->allocator, rest);
    memory_release(counting->allocator, stretches);
}

void counting_union(struct counting *counting, const struct quad *quads, size_t count,
                    struct totals *totals) {
    *totals = totals_of_none();
    make_levels(counting, quads, count);
    uint32_t *all = new_items(counting, counting->levels[0].count, sizeof *all);
    for (size_t i = 0; all != NULL && i < counting->levels[0].count; i++)
        all[i] = (uint32_t)i;
    if (counting->status == NH_OK)
        count_items(counting, 0, all, counting->levels[0].count, totals);
    memory_release(counting->allocator, all);
    free_levels(counting);
    unions_free(&counting->known);
}
