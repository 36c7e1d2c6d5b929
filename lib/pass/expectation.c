/* The expectation of what is left of a hand. */
#include "pass/expectation.h"

bool expect_scratch_init(struct expect_scratch *scratch, const nh_list *list,
                         const nh_allocator *allocator) {
    bool good = remains_scratch_init(&scratch->remains, list, allocator);
    return gather_init(&scratch->gather, list, allocator) && good;
}

void expect_scratch_free(struct expect_scratch *scratch, const nh_allocator *allocator) {
    remains_scratch_free(&scratch->remains, allocator);
    gather_free(&scratch->gather);
}

/* ----------------------------------------------------------------- work --- */

/* Work is counted in steps of about 10 ns, so that a list made to take long is refused.
 * What is remembered from hand to hand does not count: whether an answer is given must
 * not depend on that. */
#define PASS_WORK_MAX 75000000u

/* For each product without jokers; for each split that is gathered; for each look at what remains,
 * where the list's rows may be remembered. */
#define STEPS_LOOK 1u
#define STEPS_SPLIT 4u
#define STEPS_REMAINS 4000u

static uint64_t remains_work(const nh_list *list) {
    return STEPS_REMAINS + list->product_count / 2 + list->share_count / 8;
}

bool outlook_goes_on(const struct outlook *outlook) {
    return outlook->scratch->work <= PASS_WORK_MAX && !cancel_asked(outlook->cancel);
}

void outlook_start(struct outlook *outlook, const struct query *query) {
    nh_tiles unseen = tiles_without(&query->left, &query->hand);
    outlook->scratch->work = 0;
    outlook->jokers_unseen = unseen.count[NH_JOKER];
    unseen_set(&outlook->scratch->unseen, unseen.count);
    gains_forget(&outlook->scratch->gather.gains);
    outlook->scratch->gather.gains.work = 0;
    fits_forget(&outlook->rows->shortage.fits);
    contenders_start(&outlook->scratch->remains.contenders, query, outlook->chosen, outlook->rows);
}

/* -------------------------------------------------------------- searches --- */

/* Calls `found` for the ways of near products, with so many jokers drawn. */
static void search_near(const struct outlook *outlook, const struct remains *remains,
                        unsigned drawn, struct split_search *search) {
    search->remains = remains;
    search->jokers = remains->query.jokers + drawn;
    for (size_t i = 0; i < remains->near_count && !search->stopped; i++) {
        if (remains->near[i].away > search->farthest + drawn)
            continue;
        search->steps = 0;
        find_splits(search, &remains->near[i]);
        outlook->scratch->work += search->steps;
        if (!outlook_goes_on(outlook))
            return;
    }
}

static bool stop_at_once(void *context, const struct split *split) {
    (void)context, (void)split;
    return false;
}

/* Whether the hand is at most `farthest` away with so many jokers drawn. */
static bool is_as_near(const struct outlook *outlook, const struct remains *remains, unsigned drawn,
                       unsigned farthest) {
    struct split_search search = {.farthest = farthest, .found = stop_at_once};
    search_near(outlook, remains, drawn, &search);
    return search.stopped;
}

struct gathering {
    const struct outlook *outlook;
    struct gather *gather;
};

static bool gather_found(void *context, const struct split *split) {
    const struct gathering *at = context;
    at->outlook->scratch->work += STEPS_SPLIT;
    gather_split(at->gather, split);
    return true;
}

/* The same where there are no jokers to share out: a product has one way. */
static void gather_near(const struct outlook *outlook, const struct remains *remains,
                        unsigned farthest) {
    for (size_t i = 0; i < remains->near_count && outlook_goes_on(outlook); i++) {
        const struct near_product *near = &remains->near[i];
        outlook->scratch->work += STEPS_LOOK;
        if (near->away > farthest)
            continue;
        outlook->scratch->work += STEPS_SPLIT;
        gather_plainly(&outlook->scratch->gather, remains->contenders[near->contender].family,
                       &remains->rows, near->away);
    }
}

/* ----------------------------------------------------------- expectation --- */

/* Counts the draws with `drawn` jokers, which alone leave the hand `nearest` away, by how much
 * nearer the other tiles bring it. If `first` is 1, all of them count as one nearer unless
 * the hand is complete, and only those that come two nearer or more are found. */
static void count_reach(const struct outlook *outlook, const struct remains *remains,
                        unsigned drawn, unsigned nearest, unsigned first, struct reach *reach,
                        struct reach_lists *lists) {
    struct gather *gather = &outlook->scratch->gather;
    struct gathering gathering = {outlook, gather};
    reach->nearest = nearest;
    reach->nearer[0] = nearest > 0 ? reach->draws : 0;
    if (reach->tiles <= first)
        return;
    struct split_search search = {.farthest = nearest + reach->tiles - 1 - first,
                                  .found = gather_found,
                                  .context = &gathering};
    gather_start(gather, &remains->query, nearest, reach->tiles, first);
    if (remains->query.jokers + drawn == 0 && !remains->query.short_of_jokers)
        gather_near(outlook, remains, search.farthest);
    else
        search_near(outlook, remains, drawn, &search);
    gather_end(gather);
    outlook->scratch->work += gather->gains.work;
    gather->gains.work = 0;
    struct draw_list *list = lists == NULL ? NULL : reach->tiles == 2 ? lists->two : lists->three;
    unsigned listed = reach->tiles < 2 || list == NULL ? 0 : LISTED_NEARER;
    for (unsigned i = first; i < reach->tiles; i++)
        reach->nearer[i] =
            i < listed
                ? draws_list(&gather->set[i], &outlook->scratch->unseen, reach->tiles, &list[i])
                : draws_count(&gather->set[i], &outlook->scratch->unseen, reach->tiles);
}

/* Adds up the distances after the draws, and those that are nearer than before. */
static void sum_reach(const struct outlook *outlook, const struct reach *reach,
                      struct expectation *expectation) {
    uint64_t sum = reach->nearest * reach->draws;
    uint64_t nearer = reach->nearest < outlook->before ? reach->draws : 0;
    for (unsigned i = 0; i < reach->tiles; i++) {
        sum -= reach->nearer[i];
        if (reach->nearest == outlook->before + i)
            nearer = reach->nearer[i];
    }
    expectation->expected += reach->times * sum;
    expectation->nearer += reach->times * nearer;
}

/* Looks at what is left of a hand. */
static void look_at_rest(const struct outlook *outlook, const nh_tiles *hand, const nh_tiles *gone,
                         unsigned reach, struct remains *remains) {
    nh_situation situation = *outlook->situation;
    nh_tiles left = tiles_without(hand, gone);
    situation.seen = tiles_with(&situation.seen, gone);
    remains_set(remains, &left, &situation, reach, outlook->rows, &outlook->scratch->remains);
}

unsigned away_after(const struct outlook *outlook, const nh_tiles *hand, const nh_tiles *gone) {
    struct remains remains;
    look_at_rest(outlook, hand, gone, 0, &remains);
    return remains.away;
}

void expect_after(const struct outlook *outlook, const nh_tiles *hand, const nh_tiles *gone,
                  unsigned coming, bool brief, struct expectation *expectation,
                  struct reach_lists *lists) {
    struct expect_scratch *scratch = outlook->scratch;
    struct remains remains;
    struct fits_memo *fits = &outlook->rows->shortage.fits;
    fits->work = 0;
    look_at_rest(outlook, hand, gone, coming > 1 ? coming - 1 : 0, &remains);
    *expectation = (struct expectation){.away = remains.away,
                                        .nearest = remains.nearest,
                                        .within_one = remains.within_one,
                                        .expected = UINT64_MAX,
                                        .brief = brief && remains.away > outlook->before};
    if (remains.away == NH_AWAY_NONE) {
        scratch->work += fits->work;
        return;
    }
    expectation->expected = 0;
    scratch->work += remains_work(outlook->list);
    scratch->work += fits->work;
    unsigned nearest = remains.away;
    for (unsigned drawn = 0; drawn <= coming && drawn <= outlook->jokers_unseen; drawn++) {
        struct reach *reach = &expectation->reach[drawn];
        reach->tiles = coming - drawn;
        reach->draws = draws_of(scratch->unseen.total, reach->tiles);
        reach->times = draws_of(outlook->jokers_unseen, drawn);
        if (drawn > 0 && nearest > 0 && is_as_near(outlook, &remains, drawn, nearest - 1))
            nearest--;
        if (reach->draws == 0)
            continue;
        count_reach(outlook, &remains, drawn, nearest, expectation->brief, reach, lists);
        sum_reach(outlook, reach, expectation);
        if (drawn == 0 && coming > 0)
            expectation->useful = scratch->gather.set[0].single;
    }
}
