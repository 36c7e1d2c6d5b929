/* One hand after another: read, its passes weighed, and the answer written.
 * Each thread has a passer of its own. */
#include "hands/hand_line.h"
#include "io/unread.h"
#include "pass/pass_task.h"
#include "patterns/row_layouts.h"

#include <stdlib.h>

struct passer {
    const struct pass_question *question;
    nh_workspace *workspace;
    nh_choice *found;            /* of one number of tiles */
    struct pass_choice *choices; /* of all */
    size_t capacity;             /* choices of each number of tiles */
    uint8_t *away, *before;      /* of every pattern */
    uint32_t *kept;
    size_t kept_count, kept_capacity;
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
    free(passer->kept);
    free(passer);
}

/* --------------------------------------------------------------- passes --- */

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
            (struct pass_choice){.choice = passer->found[i], .draws = passing.draws};
    answer->passes += passing.passes;
    answer->away = passing.away;
    answer->counts++;
    return NH_OK;
}

/* The best pass of one number of tiles. */
static nh_status weigh_best(struct passer *passer, const struct pass_answer *answer, int count,
                            struct pass_choice *best, nh_error *error) {
    nh_passing passing;
    nh_pass_question asked = NH_PASS_QUESTION;
    *best = (struct pass_choice){.draws = 1};
    asked.situation = &answer->situation;
    asked.chosen = passer->question->chosen;
    asked.tiles = count;
    nh_status status =
        nh_pass(passer->workspace, &answer->hand, &asked, &best->choice, 1, &passing, error);
    if (status == NH_OK)
        best->draws = passing.draws;
    return status;
}

/* Of several numbers of tiles, those count that the hand can pass. */
static nh_status weigh_passes(struct passer *passer, struct pass_answer *answer, nh_error *error) {
    const struct pass_question *question = passer->question;
    for (unsigned count = question->least; count <= question->most; count++) {
        nh_status status = weigh_count(passer, answer, count, error);
        if (status != NH_OK && (count == question->least || status != NH_ERROR_TILES))
            return status;
        if (status != NH_OK)
            break;
    }
    if (question->most > question->least)
        qsort(passer->choices, answer->count, sizeof *passer->choices, pass_compare_choices);
    return NH_OK;
}

/* What the courtesy still gives to those who stop: with the player across who wants up
 * to so many tiles, the best number of them. */
static nh_status weigh_stopping(struct passer *passer, struct pass_answer *answer,
                                nh_error *error) {
    const nh_charleston *charleston = nh_list_charleston(passer->question->list);
    nh_tiles passable = nh_charleston_passable(charleston, &answer->hand);
    int most = nh_tiles_total(&passable);
    most = most < charleston->courtesy ? most : charleston->courtesy;
    most = most < NH_PASS_MAX ? most : NH_PASS_MAX;
    for (int count = 0; count <= most; count++) {
        struct pass_choice choice;
        nh_status status = weigh_best(passer, answer, count, &choice, error);
        if (status != NH_OK)
            return status;
        bool better =
            count == 0 || pass_compare_expected(&choice, &answer->stopping[count - 1]) < 0;
        answer->stopping[answer->stops++] = better ? choice : answer->stopping[count - 1];
    }
    return NH_OK;
}

static void find_places(struct pass_answer *answer) {
    const struct pass_question *question = answer->question;
    for (size_t i = answer->count; i-- > 0;) {
        const struct pass_choice *choice = &answer->choices[i];
        answer->first_of[nh_tiles_total(&choice->choice.pass)] = i;
        if (question->has_mine && nh_tiles_equal(&choice->choice.pass, &question->mine)) {
            answer->mine = choice;
            answer->mine_at = i;
        }
    }
    if (answer->mine == NULL)
        return;
    answer->place = 1;
    while (pass_compare_expected(&answer->choices[answer->place - 1], answer->mine) != 0)
        answer->place++;
}

/* The same luck for all, so that they can be compared; and for every hand, so
 * that its answer does not depend on the others. */
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

/* -------------------------------------------------------- what is kept --- */

/* The hand after a pass, and what is known then. */
struct after_pass {
    nh_tiles hand;
    nh_situation situation;
};

static struct after_pass after_pass(const struct pass_answer *answer, const nh_tiles *pass) {
    struct after_pass after = {answer->hand, answer->situation};
    nh_tiles_take(&after.hand, pass);
    nh_tiles_add(&after.situation.seen, pass);
    return after;
}

static bool pass_chooses(const struct pass_question *question, size_t pattern) {
    return question->chosen == NULL || question->chosen[pattern] != 0;
}

static bool reserve_kept(struct passer *passer, size_t more) {
    size_t needed = passer->kept_count + more;
    if (needed <= passer->kept_capacity)
        return true;
    uint32_t *kept = realloc(passer->kept, 2 * needed * sizeof *kept);
    if (kept == NULL)
        return false;
    passer->kept = kept;
    passer->kept_capacity = 2 * needed;
    return true;
}

/* Which patterns are nearest after a pass. */
static nh_status find_pass_keeps(struct passer *passer, const struct pass_answer *answer,
                                 size_t index, nh_error *error) {
    struct pass_choice *choice = &passer->choices[index];
    struct after_pass after = after_pass(answer, &choice->choice.pass);
    size_t size = nh_list_size(passer->question->list);
    choice->keeps = passer->kept_count;
    choice->keep_count = 0;
    if (choice->choice.away == NH_AWAY_NONE)
        return NH_OK;
    nh_status status =
        nh_distances(passer->workspace, &after.hand, &after.situation, passer->away, error);
    if (status == NH_OK && !reserve_kept(passer, choice->choice.nearest))
        status = NH_ERROR_MEMORY;
    for (size_t i = 0; status == NH_OK && i < size; i++)
        if (pass_chooses(passer->question, i) && passer->away[i] == choice->choice.away) {
            passer->kept[passer->kept_count++] = (uint32_t)i;
            choice->keep_count++;
        }
    return status;
}

/* JSON has the patterns of every choice, text those of the best and the player's. */
static bool is_listed(const struct pass_answer *answer, size_t index) {
    const struct pass_question *question = answer->question;
    if (index == 0 || (answer->mine != NULL && index == answer->mine_at))
        return true;
    bool told = question->json && index < answer->shown;
    for (unsigned i = 0; question->json && i < answer->counts && answer->counts > 1; i++)
        told = told || answer->first_of[question->least + i] == index;
    return told;
}

static nh_status find_targets(struct passer *passer, struct pass_answer *answer, nh_error *error) {
    const struct pass_choice *best = &answer->choices[0];
    struct after_pass after = after_pass(answer, &best->choice.pass);
    nh_rank_question asked = NH_RANK_QUESTION;
    nh_ranking ranking;
    asked.situation = &after.situation;
    asked.chosen = passer->question->chosen;
    nh_status status = nh_rank(passer->workspace, &after.hand, &asked, answer->targets,
                               PASS_NEAREST, &ranking, error);
    while (status == NH_OK && answer->target_count < ranking.rows &&
           answer->targets[answer->target_count].away == ranking.nearest)
        answer->target_count++;
    lay_out_rows(passer->question->list, answer->targets, answer->target_count, answer->layouts);
    return status;
}

static nh_status find_nearest(struct passer *passer, struct pass_answer *answer, nh_error *error) {
    const struct pass_choice *best = &answer->choices[0];
    nh_status status =
        nh_distances(passer->workspace, &answer->hand, &answer->situation, passer->before, error);
    passer->kept_count = 0;
    for (size_t i = 0; status == NH_OK && i < answer->count; i++)
        if (is_listed(answer, i))
            status = find_pass_keeps(passer, answer, i, error);
    answer->kept = passer->kept;
    answer->before = passer->before;
    for (size_t i = 0; status == NH_OK && i < best->keep_count; i++)
        answer->whole += answer->before[answer->kept[best->keeps + i]] == best->choice.away;
    return status == NH_OK && !passer->question->json ? find_targets(passer, answer, error)
                                                      : status;
}

/* ----------------------------------------------------------- answering --- */

static bool refuse(const struct passer *passer, const struct line *line, const nh_error *error) {
    if (passer->question->json)
        unread_json(line, error);
    else
        unread_text(line, error, passer->question->batch);
    return false;
}

/* All of the answer, or what is wrong with the hand. */
static bool find_answer(struct passer *passer, struct pass_answer *answer, nh_error *error) {
    const struct pass_question *question = passer->question;
    if (weigh_passes(passer, answer, error) != NH_OK ||
        !pass_check_mine(question, &answer->hand, error))
        return false;
    if (walk_at_agreement(&question->walk) && weigh_stopping(passer, answer, error) != NH_OK)
        return false;
    find_places(answer);
    answer->shown = answer->count < question->top ? answer->count : question->top;
    return look_ahead(passer, answer, error) && find_nearest(passer, answer, error) == NH_OK;
}

bool passer_answer(struct passer *passer, const struct line *line) {
    const struct pass_question *question = passer->question;
    struct pass_answer answer = {.question = question, .line = line, .choices = passer->choices};
    nh_error error = {NH_OK, 0, ""};
    answer.situation = question->situation;
    if (!hand_read(question->list, line, &answer.hand, &error))
        return refuse(passer, line, &error);
    if (!pass_check(question, &answer, &error) || !find_answer(passer, &answer, &error)) {
        if (error.column == 0)
            error.column = hand_excess(question->list, line, &answer.situation.seen);
        return refuse(passer, line, &error);
    }
    if (question->json)
        pass_json(&answer);
    else
        pass_text(&answer);
    return true;
}
