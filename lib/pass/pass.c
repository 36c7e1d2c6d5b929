/* The best pass: for every set of tiles that may be passed, how near the hand is on
 * average once as many unseen tiles have come in (expectation.h). */
#include "pass/pass.h"
#include "base/sort.h"
#include "base/status.h"

#include <string.h>

/* The question. */
struct passer {
    struct outlook outlook;
    const nh_tiles *hand;
    unsigned count; /* tiles of a pass */
    struct tile_alone *alone;
    struct bounded_pass *heap; /* room for every pass */
};

static void look_at_pass(const struct passer *passer, bool brief, nh_choice *choice) {
    struct expectation expectation;
    if (!outlook_goes_on(&passer->outlook))
        return;
    expect_after(&passer->outlook, passer->hand, &choice->pass, passer->count, brief, &expectation,
                 NULL);
    choice->away = (uint8_t)expectation.away;
    choice->nearest = expectation.nearest;
    choice->within_one = expectation.within_one;
    choice->expected = expectation.expected;
    choice->nearer = expectation.nearer;
}

/* --------------------------------------------------------------- passes --- */

static nh_tiles passable_of(const nh_list *list, const nh_tiles *hand) {
    nh_tiles passable = *hand;
    for (int kind = 0; kind < NH_KINDS; kind++)
        if (list->charleston.keep.count[kind] > 0)
            passable.count[kind] = 0;
    return passable;
}

/* Lists the passes of `count` tiles from `kind` on, in order: first those with
 * as many as can be of the first kind. */
static size_t list_passes(const nh_tiles *tiles, unsigned count, int kind, nh_choice *pass,
                          nh_choice *choices, size_t listed) {
    if (count == 0) {
        choices[listed] = *pass;
        return listed + 1;
    }
    for (; kind < NH_KINDS; kind++) {
        unsigned most = tiles->count[kind] < count ? tiles->count[kind] : count;
        for (unsigned here = most; here > 0; here--) {
            pass->pass.count[kind] = (uint8_t)here;
            listed = list_passes(tiles, count - here, kind + 1, pass, choices, listed);
        }
        pass->pass.count[kind] = 0;
    }
    return listed;
}

static int pass_compare(const nh_choice *a, const nh_choice *b) {
    if (a->expected != b->expected)
        return a->expected < b->expected ? -1 : 1;
    if (a->nearer != b->nearer)
        return a->nearer > b->nearer ? -1 : 1;
    if (a->within_one != b->within_one)
        return a->within_one > b->within_one ? -1 : 1;
    for (int kind = 0; kind < NH_KINDS; kind++)
        if (a->pass.count[kind] != b->pass.count[kind])
            return a->pass.count[kind] > b->pass.count[kind] ? -1 : 1;
    return 0;
}

static bool choice_before(const void *a, const void *b, const void *context) {
    (void)context;
    return pass_compare(a, b) < 0;
}

static void sort_choices(nh_choice *choices, size_t count) {
    sort_in_place(choices, count, sizeof *choices, choice_before, NULL);
}

/* --------------------------------------------------------- the first few --- */

/* Puts the choice in its place among the `count` best, of which there may be
 * `capacity`; how many there are then. */
static size_t insert_choice(nh_choice *best, size_t count, size_t capacity,
                            const nh_choice *choice) {
    if (count == capacity) {
        if (pass_compare(choice, &best[count - 1]) >= 0)
            return count;
        count--;
    }
    size_t place = count;
    for (; place > 0 && pass_compare(choice, &best[place - 1]) < 0; place--)
        best[place] = best[place - 1];
    best[place] = *choice;
    return count + 1;
}

/* The passes that are left are a heap: the one whose bound is the least comes first. */
static void sink_pass(struct bounded_pass *heap, size_t count, size_t at) {
    struct bounded_pass pass = heap[at];
    for (size_t below = 2 * at + 1; below < count; below = 2 * at + 1) {
        below += below + 1 < count && heap[below + 1].bound < heap[below].bound;
        if (heap[below].bound >= pass.bound)
            break;
        heap[at] = heap[below];
        at = below;
    }
    heap[at] = pass;
}

static void list_bounded(const struct passer *passer, const struct pass_bounds *bounds,
                         const nh_choice *all, size_t passes, struct bounded_pass *heap) {
    for (size_t i = 0; i < passes && outlook_goes_on(&passer->outlook); i++)
        heap[i] =
            (struct bounded_pass){bound_quickly(bounds, &all[i].pass), &all[i], 0, BOUND_QUICK};
    for (size_t i = passes / 2; i-- > 0 && outlook_goes_on(&passer->outlook);)
        sink_pass(heap, passes, i);
}

/* The next better bound, on what is known of the tiles by now, where a target is left. */
static void bound_again(struct bounded_pass *pass, const struct pass_bounds *bounds,
                        uint64_t worst) {
    const nh_tiles *tiles = &pass->choice->pass;
    pass->bounding++;
    pass->looks = bounds->looks;
    pass->bound = bound_better(bounds, tiles, bound_quickly(bounds, tiles), worst,
                               pass->bounding < BOUND_BEST);
}

/* Looks at a pass, and closely unless a brief look shows that it is above `worst`: then it is
 * ruled out. Where the pass leaves the hand as near as it was, the first look is close. */
static bool is_ruled_out(const struct passer *passer, nh_choice *choice, uint64_t worst) {
    if (worst < UINT64_MAX) {
        look_at_pass(passer, true, choice);
        if (choice->away <= passer->outlook.before || choice->expected > worst)
            return choice->expected > worst;
    }
    look_at_pass(passer, false, choice);
    return false;
}

/* Always looks at the pass whose bound is the least, until none that is left can be among
 * the best. Its bound is replaced by better ones first. */
static size_t find_first(const struct passer *passer, const nh_tiles *passable,
                         const nh_choice *all, size_t passes, nh_choice *best, size_t capacity) {
    struct pass_bounds bounds = {.outlook = &passer->outlook,
                                 .hand = passer->hand,
                                 .tiles = passer->count,
                                 .alone = passer->alone};
    struct bounded_pass *heap = passer->heap;
    size_t count = 0;
    bounds_set(&bounds, passable);
    list_bounded(passer, &bounds, all, passes, heap);
    while (passes > 0 && outlook_goes_on(&passer->outlook)) {
        uint64_t worst = count < capacity ? UINT64_MAX : best[count - 1].expected;
        if (heap->bound > worst)
            break;
        bool hopeless = heap->bound == UINT64_MAX; /* no bound is higher */
        if (!hopeless && heap->bounding < BOUND_BEST) {
            bound_again(heap, &bounds, worst);
        } else if (!hopeless && bounds_look_closely(&bounds, &heap->choice->pass, heap->looks)) {
            heap->bounding = BOUND_QUICK;
        } else {
            nh_choice choice = *heap->choice;
            if (!is_ruled_out(passer, &choice, worst))
                count = insert_choice(best, count, capacity, &choice);
            *heap = heap[--passes];
        }
        sink_pass(heap, passes, 0);
    }
    return count;
}

/* ------------------------------------------------------------------- all --- */

/* Where no target is live before the pass, none is after it. */
static size_t write_hopeless(const nh_choice *all, size_t passes, nh_choice *choices,
                             size_t capacity) {
    size_t rows = passes < capacity ? passes : capacity;
    for (size_t i = 0; i < rows; i++)
        choices[i] = (nh_choice){
            .pass = all[i].pass, .away = NH_AWAY_NONE, .expected = UINT64_MAX, .nearer = 0};
    return rows;
}

/* All passes, of which the best are written. */
static size_t find_all(const struct passer *passer, nh_choice *all, size_t passes,
                       nh_choice *choices, size_t capacity) {
    for (size_t i = 0; i < passes; i++)
        look_at_pass(passer, false, &all[i]);
    sort_choices(all, passes);
    size_t rows = passes < capacity ? passes : capacity;
    if (rows > 0 && outlook_goes_on(&passer->outlook))
        memcpy(choices, all, rows * sizeof *choices);
    return rows;
}

/* ----------------------------------------------------------------- call --- */

nh_status check_passing(const struct query *query, unsigned count, nh_error *error) {
    const nh_list *list = query->list;
    int total = nh_tiles_total(&query->hand);
    if (total == 0 || total > list->most)
        return error_set(error, NH_ERROR_TILES, 0, "a hand of this list has 1 to %d tiles, not %d",
                         list->most, total);
    nh_tiles passable = passable_of(list, &query->hand);
    if ((unsigned)nh_tiles_total(&passable) < count)
        return error_set(error, NH_ERROR_TILES, 0,
                         "only %d of the hand's tiles may be passed, not %u",
                         nh_tiles_total(&passable), count);
    int unseen = nh_tiles_total(&query->left) - total;
    if ((unsigned)unseen < count)
        return error_set(error, NH_ERROR_TILES, 0, "only %d tiles are unseen: %u cannot come in",
                         unseen, count);
    return NH_OK;
}

static void start(struct passer *passer, struct query *query, nh_passing *passing) {
    nh_tiles none = {{0}};
    struct expectation before;
    outlook_start(&passer->outlook, query);
    expect_after(&passer->outlook, passer->hand, &none, 0, false, &before, NULL);
    passer->outlook.before = before.away;
    *passing = (nh_passing){.away = (uint8_t)before.away};
    passing->unseen = (uint32_t)(nh_tiles_total(&query->left) - nh_tiles_total(&query->hand));
    passing->draws = draws_of(passing->unseen, passer->count);
}

nh_status find_passes(const struct pass_memory *memory, const nh_tiles *hand,
                      const nh_pass_question *question, nh_choice *choices, size_t capacity,
                      nh_passing *passing, nh_error *error) {
    const nh_list *list = memory->list;
    unsigned count = (unsigned)question->tiles;
    struct query query;
    nh_status status = query_set(&query, list, hand, question->situation, error);
    if (status == NH_OK)
        status = check_passing(&query, count, error);
    if (status != NH_OK)
        return status;
    struct passer passer = {.outlook = {.list = list,
                                        .rows = memory->rows,
                                        .scratch = &memory->scratch->expect,
                                        .situation = question->situation,
                                        .chosen = question->chosen,
                                        .cancel = question->cancel},
                            .hand = hand,
                            .count = count,
                            .alone = memory->scratch->alone,
                            .heap = memory->scratch->heap};
    start(&passer, &query, passing);
    nh_choice *all = memory->scratch->choices, pass = {.expected = 0};
    nh_tiles passable = passable_of(list, hand);
    passing->passes = list_passes(&passable, count, 0, &pass, all, 0);
    if (passing->away == NH_AWAY_NONE)
        passing->rows = write_hopeless(all, passing->passes, choices, capacity);
    else if (capacity > 0 && capacity < passing->passes && count >= 2)
        passing->rows = find_first(&passer, &passable, all, passing->passes, choices, capacity);
    else
        passing->rows = find_all(&passer, all, passing->passes, choices, capacity);
    if (outlook_goes_on(&passer.outlook))
        return NH_OK;
    passing->rows = 0;
    if (cancel_asked(question->cancel))
        return cancel_error(error);
    return error_set(error, NH_ERROR_LIMIT, 0, "the passes of this hand take too much work");
}
