/* Reading another player: the question checked, the counts made, the answer put in order.
 *
 * All patterns are counted with the same tables. Where that takes too much work, each
 * pattern is counted by itself, and those that still take too much are named. */
#include "base/binomials.h"
#include "base/question.h"
#include "base/sort.h"
#include "nearhand_read.h"
#include "read/reader.h"

#include <string.h>

struct owned_reading {
    nh_reading about; /* the first field: the caller's pointer is that of the whole */
    nh_allocator allocator;
    nh_read_pattern *patterns;
    nh_read_tile tiles[NH_KINDS];
};

/* ------------------------------------------------------------- question --- */

struct read_asked {
    nh_read_question question;
    nh_situation situation;
    struct hidden_tiles tiles;
};

static nh_status read_winds(const nh_situation *situation, nh_error *error) {
    nh_status status = check_wind("prevailing", situation->prevailing, error);
    return status == NH_OK ? check_wind("seat", situation->seat, error) : status;
}

static nh_status read_hidden(const nh_list *list, const nh_read_question *question,
                             struct hidden_tiles *tiles, nh_error *error) {
    int hidden = question->hidden == NH_HIDDEN_AS_LIST ? list->hand - 1 : question->hidden;
    if (hidden < 0 || hidden >= NH_TARGET_MAX)
        return error_set(error, NH_ERROR_ARGUMENT, 0, "hidden is %d; 0 to %d", hidden,
                         NH_TARGET_MAX - 1);
    int unseen = nh_tiles_total(&tiles->unseen);
    if (hidden > unseen)
        return error_set(error, NH_ERROR_TILES, 0, "%d tiles cannot be hidden: only %d are unseen",
                         hidden, unseen);
    tiles->most = hidden;
    return NH_OK;
}

static nh_status read_known_tiles(const nh_list *list, struct read_asked *asked, nh_error *error) {
    struct hidden_tiles *tiles = &asked->tiles;
    if (asked->question.mine != NULL)
        tiles->mine = *asked->question.mine;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        int known = tiles->mine.count[kind] + asked->situation.seen.count[kind];
        if (known > list->off_table.count[kind])
            return error_set(error, NH_ERROR_TILES, 0,
                             "more copies of the %s are known than the set has",
                             nh_kind_name(kind));
        tiles->unseen.count[kind] = (uint8_t)(list->off_table.count[kind] - known);
    }
    return read_hidden(list, &asked->question, tiles, error);
}

static nh_status read_question(const nh_list *list, const nh_read_question *given,
                               struct read_asked *asked, nh_error *error) {
    *asked = (struct read_asked){.question = NH_READ_QUESTION, .situation = NH_SITUATION};
    nh_status status =
        question_read(&asked->question, sizeof asked->question, given,
                      SIZE_PAST(nh_read_question, hidden), "NH_READ_QUESTION", error);
    if (status == NH_OK)
        status =
            question_read(&asked->situation, sizeof asked->situation, asked->question.situation,
                          SIZE_PAST(nh_situation, seat), "NH_SITUATION", error);
    if (status == NH_OK)
        status = read_winds(&asked->situation, error);
    return status == NH_OK ? read_known_tiles(list, asked, error) : status;
}

/* ------------------------------------------------------------- products --- */

/* The products that a hidden hand of this size can be one tile short of, pattern after
 * pattern: those of pattern p are first[p] to first[p + 1] - 1. */
struct read_products {
    struct product *items;
    size_t *first;
};

static bool counts(const nh_list *list, const struct read_asked *asked,
                   const struct product *product) {
    int size = 0;
    for (int part = 0; part < PARTS; part++)
        size += list->families[product->family[part]].size;
    const nh_situation *known = &asked->situation;
    return size == asked->tiles.most + 1 &&
           (product->prevailing == 0 || known->prevailing == NH_WIND_UNKNOWN ||
            product->prevailing == (uint8_t)known->prevailing) &&
           (product->seat == 0 || known->seat == NH_WIND_UNKNOWN ||
            product->seat == (uint8_t)known->seat);
}

static bool find_products(const nh_list *list, const struct read_asked *asked,
                          const nh_allocator *allocator, struct read_products *products) {
    products->items = memory_new(allocator, list->product_count, sizeof *products->items);
    products->first = memory_new(allocator, list->pattern_count + 1, sizeof *products->first);
    if (products->items == NULL || products->first == NULL)
        return false;
    size_t count = 0;
    for (size_t p = 0; p < list->pattern_count; p++) {
        products->first[p] = count;
        for (uint32_t i = 0; i < list->patterns[p].count; i++) {
            const struct product *product = &list->products[list->patterns[p].first + i];
            if (counts(list, asked, product))
                products->items[count++] = *product;
        }
    }
    products->first[list->pattern_count] = count;
    return true;
}

/* ------------------------------------------------------------- counting --- */

struct reading_work {
    const nh_list *list;
    const struct read_asked *asked;
    struct read_products products;
    struct owned_reading *reading;
    nh_natural *ready; /* of each pattern */
    nh_status *statuses;
    nh_natural wins[NH_KINDS];
    uint64_t steps; /* of all counts */
    nh_allocator allocator;
};

static struct read_work begin_count(const struct reading_work *reading, uint64_t most) {
    uint64_t left =
        READ_CALL_MAX - (reading->steps < READ_CALL_MAX ? reading->steps : READ_CALL_MAX);
    return (struct read_work){.allocator = &reading->allocator,
                              .most = left < most ? left : most,
                              .cancel = reading->asked->question.cancel};
}

/* Counts some patterns with tables of their own. */
static nh_status count_alone(struct reading_work *reading, size_t pattern) {
    struct read_work work = begin_count(reading, READ_PATTERN_MAX);
    struct reader reader;
    size_t first = reading->products.first[pattern];
    size_t count = reading->products.first[pattern + 1] - first;
    if (count > 0 && reader_start(&reader, reading->list, &reading->asked->tiles,
                                  reading->products.items + first, count, &work))
        reader_ready(&reader, 0, count, &reading->ready[pattern]);
    if (count > 0)
        reader_free(&reader);
    reading->steps += work.steps;
    reading->statuses[pattern] = work.status;
    return work.status == NH_ERROR_LIMIT ? NH_OK : work.status;
}

static bool count_with(struct reading_work *reading, struct reader *reader) {
    size_t patterns = reading->list->pattern_count;
    const size_t *first = reading->products.first;
    if (!reader_ready(reader, 0, first[patterns], &reading->reading->about.ready) ||
        !reader_wins(reader, reading->wins))
        return false;
    for (size_t p = 0; p < patterns; p++)
        if (!reader_ready(reader, first[p], first[p + 1] - first[p], &reading->ready[p]))
            return false;
    return true;
}

/* Counts all patterns with the same tables, then each by itself if that is too much. */
static nh_status count_all(struct reading_work *reading) {
    struct read_work work = begin_count(reading, READ_LIST_MAX);
    struct reader reader;
    size_t patterns = reading->list->pattern_count, all = reading->products.first[patterns];
    if (all == 0)
        return NH_OK;
    if (reader_start(&reader, reading->list, &reading->asked->tiles, reading->products.items, all,
                     &work))
        count_with(reading, &reader);
    reader_free(&reader);
    reading->steps += work.steps;
    reading->reading->about.status = work.status;
    if (work.status != NH_ERROR_LIMIT)
        return work.status;
    reading->reading->about.ready = natural_from(0);
    nh_status status = NH_OK;
    for (size_t p = 0; p < patterns && status == NH_OK; p++)
        status = count_alone(reading, p);
    return status;
}

/* --------------------------------------------------------------- answer --- */

static bool pattern_before(const void *a, const void *b, const void *context) {
    const nh_read_pattern *x = a, *y = b;
    (void)context;
    if (x->status != y->status)
        return x->status == NH_OK;
    int order = nh_natural_compare(&y->ready, &x->ready);
    return order != 0 ? order < 0 : x->pattern < y->pattern;
}

static bool tile_before(const void *a, const void *b, const void *context) {
    const nh_read_tile *x = a, *y = b;
    (void)context;
    if ((x->mine > 0) != (y->mine > 0))
        return x->mine > 0;
    int order = nh_natural_compare(&y->wins, &x->wins);
    return order != 0 ? order < 0 : x->kind < y->kind;
}

static bool is_none(const nh_natural *number) {
    return (number->limb[0] | number->limb[1] | number->limb[2]) == 0;
}

static void write_patterns(const struct reading_work *work) {
    nh_reading *about = &work->reading->about;
    for (size_t p = 0; p < work->list->pattern_count; p++) {
        bool counted = work->statuses[p] == NH_OK;
        if (counted && is_none(&work->ready[p]))
            continue;
        nh_natural ready = counted ? work->ready[p] : natural_from(0);
        work->reading->patterns[about->patterns++] =
            (nh_read_pattern){.ready = ready,
                              .share = nh_natural_ratio(&ready, &about->ready),
                              .status = work->statuses[p],
                              .pattern = (uint32_t)p};
        about->uncounted += !counted;
    }
    sort_in_place(work->reading->patterns, about->patterns, sizeof *work->reading->patterns,
                  pattern_before, NULL);
}

static void write_tiles(const struct reading_work *work) {
    nh_reading *about = &work->reading->about;
    const struct hidden_tiles *tiles = &work->asked->tiles;
    for (int kind = 0; kind < NH_JOKER && about->status == NH_OK; kind++) {
        if (tiles->mine.count[kind] == 0 && is_none(&work->wins[kind]))
            continue;
        work->reading->tiles[about->tiles++] =
            (nh_read_tile){.wins = work->wins[kind],
                           .danger = nh_natural_ratio(&work->wins[kind], &about->ready),
                           .kind = (uint8_t)kind,
                           .mine = tiles->mine.count[kind],
                           .unseen = tiles->unseen.count[kind]};
    }
    sort_in_place(work->reading->tiles, about->tiles, sizeof *work->reading->tiles, tile_before,
                  NULL);
}

static struct owned_reading *new_reading(const struct reading_work *work) {
    struct owned_reading *reading = memory_new(&work->allocator, 1, sizeof *reading);
    if (reading == NULL)
        return NULL;
    const struct hidden_tiles *tiles = &work->asked->tiles;
    unsigned unseen = (unsigned)nh_tiles_total(&tiles->unseen);
    reading->allocator = work->allocator;
    reading->about.hidden = tiles->most;
    reading->about.hands = work->list->binomials[BINOMIAL(unseen, (unsigned)tiles->most)];
    reading->patterns =
        memory_new(&work->allocator, work->list->pattern_count, sizeof *reading->patterns);
    if (reading->patterns != NULL)
        return reading;
    memory_release(&work->allocator, reading);
    return NULL;
}

static nh_status read_player(struct reading_work *work) {
    size_t patterns = work->list->pattern_count;
    work->reading = new_reading(work);
    work->ready = memory_new(&work->allocator, patterns, sizeof *work->ready);
    work->statuses = memory_new(&work->allocator, patterns, sizeof *work->statuses);
    nh_status status = NH_ERROR_MEMORY;
    if (work->reading != NULL && work->ready != NULL && work->statuses != NULL &&
        find_products(work->list, work->asked, &work->allocator, &work->products))
        status = count_all(work);
    if (status == NH_OK) {
        write_patterns(work);
        write_tiles(work);
    }
    memory_release(&work->allocator, work->ready);
    memory_release(&work->allocator, work->statuses);
    memory_release(&work->allocator, work->products.items);
    memory_release(&work->allocator, work->products.first);
    return status;
}

nh_status nh_read(const nh_list *list, const nh_read_question *question,
                  const nh_allocator *allocator, nh_reading **reading, nh_error *error) {
    struct read_asked asked;
    *reading = NULL;
    nh_status status = read_question(list, question, &asked, error);
    if (status != NH_OK)
        return status;
    struct reading_work work = {
        .list = list, .asked = &asked, .allocator = memory_default(allocator)};
    status = read_player(&work);
    if (status == NH_OK) {
        *reading = &work.reading->about;
        return NH_OK;
    }
    if (work.reading != NULL)
        nh_reading_free(&work.reading->about);
    return status == NH_ERROR_CANCELLED ? cancel_error(error)
                                        : error_set(error, status, 0, "%s", nh_status_text(status));
}

void nh_reading_free(nh_reading *reading) {
    if (reading == NULL)
        return;
    struct owned_reading *owned = (struct owned_reading *)reading;
    nh_allocator allocator = owned->allocator;
    memory_release(&allocator, owned->patterns);
    memory_release(&allocator, owned);
}

const nh_read_pattern *nh_reading_pattern(const nh_reading *reading, size_t index) {
    const struct owned_reading *owned = (const struct owned_reading *)reading;
    return index < reading->patterns ? &owned->patterns[index] : NULL;
}

const nh_read_tile *nh_reading_tile(const nh_reading *reading, size_t index) {
    const struct owned_reading *owned = (const struct owned_reading *)reading;
    return index < reading->tiles ? &owned->tiles[index] : NULL;
}
