/* Which tile to discard: for every different tile of a hand how near the hand is without
 * it, how near on average when more tiles have come (expectation.h), and the chance of
 * the best pattern (rank.h).
 *
 * An order compares one figure after another. Where only the first few choices are asked
 * for, a figure is worked out only for those that the figures before it leave among them:
 * all that come before the last one asked for, and those equal to it so far. */
#include "play/discard.h"
#include "base/question.h"
#include "base/sort.h"
#include "base/status.h"
#include "play/complete.h"

/* A figure that choices are compared by. */
enum figure { FIGURE_AWAY, FIGURE_EXPECTED, FIGURE_CHANCE, FIGURES };

/* The question. */
struct discarder {
    struct outlook outlook;
    const struct discard_memory *memory;
    const nh_tiles *hand;
    const nh_discard_question *question;
    unsigned look;
};

/* ---------------------------------------------------------------- orders --- */

static const enum figure orders[][FIGURES] = {
    [NH_DISCARD_AWAY] = {FIGURE_AWAY, FIGURE_EXPECTED, FIGURE_CHANCE},
    [NH_DISCARD_EXPECTED] = {FIGURE_EXPECTED, FIGURE_CHANCE, FIGURE_AWAY},
    [NH_DISCARD_CHANCE] = {FIGURE_CHANCE, FIGURE_AWAY, FIGURE_EXPECTED},
    [NH_DISCARD_WORTH] = {FIGURE_CHANCE, FIGURE_AWAY, FIGURE_EXPECTED},
};

/* Points times chance, without the factor that all choices share. */
static double worth_of(const nh_list *list, const nh_discard_choice *choice) {
    const nh_pattern *pattern = &list->patterns[choice->pattern].about;
    return pattern->has_points ? pattern->points * nh_natural_double(&choice->completing) : 0;
}

static int compare_chance(const struct discarder *discarder, const nh_discard_choice *a,
                          const nh_discard_choice *b) {
    const nh_list *list = discarder->memory->list;
    if (discarder->question->order == NH_DISCARD_WORTH && worth_of(list, a) != worth_of(list, b))
        return worth_of(list, a) > worth_of(list, b) ? -1 : 1;
    return nh_natural_compare(&b->completing, &a->completing);
}

/* Below 0 where a figure puts a before b. */
static int compare_figure(const struct discarder *discarder, enum figure figure,
                          const nh_discard_choice *a, const nh_discard_choice *b) {
    switch (figure) {
    case FIGURE_AWAY:
        return a->away - b->away;
    case FIGURE_EXPECTED:
        return (a->expected > b->expected) - (a->expected < b->expected);
    default:
        return compare_chance(discarder, a, b);
    }
}

/* By which figures choices are compared, the first `count` of an order. */
struct comparison {
    const struct discarder *discarder;
    const enum figure *figures;
    int count;
};

static int compare_by(const struct comparison *by, const nh_discard_choice *a,
                      const nh_discard_choice *b) {
    int compared = 0;
    for (int i = 0; i < by->count && compared == 0; i++)
        compared = compare_figure(by->discarder, by->figures[i], a, b);
    return compared;
}

static bool discard_before(const void *left, const void *right, const void *context) {
    const nh_discard_choice *a = left, *b = right;
    int compared = compare_by(context, a, b);
    return compared != 0 ? compared < 0 : a->kind < b->kind;
}

/* --------------------------------------------------------------- figures --- */

/* The hand without the tile, which is gone. */
struct after_discard {
    nh_tiles tile, hand;
    nh_situation situation;
};

static struct after_discard after_discard(const struct discarder *discarder, int kind) {
    struct after_discard after = {.situation = *discarder->question->situation};
    after.tile.count[kind] = 1;
    after.hand = tiles_without(discarder->hand, &after.tile);
    after.situation.seen = tiles_with(&after.situation.seen, &after.tile);
    return after;
}

static void away_without(const struct discarder *discarder, nh_discard_choice *choice) {
    const struct after_discard after = after_discard(discarder, choice->kind);
    choice->away = (uint8_t)away_after(&discarder->outlook, discarder->hand, &after.tile);
}

/* The unseen tiles that bring the hand nearer by themselves. */
static void find_useful(const struct discarder *discarder, const struct expectation *expectation,
                        nh_discard_choice *choice) {
    const uint8_t *unseen = discarder->outlook.scratch->unseen.count;
    for (int kind = 0; kind < NH_JOKER; kind++)
        if ((expectation->useful >> kind & 1u) != 0)
            choice->useful.count[kind] = unseen[kind];
    if (discarder->outlook.jokers_unseen > 0 && expectation->reach[1].nearest < choice->away)
        choice->useful.count[NH_JOKER] = (uint8_t)discarder->outlook.jokers_unseen;
    choice->useful_count = (uint32_t)nh_tiles_total(&choice->useful);
}

static void find_expected(const struct discarder *discarder, nh_discard_choice *choice) {
    const struct after_discard after = after_discard(discarder, choice->kind);
    const struct unseen *unseen = &discarder->outlook.scratch->unseen;
    struct expectation expectation;
    expect_after(&discarder->outlook, discarder->hand, &after.tile, discarder->look, false,
                 &expectation, NULL);
    choice->expected = expectation.expected;
    choice->nearest = expectation.nearest;
    choice->within_one = expectation.within_one;
    if (choice->away == NH_AWAY_NONE)
        return;
    if (unseen->total < discarder->look) /* no draw is without jokers */
        expect_after(&discarder->outlook, discarder->hand, &after.tile, 1, false, &expectation,
                     NULL);
    find_useful(discarder, &expectation, choice);
}

static void find_chance(const struct discarder *discarder, nh_discard_choice *choice) {
    const nh_discard_question *question = discarder->question;
    const struct after_discard after = after_discard(discarder, choice->kind);
    nh_rank_question asked = NH_RANK_QUESTION;
    struct query query;
    nh_ranking ranking;
    nh_ranked row = {.pattern = 0};
    asked.chosen = question->chosen;
    asked.draws = question->draws;
    asked.order = question->order == NH_DISCARD_CHANCE  ? NH_ORDER_CHANCE
                  : question->order == NH_DISCARD_WORTH ? NH_ORDER_WORTH
                                                        : NH_ORDER_AWAY;
    query_set(&query, discarder->memory->list, &after.hand, &after.situation, NULL);
    query.cancel = question->cancel;
    rank_patterns(&query, &asked, &discarder->memory->rank, &row, 1, &ranking);
    choice->pattern = row.pattern;
    choice->chance = row.chance;
    choice->completing = row.completing;
}

static void find_figure(const struct discarder *discarder, enum figure figure,
                        nh_discard_choice *choice) {
    if (!outlook_goes_on(&discarder->outlook))
        return;
    if (figure == FIGURE_EXPECTED)
        find_expected(discarder, choice);
    if (figure == FIGURE_CHANCE)
        find_chance(discarder, choice);
}

/* ------------------------------------------------------------- the first few --- */

static size_t list_tiles(const struct discarder *discarder, nh_discard_choice *choices) {
    size_t count = 0;
    for (int kind = 0; kind < NH_JOKER; kind++)
        if (discarder->hand->count[kind] > 0)
            choices[count++] = (nh_discard_choice){.kind = (uint8_t)kind};
    return count;
}

/* Puts the first `capacity` of the choices, at least 1, to the front with all their figures. */
static void first_choices(const struct discarder *discarder, nh_discard_choice *choices,
                          size_t count, size_t capacity) {
    struct comparison by = {discarder, orders[discarder->question->order], 0};
    for (size_t i = 0; i < count; i++)
        away_without(discarder, &choices[i]);
    while (by.count < FIGURES) {
        for (size_t i = 0; i < count; i++)
            find_figure(discarder, by.figures[by.count], &choices[i]);
        by.count++;
        sort_in_place(choices, count, sizeof *choices, discard_before, &by);
        size_t first = capacity < count ? capacity : count;
        while (first < count && compare_by(&by, &choices[first - 1], &choices[first]) == 0)
            first++;
        count = first;
    }
}

/* ----------------------------------------------------------------- call --- */

/* What holds for all discards, and what they work with. */
static void start_discards(struct discarder *discarder, struct query *query,
                           nh_discarding *discarding) {
    const nh_list *list = discarder->memory->list;
    const nh_discard_question *question = discarder->question;
    const struct rank_memory *memory = &discarder->memory->rank;
    struct near_rows rows;
    outlook_start(&discarder->outlook, query);
    unsigned unseen = discarder->outlook.scratch->unseen.total + discarder->outlook.jokers_unseen;
    unsigned draws = (unsigned)question->draws < unseen ? (unsigned)question->draws : unseen;
    discarder->look = (unsigned)question->look < unseen ? (unsigned)question->look : unseen;
    discarder->outlook.before =
        find_distances(query, question->chosen, memory->rows, &rows, memory->away);
    *discarding = (nh_discarding){.away = (uint8_t)discarder->outlook.before,
                                  .look = discarder->look,
                                  .unseen = unseen,
                                  .draws = draws_of(unseen, discarder->look),
                                  .chance_draws = list->binomials[BINOMIAL(unseen, draws)]};
    query_add_bits(query);
    for (size_t i = 0; i < list->pattern_count && !discarding->complete; i++)
        discarding->complete = memory->away[i] == 0 && is_complete(query, &list->patterns[i]);
}

static nh_status check_hand_total(const struct query *query, nh_error *error) {
    int total = nh_tiles_total(&query->hand), most = query->list->most;
    if (total > 0 && total <= most)
        return NH_OK;
    return error_set(error, NH_ERROR_TILES, 0, "a hand of this list has 1 to %d tiles, not %d",
                     most, total);
}

nh_status find_discards(const struct discard_memory *memory, const nh_tiles *hand,
                        const nh_discard_question *question, nh_discard_choice *choices,
                        size_t capacity, nh_discarding *discarding, nh_error *error) {
    struct query query;
    nh_status status = query_set(&query, memory->list, hand, question->situation, error);
    if (status == NH_OK)
        status = check_hand_total(&query, error);
    if (status != NH_OK)
        return status;
    struct discarder discarder = {.outlook = {.list = memory->list,
                                              .rows = memory->rank.rows,
                                              .scratch = memory->expect,
                                              .situation = question->situation,
                                              .chosen = question->chosen,
                                              .cancel = question->cancel},
                                  .memory = memory,
                                  .hand = hand,
                                  .question = question};
    start_discards(&discarder, &query, discarding);
    discarding->discards = list_tiles(&discarder, choices);
    discarding->rows = discarding->discards < capacity ? discarding->discards : capacity;
    if (discarding->rows > 0)
        first_choices(&discarder, choices, discarding->discards, discarding->rows);
    if (outlook_goes_on(&discarder.outlook))
        return NH_OK;
    if (cancel_asked(question->cancel))
        return cancel_error(error);
    return error_set(error, NH_ERROR_LIMIT, 0, "the discards of this hand take too much work");
}
