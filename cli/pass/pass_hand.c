/* One hand after the other: read, its passes weighed, and the answer written.
 * Each thread has a passer of its own. */
#include "hands/hand_line.h"
#include "io/unread.h"
#include "pass/charleston.h"
#include "pass/pass_task.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

struct passer {
    const struct pass_question *question;
    nh_workspace *workspace;
    nh_choice *found;            /* of one number of tiles */
    struct pass_choice *choices; /* of all */
    size_t capacity;             /* choices of each number of tiles */
    uint8_t *away, *before;
    nh_ranked rows[PASS_NEAREST];
};

struct passer *passer_new(const struct pass_question *question) {
    struct passer *passer = calloc(1, sizeof *passer);
    if (passer == NULL)
        return NULL;
    size_t size = nh_list_size(question->list);
    passer->question = question;
    passer->capacity = question->top == 0 ? 1 : question->top;
    if (question->has_mine || passer->capacity > NH_PASSES_MAX)
        passer->capacity = NH_PASSES_MAX;
    passer->found = malloc(passer->capacity * sizeof *passer->found);
    passer->choices = malloc(PASS_COUNTS * passer->capacity * sizeof *passer->choices);
    passer->away = malloc(size);
    passer->before = malloc(size);
    if (passer->found != NULL && passer->choices != NULL && passer->away != NULL &&
        passer->before != NULL &&
        nh_workspace_new(question->list, NULL, &passer->workspace) == NH_OK)
        return passer;
    passer_free(passer);
    return NULL;
}

void passer_free(struct passer *passer) {
    nh_workspace_free(passer->workspace);
    free(passer->found);
    free(passer->choices);
    free(passer->away);
    free(passer->before);
    free(passer);
}

/* ------------------------------------------------------------- figures --- */

bool pass_is_dead(const struct pass_choice *choice) {
    return choice->choice.expected == UINT64_MAX;
}

/* Exact: a part is at most NH_TARGET_MAX times its whole, and that is less than
 * 2^20, three tiles out of 160. */
static int compare_fractions(uint64_t part_a, uint64_t whole_a, uint64_t part_b, uint64_t whole_b) {
    uint64_t a = part_a * whole_b;
    uint64_t b = part_b * whole_a;
    return (a > b) - (a < b);
}

static int compare_expected(const struct pass_choice *a, const struct pass_choice *b) {
    if (pass_is_dead(a) || pass_is_dead(b))
        return pass_is_dead(a) - pass_is_dead(b);
    return compare_fractions(a->choice.expected, a->draws, b->choice.expected, b->draws);
}

/* The order of nh_pass across numbers of tiles; of passes alike the smaller
 * comes first. */
static int compare_choices(const void *left, const void *right) {
    const struct pass_choice *a = left;
    const struct pass_choice *b = right;
    int order = compare_expected(a, b);
    if (order == 0)
        order = compare_fractions(b->choice.nearer, b->draws, a->choice.nearer, a->draws);
    if (order == 0)
        order = (b->choice.within_one > a->choice.within_one) -
                (b->choice.within_one < a->choice.within_one);
    if (order == 0)
        order = nh_tiles_total(&a->choice.pass) - nh_tiles_total(&b->choice.pass);
    for (int kind = 0; order == 0 && kind < NH_KINDS; kind++)
        order = b->choice.pass.count[kind] - a->choice.pass.count[kind];
    return order;
}

struct fraction pass_cost(const struct pass_choice *choice, const struct pass_choice *best) {
    if (choice->draws == best->draws)
        return (struct fraction){choice->choice.expected - best->choice.expected, best->draws};
    return (struct fraction){choice->choice.expected * best->draws -
                                 best->choice.expected * choice->draws,
                             choice->draws * best->draws};
}

struct estimate pass_estimate(const nh_ahead *ahead) {
    double courses = (double)ahead->courses;
    double away = (double)ahead->sum / courses;
    double spread = (double)ahead->squares / courses - away * away;
    bool none = ahead->courses < 2 || spread < 0;
    return (struct estimate){away, none ? 0 : sqrt(spread / (courses - 1))};
}

/* ------------------------------------------------------- what is kept --- */

static bool is_chosen(const struct pass_question *question, size_t pattern) {
    return question->chosen == NULL || question->chosen[pattern] != 0;
}

bool pass_is_nearest(const struct pass_answer *answer, const struct pass_kept *kept, size_t index) {
    return is_chosen(answer->question, index) && kept->nearest != NH_AWAY_NONE &&
           kept->away[index] == kept->nearest;
}

struct pass_kept passer_kept(const struct pass_answer *answer, const struct pass_choice *choice) {
    struct passer *passer = answer->passer;
    const struct pass_question *question = answer->question;
    struct pass_kept kept = {passer->away, passer->before, NH_AWAY_NONE, 0, 0};
    nh_tiles hand = answer->hand;
    nh_situation after = answer->situation;
    nh_distances(passer->workspace, &hand, &after, passer->before, NULL);
    tiles_take(&hand, &choice->choice.pass);
    tiles_add(&after.seen, &choice->choice.pass);
    nh_distances(passer->workspace, &hand, &after, passer->away, NULL);
    size_t size = nh_list_size(question->list);
    for (size_t i = 0; i < size; i++)
        if (is_chosen(question, i) && kept.away[i] < kept.nearest)
            kept.nearest = kept.away[i];
    for (size_t i = 0; i < size; i++) {
        bool nearest = pass_is_nearest(answer, &kept, i);
        kept.count += nearest;
        kept.whole += nearest && kept.before[i] == kept.away[i];
    }
    return kept;
}

size_t passer_targets(const struct pass_answer *answer, const struct pass_choice *choice,
                      const nh_ranked **rows, nh_ranking *ranking) {
    struct passer *passer = answer->passer;
    const struct pass_question *question = answer->question;
    nh_tiles hand = answer->hand;
    nh_situation after = answer->situation;
    tiles_take(&hand, &choice->choice.pass);
    tiles_add(&after.seen, &choice->choice.pass);
    *rows = passer->rows;
    nh_rank_question asked = NH_RANK_QUESTION;
    asked.situation = &after;
    asked.chosen = question->chosen;
    if (nh_rank(passer->workspace, &hand, &asked, passer->rows, PASS_NEAREST, ranking, NULL) !=
        NH_OK)
        return 0;
    size_t count = 0;
    while (count < ranking->rows && passer->rows[count].away == ranking->nearest)
        count++;
    return count;
}

/* ------------------------------------------------------ what is wrong --- */

static bool refuse(const struct passer *passer, const struct line *line, const nh_error *error) {
    if (passer->question->json)
        unread_json(line, error);
    else
        unread_text(line, error, passer->question->batch);
    return false;
}

static bool wrong(nh_error *error, const char *format, const char *notation) {
    *error = (nh_error){NH_ERROR_TILES, 0, ""};
    snprintf(error->text, sizeof error->text, format, notation);
    return false;
}

/* A tile that went may have come back. It must have where the set has no other of
 * its kind that could have come in: then it is gone no more. */
static bool find_back(const struct pass_question *question, struct pass_answer *answer,
                      nh_error *error) {
    const nh_tiles *set = nh_list_set(question->list);
    uint8_t *seen = answer->situation.seen.count;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        int excess = answer->hand.count[kind] + seen[kind] - set->count[kind];
        if (excess <= 0 || question->given.count[kind] == 0)
            continue;
        if (excess > question->given.count[kind] || excess > question->got.count[kind])
            return wrong(error,
                         "more %s are in the hand and gone than there are: those that were given "
                         "and came back must be among --got",
                         nh_kind_notation(kind));
        seen[kind] = (uint8_t)(seen[kind] - excess);
    }
    return true;
}

static bool check_mine(const struct pass_question *question, const nh_tiles *hand,
                       nh_error *error) {
    const nh_tiles *keep = &nh_list_charleston(question->list)->keep;
    for (int kind = 0; question->has_mine && kind < NH_KINDS; kind++) {
        uint8_t count = question->mine.count[kind];
        if (count > 0 && keep->count[kind] > 0)
            return wrong(error, "--mine: %s may not be passed", nh_kind_notation(kind));
        if (count > hand->count[kind])
            return wrong(error,
                         hand->count[kind] == 0 ? "--mine: the hand has no %s"
                                                : "--mine: the hand does not have so many %s",
                         nh_kind_notation(kind));
    }
    return true;
}

/* A tile that came in is still there, or was passed on. */
static bool check_got(const struct pass_question *question, const nh_tiles *hand, nh_error *error) {
    for (int kind = 0; question->has_got && kind < NH_KINDS; kind++)
        if (question->got.count[kind] > hand->count[kind] + question->given.count[kind])
            return wrong(error,
                         "--got: %s came in, but is neither in the hand nor among the tiles given",
                         nh_kind_notation(kind));
    return true;
}

/* ----------------------------------------------------------- answering --- */

/* Adds the passes of one number of tiles. */
static nh_status weigh_count(struct passer *passer, struct pass_answer *answer, unsigned count,
                             nh_error *error) {
    const struct pass_question *question = passer->question;
    nh_passing passing;
    nh_pass_question asked = NH_PASS_QUESTION;
    asked.situation = &answer->situation;
    asked.chosen = question->chosen;
    asked.tiles = (int)count;
    nh_status status = nh_pass(passer->workspace, &answer->hand, &asked, passer->found,
                               passer->capacity, &passing, error);
    if (status != NH_OK)
        return status;
    for (size_t i = 0; i < passing.rows; i++)
        passer->choices[answer->count++] =
            (struct pass_choice){passer->found[i], passing.draws, {0, 0, 0}};
    answer->passes += passing.passes;
    answer->away = passing.away;
    answer->counts++;
    return NH_OK;
}

/* Of several numbers of tiles, those count that the hand can pass. */
static nh_status weigh(struct passer *passer, struct pass_answer *answer, nh_error *error) {
    const struct pass_question *question = passer->question;
    for (unsigned count = question->least; count <= question->most; count++) {
        nh_status status = weigh_count(passer, answer, count, error);
        if (status != NH_OK && (count == question->least || status != NH_ERROR_TILES))
            return status;
        if (status != NH_OK)
            break;
    }
    if (question->most > question->least)
        qsort(passer->choices, answer->count, sizeof *passer->choices, compare_choices);
    return NH_OK;
}

static bool same_tiles(const nh_tiles *a, const nh_tiles *b) {
    bool same = true;
    for (int kind = 0; kind < NH_KINDS; kind++)
        same = same && a->count[kind] == b->count[kind];
    return same;
}

static void find_places(struct pass_answer *answer) {
    const struct pass_question *question = answer->question;
    for (size_t i = answer->count; i-- > 0;) {
        const struct pass_choice *choice = &answer->choices[i];
        answer->first_of[nh_tiles_total(&choice->choice.pass)] = i;
        if (question->has_mine && same_tiles(&choice->choice.pass, &question->mine))
            answer->mine = choice;
    }
    if (answer->mine == NULL)
        return;
    answer->place = 1;
    while (compare_expected(&answer->choices[answer->place - 1], answer->mine) != 0)
        answer->place++;
}

/* The same luck for all, so that they can be compared; and for every hand, so
 * that its answer does not hang on the others. */
#define AHEAD_SEED 1

static bool look_ahead(struct passer *passer, const struct pass_answer *answer, nh_error *error) {
    const struct pass_question *question = passer->question;
    for (size_t i = 0; i < answer->shown && question->ahead > 0; i++) {
        struct pass_choice *choice = &passer->choices[i];
        nh_ahead_question asked = NH_AHEAD_QUESTION;
        asked.situation = &answer->situation;
        asked.chosen = question->chosen;
        asked.pass = choice->choice.pass;
        asked.further = question->further;
        asked.seed = AHEAD_SEED;
        asked.courses = (uint64_t)question->ahead;
        if (nh_pass_ahead(passer->workspace, &answer->hand, &asked, &choice->ahead, error) != NH_OK)
            return false;
    }
    return true;
}

bool passer_answer(struct passer *passer, const struct line *line) {
    const struct pass_question *question = passer->question;
    struct pass_answer answer = {
        .question = question, .line = line, .choices = passer->choices, .passer = passer};
    answer.situation = question->situation;
    nh_error error = {NH_OK, 0, ""};
    if (!hand_read(question->list, line, &answer.hand, &error) ||
        !check_got(question, &answer.hand, &error))
        return refuse(passer, line, &error);
    if (!find_back(question, &answer, &error)) {
        error.column = hand_excess(question->list, line, &answer.situation.seen);
        return refuse(passer, line, &error);
    }
    if (weigh(passer, &answer, &error) != NH_OK) {
        if (error.column == 0)
            error.column = hand_excess(question->list, line, &answer.situation.seen);
        return refuse(passer, line, &error);
    }
    if (!check_mine(question, &answer.hand, &error))
        return refuse(passer, line, &error);
    find_places(&answer);
    answer.shown = answer.count < question->top ? answer.count : question->top;
    if (!look_ahead(passer, &answer, &error))
        return refuse(passer, line, &error);
    if (question->json)
        pass_json(&answer);
    else
        pass_text(&answer);
    return true;
}
