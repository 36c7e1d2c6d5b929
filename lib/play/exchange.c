/* Jokers taken from sets on the table.
 *
 * A tile of the hand changes places with a joker: what was gone is in the hand, and the
 * other way round, so that no tile comes to light. What the sets are does not change, and
 * the rest of the list for own sets stays the same. */
#include "play/exchange.h"
#include "base/question.h"
#include "base/status.h"
#include "play/complete.h"
#include "tiles/table_sets.h"

#include <string.h>

/* The rows of an answer, best first, in the caller's memory. */
struct exchange_rows {
    char *rows;
    size_t size; /* of one */
    size_t count, capacity;
};

static bool nearer_than(const nh_exchange *a, const nh_exchange *b) {
    if (a->away != b->away)
        return a->away < b->away;
    if (a->kind != b->kind)
        return a->kind < b->kind;
    return a->own != b->own ? a->own : a->set < b->set;
}

static nh_exchange exchange_at(const struct exchange_rows *rows, size_t index) {
    nh_exchange row = {.kind = 0};
    memcpy(&row, rows->rows + index * rows->size,
           rows->size < sizeof row ? rows->size : sizeof row);
    return row;
}

static void insert_exchange(struct exchange_rows *rows, const nh_exchange *row) {
    size_t written = rows->count < rows->capacity ? rows->count : rows->capacity;
    size_t at = written;
    rows->count++;
    while (at > 0) {
        nh_exchange before = exchange_at(rows, at - 1);
        if (!nearer_than(row, &before))
            break;
        at--;
    }
    if (at == rows->capacity)
        return;
    size_t last = written < rows->capacity ? written : rows->capacity - 1;
    char *place = rows->rows + at * rows->size;
    memmove(place + rows->size, place, (last - at) * rows->size);
    answer_write(place, rows->size, row, sizeof *row);
}

/* `away` has the distances of the patterns. */
static bool completes_some(struct query *query, const uint8_t *away) {
    const nh_list *list = query->list;
    bool complete = false;
    query_add_bits(query);
    for (size_t i = 0; i < list->pattern_count && !complete; i++)
        complete = away[i] == 0 && is_complete(query, &list->patterns[i]);
    return complete;
}

static void add_exchange(const struct query *query, const nh_set *set, bool own, size_t number,
                         struct row_memo *memo, uint8_t *away, struct exchange_rows *rows) {
    struct query after = *query;
    struct near_rows near;
    if (set->jokers == 0 || query->hand.count[set->kind] == 0)
        return;
    after.hand.count[set->kind]--;
    after.left.count[set->kind]--;
    after.hand.count[NH_JOKER]++;
    after.left.count[NH_JOKER]++;
    after.jokers++;
    after.jokers_left++;
    after.short_of_jokers = memcmp(&after.left, &query->list->set, sizeof after.left) != 0;
    after.has_bits = false;
    nh_exchange row = {.kind = set->kind, .own = own, .set = (uint32_t)number};
    row.away = (uint8_t)find_distances(&after, NULL, memo, &near, away);
    row.complete = row.away == 0 && completes_some(&after, away);
    insert_exchange(rows, &row);
}

/* The sets of others must be sets, and their jokers among the tiles seen. */
static nh_status check_others(const nh_exchange_question *question, nh_error *error) {
    nh_tiles all = {{0}};
    for (size_t i = 0; i < question->set_count; i++) {
        nh_tiles tiles;
        nh_status status = check_set(&question->sets[i], error);
        if (status != NH_OK)
            return status;
        nh_set_tiles(&question->sets[i], &tiles);
        if (!nh_tiles_add(&all, &tiles))
            return error_set(error, NH_ERROR_ARGUMENT, 0, "too many sets");
    }
    for (int kind = 0; kind < NH_KINDS; kind++)
        if (all.count[kind] > question->situation->seen.count[kind])
            return error_set(error, NH_ERROR_ARGUMENT, 0,
                             "the sets hold %d %s, but only %d are among the tiles seen",
                             all.count[kind], nh_kind_notation(kind),
                             question->situation->seen.count[kind]);
    return NH_OK;
}

nh_status find_exchanges(const struct query *query, const nh_exchange_question *question,
                         struct row_memo *memo, uint8_t *away, nh_exchange *exchanges,
                         size_t capacity, size_t *count, nh_error *error) {
    /* cppcheck-suppress ctuuninitvar ; rows are written before they are read */
    struct exchange_rows rows = {(char *)exchanges, question->exchange_size, 0, capacity};
    nh_status status = check_others(question, error);
    if (status != NH_OK)
        return status;
    for (size_t i = 0; i < query->list->set_count; i++)
        add_exchange(query, &query->list->sets[i], true, i, memo, away, &rows);
    for (size_t i = 0; i < question->set_count; i++)
        add_exchange(query, &question->sets[i], false, i, memo, away, &rows);
    *count = rows.count;
    return NH_OK;
}
