/* Draws put together from the ways of products. */
#include "pass/draw_gather.h"

#include <string.h>

bool gather_init(struct gather *gather, const nh_list *list, const nh_allocator *allocator) {
    bool good = gain_memo_init(&gather->gains, list, allocator);
    gather->allocator = *allocator;
    gather->splits = 0;
    unsigned jokers = list->set.count[NH_JOKER];
    gather->jokers_placed = jokers < JOKERS_PLACED ? jokers : JOKERS_PLACED;
    for (int part = 0; part < PARTS; part++) {
        struct used_tables *used = &gather->used[part];
        size_t first, end;
        families_of(list, part, &first, &end);
        used->count = 1;
        used->table[0] = (struct used_table){.levels = 0};
        used->single[0] = 0;
        used->placed = memory_new(allocator, (end - first) * (gather->jokers_placed + 1),
                                  sizeof *used->placed);
        used->hashed = memory_new(allocator, HASHED, sizeof *used->hashed);
        good &= used->placed != NULL && used->hashed != NULL;
    }
    return good;
}

void gather_free(struct gather *gather) {
    for (int part = 0; part < PARTS; part++) {
        memory_release(&gather->allocator, gather->used[part].placed);
        memory_release(&gather->allocator, gather->used[part].hashed);
    }
    gain_memo_free(&gather->gains);
}

/* ---------------------------------------------------------------- lists --- */

/* Empties the lists. */
static void start_lists(struct gather *gather) {
    gather->splits = 0;
    gather->room = 0;
    for (int part = 0; part < PARTS; part++) {
        struct used_tables *used = &gather->used[part];
        for (unsigned i = 1; i < used->count; i++)
            *used->table[i].place = 0;
        used->count = 1;
    }
}

/* The place for what is wanted. */
static uint16_t *find_place(const struct gather *gather, int part,
                            const struct gains_wanted *wanted) {
    const struct used_tables *used = &gather->used[part];
    uint32_t number = family_number(gather->query->list, part, wanted->family);
    if (wanted->excess == ANY_EXCESS && wanted->jokers <= gather->jokers_placed)
        return &used->placed[number * (gather->jokers_placed + 1) + wanted->jokers];
    uint32_t key = number | (uint32_t)wanted->jokers << 16 | (uint32_t)wanted->excess << 24;
    uint16_t *place = &used->hashed[key * UINT32_C(0x9E3779B1) >> 16 & (HASHED - 1)];
    while (*place != 0) {
        const struct gains_wanted *here = &used->table[*place].wanted;
        if (here->family == wanted->family && here->jokers == wanted->jokers &&
            here->excess == wanted->excess)
            break;
        place = place + 1 == used->hashed + HASHED ? used->hashed : place + 1;
    }
    return place;
}

/* Whether tiles bring a family nearer for a way at n + `level`. Where it is as near as can
 * be, only its farther shares have use for tiles, which matter to nearer ways alone. */
static bool has_use(const struct gather *gather, uint32_t family, unsigned away, unsigned level) {
    return away > 0 || (level + 1 + gather->first < gather->tiles &&
                        gather->query->list->families[family].size > 0);
}

/* Lists a table whose place is empty. */
static void list_table(struct used_tables *used, uint16_t *place, struct gains_wanted wanted) {
    unsigned number = used->count++;
    used->table[number] = (struct used_table){.wanted = wanted, .place = place};
    for (int i = 0; i < NH_PASS_MAX; i++)
        used->others[i][number] = 0;
    *place = (uint16_t)number;
}

static void add_lists(struct gather *gather);

/* Makes sure that one more way can be listed, with a table of each part. */
static void keep_room(struct gather *gather) {
    if (gather->room > 0)
        return;
    gather->room = SPLITS_MAX - gather->splits;
    for (int part = 0; part < PARTS; part++)
        if (TABLES_MAX - gather->used[part].count < gather->room)
            gather->room = TABLES_MAX - gather->used[part].count;
    if (gather->room > 0)
        return;
    add_lists(gather);
    start_lists(gather);
    gather->room = 1;
}

/* --------------------------------------------------------------- adding --- */

/* A share that comes m nearer at n + l with a gain of l + 1 + first at least is at most
 * tiles - 1 - l - first farther than its family. */
static unsigned depth_of(const struct gather *gather, const struct used_table *table) {
    return gather->tiles - 1 - gather->first - (unsigned)__builtin_ctz(table->levels);
}

static void find_tables(struct gather *gather) {
    for (int part = 0; part < PARTS; part++) {
        for (unsigned i = 1; i < gather->used[part].count; i++) {
            struct used_table *table = &gather->used[part].table[i];
            table->gains = gains_find(gather->query, &gather->gains, part, &table->wanted,
                                      depth_of(gather, table));
            uint64_t single = (uint64_t)table->gains->single << part * PART_KINDS;
            gather->used[part].single[i] = single;
            if ((table->levels & 1u) != 0)
                draws_add_single(&gather->set[0], single);
        }
    }
}

/* Gathers the single tiles of ways, and adds draws of one tile of each of three
 * parts. Ways often have the same: the last ones are not added again. */
static void join_parts(struct gather *gather) {
    enum { LATELY = 64 };
    uint64_t lately[NH_PASS_MAX][LATELY] = {{0}};
    struct used_tables *used = gather->used;
    for (size_t i = 0; i < gather->splits; i++) {
        const uint16_t *table = gather->split[i].table;
        unsigned level = gather->split[i].level;
        uint64_t single = used[0].single[table[0]] | used[1].single[table[1]] |
                          used[2].single[table[2]] | used[3].single[table[3]];
        used[0].others[level][table[0]] |= single;
        used[1].others[level][table[1]] |= single;
        used[2].others[level][table[2]] |= single;
        used[3].others[level][table[3]] |= single;
        if (gather->tiles < 3)
            continue;
        struct draw_set *set = &gather->set[2 - level];
        single &= ~set->single;
        uint64_t *last = &lately[level][single * UINT64_C(0x9E3779B97F4A7C15) >> 58];
        if (*last != single)
            draws_add_three_parts(set, single);
        *last = single;
    }
}

static void add_table(struct gather *gather, int part, unsigned number) {
    const struct used_tables *used = &gather->used[part];
    const struct used_table *table = &used->table[number];
    unsigned tiles = gather->tiles;
    for (unsigned levels = table->levels; levels != 0; levels &= levels - 1) {
        unsigned level = (unsigned)__builtin_ctz(levels);
        for (unsigned gain = level + 1 + gather->first; gain <= tiles; gain++) {
            struct draw_set *set = &gather->set[gain - level - 1];
            if (gain == 3 && (used->single[number] & ~set->single) == 0)
                continue;
            draws_add_within(set, part, table->gains, gain, tiles);
            if (gain >= 2)
                draws_add_across(set, part, table->gains, gain, used->others[level][number], tiles);
        }
    }
}

/* Adds all that is listed to the sets. */
static void add_lists(struct gather *gather) {
    unsigned tables = 0;
    for (int part = 0; part < PARTS; part++)
        tables += gather->used[part].count;
    gains_reserve(&gather->gains, tables);
    find_tables(gather);
    join_parts(gather);
    for (int part = 0; part < PARTS; part++)
        for (unsigned i = 1; i < gather->used[part].count; i++)
            add_table(gather, part, i);
}

void gather_start(struct gather *gather, const struct query *query, unsigned nearest,
                  unsigned tiles, unsigned first) {
    gather->query = query;
    gather->nearest = nearest;
    gather->tiles = tiles;
    gather->first = first;
    for (unsigned i = 0; i < tiles; i++)
        draws_clear(&gather->set[i], tiles);
    start_lists(gather);
}

/* Lists a way; returns where the numbers of its tables go. */
static uint16_t *list_way(struct gather *gather, unsigned level) {
    keep_room(gather);
    gather->room--;
    gather->split[gather->splits].level = (uint8_t)level;
    return gather->split[gather->splits++].table;
}

/* The number of the table at a place, which a way at n + `level` uses; listed now if it was
 * not. */
static inline uint16_t use_table(struct used_tables *used, uint16_t *place,
                                 struct gains_wanted wanted, unsigned level) {
    if (*place == 0)
        list_table(used, place, wanted);
    used->table[*place].levels |= (uint8_t)(1u << level);
    return *place;
}

void gather_split(struct gather *gather, const struct split *split) {
    unsigned level = split->away - gather->nearest;
    uint16_t *table = list_way(gather, level);
    for (int part = 0; part < PARTS; part++) {
        const struct gains_wanted *wanted = &split->part[part];
        table[part] = 0;
        if (has_use(gather, wanted->family, wanted->away, level))
            table[part] =
                use_table(&gather->used[part], find_place(gather, part, wanted), *wanted, level);
    }
}

void gather_plainly(struct gather *gather, const uint16_t family[PARTS],
                    const struct near_rows *rows, unsigned away) {
    const nh_list *list = gather->query->list;
    unsigned level = away - gather->nearest;
    uint16_t *table = list_way(gather, level);
    for (int part = 0; part < PARTS; part++) {
        struct used_tables *used = &gather->used[part];
        unsigned number = family[part], here = rows->row[part][number] & NEAR_BITS;
        struct gains_wanted wanted = {family_numbered(list, part, number), 0, ANY_EXCESS,
                                      (uint8_t)here};
        table[part] = 0;
        if (has_use(gather, wanted.family, here, level))
            table[part] =
                use_table(used, &used->placed[number * (gather->jokers_placed + 1)], wanted, level);
    }
}

void gather_end(struct gather *gather) {
    add_lists(gather);
    for (unsigned i = gather->first; i < gather->tiles; i++)
        draws_end(&gather->set[i], gather->tiles);
}
