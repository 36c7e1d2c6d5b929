/* A claimed hand: the patterns that it completes, and the target of each that gives
 * the most points.
 *
 * Points belong to variants, and which variant a target is of shows in its layouts. So
 * where variants differ, targets are laid out until one gives as many points as any
 * variant does. */
#include "play/check.h"
#include "base/question.h"
#include "list/draft.h"
#include "play/complete.h"

#include <string.h>

/* Targets that are laid out for one pattern. A hand has several only by its jokers, and
 * shipped patterns come to some dozens. */
#define TARGETS_MOST 20000u

/* The search for the best target of a pattern. */
struct best_completed {
    const struct query *query;
    uint32_t pattern;
    const struct complete_target *target; /* the one at hand */
    nh_completed row;
    bool found;
    unsigned targets; /* so far */
    nh_status status;
};

/* The rows of an answer, best first, in the caller's memory. */
struct completed_rows {
    char *rows;
    size_t size; /* of one */
    size_t count, capacity;
};

/* ------------------------------------------------------- the best target --- */

/* Whether no variant gives more. */
static bool has_most(const struct best_completed *best, const nh_pattern *given) {
    const nh_pattern *most = &best->query->list->patterns[best->pattern].about;
    return !most->has_points || (given->has_points && given->points >= most->points);
}

static bool take_layout(const nh_layout *layout, void *context) {
    struct best_completed *best = context;
    const struct draft_pattern *pattern = &best->query->list->draft->patterns[best->pattern];
    const nh_pattern *given = &pattern->variants[layout->variant].about;
    bool better = given->has_points && (!best->row.has_points || given->points > best->row.points);
    if (!best->found || better) {
        best->row.variant = layout->variant;
        best->row.has_points = given->has_points;
        best->row.points = given->has_points ? given->points : 0;
        best->row.target = best->target->tiles;
        best->row.joked = best->target->joked;
        best->row.prevailing = best->target->prevailing;
        best->row.seat = best->target->seat;
        best->found = true;
    }
    return !has_most(best, given);
}

static bool take_target(const struct complete_target *target, void *context) {
    struct best_completed *best = context;
    const struct query *query = best->query;
    nh_layout_question question = NH_LAYOUT_QUESTION;
    question.joked = &target->joked;
    question.prevailing = query->prevailing != 0 ? query->prevailing : target->prevailing;
    question.seat = query->seat != 0 ? query->seat : target->seat;
    best->target = target;
    best->targets++;
    nh_status status = nh_layouts_each(query->list, best->pattern, &target->tiles, &question,
                                       take_layout, best, NULL);
    if (status == NH_ERROR_LIMIT || best->targets > TARGETS_MOST)
        best->status = NH_ERROR_LIMIT;
    if (cancel_asked(query->cancel))
        best->status = NH_ERROR_CANCELLED;
    const struct draft_pattern *pattern = &query->list->draft->patterns[best->pattern];
    bool most = best->found && has_most(best, &pattern->variants[best->row.variant].about);
    return best->status == NH_OK && !most;
}

/* ------------------------------------------------------------------ rows --- */

static nh_completed row_at(const struct completed_rows *rows, size_t index) {
    nh_completed row = {.pattern = 0};
    size_t known = rows->size < sizeof row ? rows->size : sizeof row;
    memcpy(&row, rows->rows + index * rows->size, known);
    return row;
}

/* More points stand first, none last; then earlier in the list, which comes first. */
static bool pays_more(const nh_completed *a, const nh_completed *b) {
    if (a->has_points != b->has_points)
        return a->has_points;
    return a->has_points && a->points > b->points;
}

static void insert_row(struct completed_rows *rows, const nh_completed *row) {
    size_t at = rows->count < rows->capacity ? rows->count : rows->capacity;
    while (at > 0) {
        nh_completed before = row_at(rows, at - 1);
        if (!pays_more(row, &before))
            break;
        at--;
    }
    if (at == rows->capacity)
        return;
    size_t last = rows->count < rows->capacity ? rows->count : rows->capacity - 1;
    char *place = rows->rows + at * rows->size;
    memmove(place + rows->size, place, (last - at) * rows->size);
    answer_write(place, rows->size, row, sizeof *row);
    rows->count = last + 1;
}

nh_status check_hand(struct query *query, const nh_check_question *question, struct row_memo *memo,
                     uint8_t *away, nh_completed *rows, size_t capacity, nh_checking *checking,
                     nh_error *error) {
    const nh_list *list = query->list;
    struct near_rows near;
    /* cppcheck-suppress ctuuninitvar ; rows are written before they are read */
    struct completed_rows completed = {(char *)rows, question->row_size, 0, capacity};
    *checking = (nh_checking){.nearest = (uint8_t)find_distances(query, NULL, memo, &near, away)};
    query_add_bits(query);
    for (uint32_t i = 0; i < list->pattern_count; i++) {
        struct best_completed best = {.query = query, .pattern = i, .row = {.pattern = i}};
        if (away[i] == 0)
            complete_each(query, &list->patterns[i], take_target, &best);
        if (best.status != NH_OK)
            return best.status == NH_ERROR_CANCELLED
                       ? cancel_error(error)
                       : error_set(error, best.status, 0,
                                   "the hand completes \"%s\" in too many ways",
                                   list->patterns[i].about.name);
        if (!best.found)
            continue;
        checking->completed++;
        insert_row(&completed, &best.row);
    }
    checking->rows = completed.count;
    return NH_OK;
}
