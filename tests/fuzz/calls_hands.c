/* Questions about a hand, whose answers must agree with one another. See calls.h. */
#include "calls.h"

#include <string.h>

#define MAY_ANSWER (MAY_REFUSE | MAY(NH_ERROR_CANCELLED))
#define MAY_END (MAY_ANSWER | MAY(NH_ERROR_LIMIT))

/* A hand, and what is known beside it. */
struct asked {
    struct world *world;
    const nh_list *list;
    nh_workspace *workspace;
    nh_tiles hand;
    nh_situation situation;
    const nh_situation *known; /* NULL, or the situation */
    const nh_cancel *cancel;
    uint8_t *chosen; /* NULL for all */
    int nearest;     /* of all patterns; NOTHING while it is not known */
};

/* What every answer says of the nearest pattern must be the same. */
static void nearest_is(struct asked *asked, int nearest) {
    MUST(asked->nearest == NOTHING || asked->nearest == nearest);
    asked->nearest = nearest;
}

static void distances(struct asked *asked) {
    size_t patterns = nh_list_size(asked->list);
    uint8_t *away = room_for(patterns, 1);
    int least = NH_AWAY_NONE;
    nh_status status =
        nh_distances(asked->workspace, &asked->hand, asked->known, away, error_of(asked->world));
    returned(asked->world, status, MAY_REFUSE);
    for (size_t i = 0; status == NH_OK && i < patterns; i++)
        least = away[i] < least ? away[i] : least;
    if (status == NH_OK)
        nearest_is(asked, least);
    free(away);
}

/* ------------------------------------------------------------- ranking --- */

static void row_holds(const struct asked *asked, const nh_ranked *row) {
    MUST(row->pattern < nh_list_size(asked->list));
    MUST(row->away == nh_tiles_total(&row->need) && row->away < NH_AWAY_NONE);
    MUST(row->chance >= 0 && row->chance <= 1);
    nh_tiles all = row->keep;
    MUST(nh_tiles_add(&all, &row->spare) && nh_tiles_equal(&all, &asked->hand));
    MUST(asked->chosen == NULL || asked->chosen[row->pattern] != 0);
}

static void rank(struct asked *asked) {
    struct world *world = asked->world;
    nh_rank_question question = NH_RANK_QUESTION;
    nh_ranking ranking;
    size_t capacity = (size_t)decide(world->decisions, 6);
    question.row_size = any_size(world, sizeof(nh_ranked));
    question.situation = asked->known;
    question.cancel = asked->cancel;
    question.chosen = asked->chosen;
    question.order = (nh_order)any_int(world, NH_ORDER_AWAY, NH_ORDER_WORTH);
    question.draws = any_int(world, 0, NH_DRAWS_MAX);
    if (one_in(world, 16))
        question.size = (size_t)decide(world->decisions, (int)sizeof question + 1);
    nh_ranked *rows = room_for(capacity, question.row_size);
    nh_status status = nh_rank(asked->workspace, &asked->hand, &question, rows, capacity, &ranking,
                               error_of(world));
    returned(world, status, MAY_ANSWER);
    if (status == NH_OK) {
        MUST(ranking.rows == (ranking.live < capacity ? ranking.live : capacity));
        MUST((ranking.nearest == NH_AWAY_NONE) == (ranking.live == 0));
        if (asked->chosen == NULL)
            nearest_is(asked, ranking.nearest);
        if (question.row_size == sizeof *rows)
            for (size_t i = 0; i < ranking.rows; i++)
                row_holds(asked, &rows[i]);
    } else if (status != NH_ERROR_ARGUMENT) {
        MUST(ranking.rows == 0 && ranking.nearest == NH_AWAY_NONE);
    }
    free(rows);
}

/* ------------------------------------------------------------- passing --- */

static void pass(struct asked *asked) {
    struct world *world = asked->world;
    nh_pass_question question = NH_PASS_QUESTION;
    nh_passing passing;
    size_t capacity = (size_t)decide(world->decisions, 6);
    question.choice_size = any_size(world, sizeof(nh_choice));
    question.situation = asked->known;
    question.cancel = asked->cancel;
    question.chosen = asked->chosen;
    question.tiles = any_int(world, NH_PASS_AS_LIST, NH_PASS_MAX);
    nh_choice *choices = room_for(capacity, question.choice_size);
    nh_status status = nh_pass(asked->workspace, &asked->hand, &question, choices, capacity,
                               &passing, error_of(world));
    returned(world, status, MAY_END);
    if (status == NH_OK) {
        MUST(passing.rows <= capacity && passing.rows <= passing.passes);
        MUST(passing.passes <= NH_PASSES_MAX);
        if (asked->chosen == NULL)
            nearest_is(asked, passing.away);
    }
    for (size_t i = 0;
         status == NH_OK && question.choice_size == sizeof *choices && i < passing.rows; i++) {
        nh_tiles left = asked->hand;
        MUST(nh_tiles_take(&left, &choices[i].pass));
        MUST(choices[i].away >= passing.away && choices[i].nearer <= passing.draws);
        MUST(i == 0 || choices[i - 1].expected <= choices[i].expected);
    }
    free(choices);
}

static void look_ahead(struct asked *asked) {
    struct world *world = asked->world;
    nh_ahead_question question = NH_AHEAD_QUESTION;
    nh_ahead ahead;
    question.situation = asked->known;
    question.cancel = asked->cancel;
    question.chosen = asked->chosen;
    question.pass = any_tiles(world, &asked->hand, NH_PASS_MAX);
    question.further = (unsigned)any_int(world, 0, 2);
    question.seed = (uint64_t)any_int(world, 0, 9);
    question.courses = (uint64_t)decide(world->decisions, 4);
    nh_status status =
        nh_pass_ahead(asked->workspace, &asked->hand, &question, &ahead, error_of(world));
    returned(world, status, MAY_END);
    MUST(status != NH_OK || ahead.courses <= question.courses);
    MUST(status != NH_OK || ahead.sum <= ahead.courses * NH_TARGET_MAX);
}

/* ------------------------------------------------------------ discards --- */

static void discard(struct asked *asked) {
    struct world *world = asked->world;
    nh_discard_question question = NH_DISCARD_QUESTION;
    nh_discarding discarding;
    size_t capacity = (size_t)decide(world->decisions, 6);
    question.choice_size = any_size(world, sizeof(nh_discard_choice));
    question.situation = asked->known;
    question.cancel = asked->cancel;
    question.chosen = asked->chosen;
    question.look = any_int(world, 1, NH_LOOK_MAX);
    question.order = (nh_discard_order)any_int(world, NH_DISCARD_AWAY, NH_DISCARD_WORTH);
    nh_discard_choice *choices = room_for(capacity, question.choice_size);
    nh_status status = nh_discard(asked->workspace, &asked->hand, &question, choices, capacity,
                                  &discarding, error_of(world));
    returned(world, status, MAY_END);
    if (status == NH_OK) {
        MUST(discarding.rows <= capacity && discarding.rows <= discarding.discards);
        if (asked->chosen == NULL)
            nearest_is(asked, discarding.away);
    }
    for (size_t i = 0;
         status == NH_OK && question.choice_size == sizeof *choices && i < discarding.rows; i++) {
        MUST(choices[i].kind < NH_JOKER && asked->hand.count[choices[i].kind] > 0);
        MUST(choices[i].away >= discarding.away);
        MUST(choices[i].chance >= 0 && choices[i].chance <= 1);
    }
    free(choices);
}

/* ------------------------------------------- complete hands and claims --- */

static bool count_layouts(const nh_layout *layout, void *context) {
    int *left = context;
    MUST(layout->pieces <= NH_TARGET_MAX && layout->groups <= layout->pieces);
    return --*left > 0;
}

/* The target of a completed pattern has a layout; any tiles of another may have one. */
static void lay_out(struct asked *asked, const nh_completed *row) {
    nh_layout_question question = NH_LAYOUT_QUESTION;
    nh_layout layout;
    int left = 2;
    question.prevailing = (nh_wind)row->prevailing;
    question.seat = (nh_wind)row->seat;
    question.joked = &row->joked;
    nh_status status = nh_layout_first(asked->list, row->pattern, &row->target, &question, &layout,
                                       error_of(asked->world));
    returned(asked->world, status, MAY(NH_OK) | MAY(NH_ERROR_LIMIT));
    size_t pattern = (size_t)any_int(asked->world, 0, 3);
    question.prevailing = (nh_wind)any_int(asked->world, 0, NH_WIND_NORTH);
    status = nh_layouts_each(asked->list, pattern, &asked->hand, &question, count_layouts, &left,
                             error_of(asked->world));
    returned(asked->world, status, MAY_REFUSE | MAY(NH_ERROR_LIMIT));
}

static void check(struct asked *asked) {
    struct world *world = asked->world;
    nh_check_question question = NH_CHECK_QUESTION;
    nh_checking checking;
    size_t capacity = (size_t)decide(world->decisions, 4);
    question.row_size = any_size(world, sizeof(nh_completed));
    question.situation = asked->known;
    question.cancel = asked->cancel;
    nh_completed *rows = room_for(capacity, question.row_size);
    nh_status status = nh_check(asked->workspace, &asked->hand, &question, rows, capacity,
                                &checking, error_of(world));
    returned(world, status, MAY_END);
    if (status == NH_OK) {
        nearest_is(asked, checking.nearest);
        MUST(checking.rows == (checking.completed < capacity ? checking.completed : capacity));
        MUST(checking.completed == 0 || checking.nearest == 0);
    }
    if (status == NH_OK && checking.rows > 0 && question.row_size == sizeof *rows)
        lay_out(asked, &rows[0]);
    free(rows);
}

static void claim(struct asked *asked) {
    struct world *world = asked->world;
    nh_claim_question question = NH_CLAIM_QUESTION;
    nh_claiming claiming;
    size_t capacity = (size_t)decide(world->decisions, 6);
    question.claim_size = any_size(world, sizeof(nh_claim));
    question.situation = asked->known;
    question.cancel = asked->cancel;
    question.draws = any_int(world, 0, NH_DRAWS_MAX);
    nh_claim *claims = room_for(capacity, question.claim_size);
    nh_status status = nh_claims(asked->workspace, &asked->hand, &question, claims, capacity,
                                 &claiming, error_of(world));
    returned(world, status, MAY_END | MAY(NH_ERROR_MEMORY));
    if (status == NH_OK) {
        nearest_is(asked, claiming.away);
        MUST(claiming.rows == (claiming.claims < capacity ? claiming.claims : capacity));
        MUST(claiming.claims <= NH_CLAIMS_MAX);
    }
    for (size_t i = 0;
         status == NH_OK && question.claim_size == sizeof *claims && i < claiming.rows; i++) {
        MUST(claims[i].kind < NH_JOKER && claims[i].copies > 0);
        MUST(claims[i].use == NH_CLAIM_WIN || claims[i].away < claiming.away);
        MUST(claims[i].chance >= 0 && claims[i].chance <= 1);
    }
    free(claims);
}

static void exchange(struct asked *asked) {
    struct world *world = asked->world;
    nh_exchange_question question = NH_EXCHANGE_QUESTION;
    nh_exchange exchanges[4];
    nh_set sets[4];
    size_t count = 99, capacity = (size_t)decide(world->decisions, 5);
    question.situation = asked->known;
    question.set_count = (size_t)decide(world->decisions, 5);
    for (size_t i = 0; i < question.set_count; i++)
        sets[i] = any_set(world);
    question.sets = sets;
    nh_status status = nh_exchanges(asked->workspace, &asked->hand, &question, exchanges, capacity,
                                    &count, error_of(world));
    returned(world, status, MAY_REFUSE);
    for (size_t i = 0; status == NH_OK && i < count && i < capacity; i++)
        MUST(exchanges[i].kind < NH_JOKER && asked->hand.count[exchanges[i].kind] > 0);
}

/* ------------------------------------------------------------ one hand --- */

typedef void question(struct asked *asked);

void call_hands(struct world *world) {
    static question *const questions[] = {distances, rank,  pass,  look_ahead,
                                          discard,   check, claim, exchange};
    int place = pick_workspace(world);
    if (place == NOTHING)
        return;
    struct asked asked = {
        .world = world, .workspace = world->workspaces[place], .nearest = NOTHING};
    asked.list = nh_workspace_list(asked.workspace);
    const nh_tiles *set = nh_list_set(asked.list);
    asked.hand = any_tiles(world, set, nh_list_hand_size(asked.list) - one_in(world, 2));
    asked.situation = any_situation(world, set, &asked.hand);
    asked.known = one_in(world, 2) ? &asked.situation : NULL;
    asked.cancel = one_in(world, 4) ? world->cancel : NULL;
    if (one_in(world, 4)) {
        asked.chosen = room_for(nh_list_size(asked.list), 1);
        for (size_t i = 0; i < nh_list_size(asked.list); i++)
            asked.chosen[i] = (uint8_t)decide(world->decisions, 3);
    }
    int count = 1 + decide(world->decisions, 4);
    for (int i = 0; i < count; i++)
        questions[decide(world->decisions, 8)](&asked);
    free(asked.chosen);
}
