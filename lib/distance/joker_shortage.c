/* Where jokers can run out: worked out again whenever other tiles are left. */
#include "distance/joker_shortage.h"

#include <string.h>

bool shortage_memo_init(struct shortage_memo *memo, const nh_list *list,
                        const nh_allocator *allocator) {
    *memo = (struct shortage_memo){.known = false};
    bool good = fits_memo_init(&memo->fits, list, allocator);
    if (list->set.count[NH_JOKER] == 0)
        return good;
    memo->shortage.fits = &memo->fits;
    size_t suits = list->suit_family_count, honours = list->family_count - suits;
    size_t all = EXCESS_ROWS * (SUITS * suits + honours);
    memo->excess = memory_new_raw(allocator, all, 1);
    memo->room = memory_new(allocator, all + ROW_READ_BEHIND, 1);
    memo->pattern = memory_new(allocator, list->pattern_count, sizeof *memo->pattern);
    memo->shortage.pattern = memo->pattern;
    size_t next = 0;
    for (int part = 0; part < PARTS && memo->excess != NULL && memo->room != NULL; part++) {
        size_t families = part == PART_HONOUR ? honours : suits;
        memo->near.pages[part] = (uint32_t)(families + 255) / 256;
        memo->near.stride[part] = (uint32_t)families;
        for (int i = 0; i < EXCESS_ROWS; i++, next += families) {
            memo->rows[part][i].excess = memo->excess + next;
            memo->rows[part][i].room = memo->room + next;
        }
    }
    return good && memo->excess != NULL && memo->room != NULL && memo->pattern != NULL;
}

void shortage_memo_free(struct shortage_memo *memo, const nh_allocator *allocator) {
    memory_release(allocator, memo->excess);
    memory_release(allocator, memo->room);
    memory_release(allocator, memo->pattern);
    fits_memo_free(&memo->fits);
}

/* The most excess of a live share of each family of a part, or more. A share's
 * excess is its tiles beyond the set's copies, of which all of a family have the
 * same number, and bits that are not left. Flowers beyond the set's are among
 * those bits too: counted twice, they only make the bound larger. */
static void find_excess(const struct query *query, int part, struct excess_row *row) {
    const nh_list *list = query->list;
    uint64_t dead = ~query->live[part];
    unsigned jokers = query->jokers_left;
    size_t first, end;
    families_of(list, part, &first, &end);
    row->most = 0;
    for (size_t f = first; f < end; f++) {
        const struct family *family = &list->families[f];
        int most = list->kernels->most_common(
            list->bits + family->first, list->hard + family->first, family->count, dead, dead);
        uint8_t excess = (uint8_t)(most < 0 ? 0 : family->excess + most);
        row->excess[f - first] = excess;
        row->room[f - first] = (uint8_t)(excess > jokers ? 0 : jokers + 1 - excess);
        row->most = excess > row->most ? excess : row->most;
    }
    row->live = query->live[part];
    row->jokers = (uint8_t)jokers;
    row->known = true;
}

static const struct excess_row *excess_row(const struct query *query, struct shortage_memo *memo,
                                           int part) {
    uint64_t live = query->live[part];
    struct excess_row *row =
        &memo->rows[part][live * UINT64_C(0x9E3779B97F4A7C15) >> 32 & (EXCESS_ROWS - 1)];
    if (!row->known || row->live != live || row->jokers != query->jokers_left)
        find_excess(query, part, row);
    return row;
}

/* Most jokers left for which the room of a product that they suffice for is below FAR. */
#define ROOM_JOKERS ((FAR - PARTS) / (PARTS - 1))

/* Jokers can run out exactly where the excess of a product is more than there are of them.
 * With no family's excess counted as more than jokers + 1, that is where its room is less
 * than PARTS * (jokers + 1) - jokers: the least room of a run is found by the kernel that
 * finds the least distance. */
static bool is_run_possible(const struct query *query, const struct shortage_memo *memo,
                            const struct run *run) {
    const nh_list *list = query->list;
    unsigned jokers = query->jokers_left;
    if (jokers <= ROOM_JOKERS) {
        unsigned room =
            list->kernels->least_away(&list->lanes, run->first, run->count, &memo->near, 0);
        return room < PARTS * (jokers + 1) - jokers;
    }
    for (uint32_t i = run->first; i < run->first + run->count; i++)
        if (excess_of_product(&memo->shortage, list->lanes.together[i]) > jokers)
            return true;
    return false;
}

static bool is_possible_in(const struct query *query, const struct shortage_memo *memo,
                           const struct list_pattern *pattern) {
    const struct run *run = query->list->runs + pattern->run_first;
    for (uint32_t r = 0; r < pattern->run_count; r++, run++)
        if (is_run_possible(query, memo, run))
            return true;
    return false;
}

/* Finds the excess of families with other tiles left; returns the most of any four. */
static unsigned find_most_excess(struct query *query, struct shortage_memo *memo) {
    unsigned most = 0;
    query_add_bits(query);
    for (int part = 0; part < PARTS; part++) {
        const struct excess_row *row = excess_row(query, memo, part);
        memo->shortage.excess[part] = row->excess;
        memo->near.row[part] = row->room;
        most += row->most;
    }
    return most;
}

/* Finds where jokers can run out with other tiles left. */
static void find_anew(struct query *query, struct shortage_memo *memo) {
    const nh_list *list = query->list;
    unsigned most = find_most_excess(query, memo);
    memo->possible = false;
    for (size_t p = 0; p < list->pattern_count && most > query->jokers_left; p++) {
        memo->pattern[p] = is_possible_in(query, memo, &list->patterns[p]);
        memo->possible |= memo->pattern[p];
    }
    memo->left = query->left;
    memo->known = true;
}

void shortage_find(struct query *query, struct shortage_memo *memo) {
    if (!query->short_of_jokers)
        return;
    if (!memo->known || memcmp(&memo->left, &query->left, sizeof memo->left) != 0)
        find_anew(query, memo);
    query->shortage = &memo->shortage;
    query->short_of_jokers = memo->possible;
}

void shortage_find_excess(struct query *query, struct shortage_memo *memo) {
    if (!query->short_of_jokers)
        return;
    unsigned most = find_most_excess(query, memo);
    memo->known = false; /* of patterns */
    query->shortage = &memo->shortage;
    query->short_of_jokers = most > query->jokers_left;
}
