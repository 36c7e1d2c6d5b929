/* Draws put together from the ways of products. */
#include "pass/draw_gather.h"

#include <string.h>

bool gather_init(struct gather *gather, const nh_list *list, const nh_allocator *allocator) {
    bool good = gain_memo_init(&gather->gains, list, allocator);
    gather->allocator = *allocator;
    gather->turn = 0;
    unsigned jokers = list->set.count[NH_JOKER];
    gather->jokers_placed = jokers < JOKERS_PLACED ? jokers : JOKERS_PLACED;
    for (int part = 0; part < PARTS; part++) {
        struct used_tables *used = &gather->used[part];
        size_t first, end;
        families_of(list, part, &first, &end);
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

static void start_lists(struct gather *gather) {
    gather->splits = 0;
    gather->turn++;
    for (int part = 0; part < PARTS; part++) {
        gather->used[part].count = 1;
        gather->used[part].table[0] = (struct used_table){.levels = 0};
    }
}

/* The place for what is wanted: with the number of its table, or of an earlier turn. */
static struct table_place *find_place(const struct gather *gather, int part,
                                      const struct gains_wanted *wanted) {
    const struct used_tables *used = &gather->used[part];
    uint32_t number = family_number(gather->query->list, part, wanted->family);
    if (wanted->excess == ANY_EXCESS && wanted->jokers <= gather->jokers_placed)
        return &used->placed[number * (gather->jokers_placed + 1) + wanted->jokers];
    uint32_t key = number | (uint32_t)wanted->jokers << 16 | (uint32_t)wanted->excess << 24;
    struct table_place *place = &used->hashed[key * UINT32_C(0x9E3779B1) >> 16 & (HASHED - 1)];
    while (place->turn == gather->turn) {
        const struct gains_wanted *here = &used->table[place->table].wanted;
        if (here->family == wanted->family && here->jokers == wanted->jokers &&
            here->excess == wanted->excess)
            break;
        place = place + 1 == used->hashed + HASHED ? used->hashed : place + 1;
    }
    return place;
}

/* The table in use for what is wanted, listed now if it was not. */
static unsigned use_table(struct gather *gather, int part, const struct gains_wanted *wanted) {
    struct used_tables *used = &gather->used[part];
    if (gather->query->list->families[wanted->family].size == 0)
        return 0;
    struct table_place *place = find_place(gather, part, wanted);
    if (place->turn != gather->turn) {
        place->turn = gather->turn & ((UINT64_C(1) << 48) - 1u);
        place->table = used->count & UINT16_MAX;
        used->table[used->count++] = (struct used_table){.wanted = *wanted};
    }
    return place->table;
}

/* Whether a way may bring no table, or itself, past its list. */
static bool lists_are_full(const struct gather *gather) {
    bool full = gather->splits == SPLITS_MAX;
    for (int part = 0; part < PARTS; part++)
        full |= gather->used[part].count == TABLES_MAX;
    return full;
}

/* --------------------------------------------------------------- adding --- */

/* A share that comes m nearer at n + l with a gain of l + 1 at least is at most
 * tiles - 1 - l farther than its family. */
static unsigned depth_of(const struct gather *gather, const struct used_table *table) {
    return gather->tiles - 1 - (unsigned)__builtin_ctz(table->levels);
}

static void find_tables(struct gather *gather) {
    for (int part = 0; part < PARTS; part++) {
        for (unsigned i = 1; i < gather->used[part].count; i++) {
            struct used_table *table = &gather->used[part].table[i];
            table->gains = gains_find(gather->query, &gather->gains, part, &table->wanted,
                                      depth_of(gather, table));
            table->single = (uint64_t)table->gains->single << part * PART_KINDS;
            if ((table->levels & 1u) != 0)
                draws_add_single(&gather->set[0], table->single);
        }
    }
}

/* Gathers the single tiles of ways, and adds draws of one tile of each of three
 * parts. Ways often have the same: the last ones are not added again. */
static void join_parts(struct gather *gather) {
    enum { LATELY = 64 };
    uint64_t lately[NH_PASS_MAX][LATELY] = {{0}};
    for (size_t i = 0; i < gather->splits; i++) {
        struct used_table *table[PARTS];
        unsigned level = gather->split[i].level;
        uint64_t single = 0;
        for (int part = 0; part < PARTS; part++) {
            table[part] = &gather->used[part].table[gather->split[i].table[part]];
            single |= table[part]->single;
        }
        for (int part = 0; part < PARTS; part++)
            table[part]->others[level] |= single;
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

static void add_table(struct gather *gather, int part, const struct used_table *table) {
    unsigned tiles = gather->tiles;
    for (unsigned level = 0; level < tiles; level++) {
        if ((table->levels >> level & 1u) == 0)
            continue;
        for (unsigned gain = level + 1; gain <= tiles; gain++) {
            struct draw_set *set = &gather->set[gain - level - 1];
            draws_add_within(set, part, table->gains, gain, tiles);
            if (gain >= 2)
                draws_add_across(set, part, table->gains, gain, table->others[level], tiles);
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
            add_table(gather, part, &gather->used[part].table[i]);
}

void gather_start(struct gather *gather, const struct query *query, unsigned nearest,
                  unsigned tiles) {
    gather->query = query;
    gather->nearest = nearest;
    gather->tiles = tiles;
    for (unsigned i = 0; i < tiles; i++)
        draws_clear(&gather->set[i], tiles);
    start_lists(gather);
}

void gather_split(struct gather *gather, const struct split *split) {
    unsigned level = split->away - gather->nearest;
    if (lists_are_full(gather)) {
        add_lists(gather);
        start_lists(gather);
    }
    for (int part = 0; part < PARTS; part++) {
        unsigned table = use_table(gather, part, &split->part[part]);
        gather->used[part].table[table].levels |= (uint8_t)(1u << level);
        gather->split[gather->splits].table[part] = (uint16_t)table;
    }
    gather->split[gather->splits++].level = (uint8_t)level;
}

void gather_end(struct gather *gather) {
    add_lists(gather);
}
