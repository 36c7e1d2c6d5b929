/* One hand after another: read, its discards weighed, and the answer written. Each thread
 * has a worker of its own. */
#include "discard/discard_task.h"
#include "hands/hand_line.h"
#include "io/unread.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct discard_worker {
    const struct discard_question *question;
    nh_workspace *workspace;
    nh_discard_choice found[NH_DISCARDS_MAX];
    struct discard_choice choices[NH_DISCARDS_MAX];
    uint8_t *away;  /* of every pattern */
    uint32_t *kept; /* room for every pattern of every choice */
    nh_completed *completed;
    bool cancelled; /* the last answer */
};

struct discard_worker *discard_worker_new(const struct discard_question *question) {
    struct discard_worker *worker = calloc(1, sizeof *worker);
    if (worker == NULL)
        return NULL;
    size_t size = nh_list_size(question->list);
    worker->question = question;
    worker->away = malloc(size);
    worker->kept = malloc(NH_DISCARDS_MAX * size * sizeof *worker->kept);
    worker->completed = malloc(size * sizeof *worker->completed);
    if (worker->away != NULL && worker->kept != NULL && worker->completed != NULL &&
        nh_workspace_new(question->list, NULL, &worker->workspace) == NH_OK)
        return worker;
    discard_worker_free(worker);
    return NULL;
}

void discard_worker_free(struct discard_worker *worker) {
    nh_workspace_free(worker->workspace);
    free(worker->away);
    free(worker->kept);
    free(worker->completed);
    free(worker);
}

/* ------------------------------------------------------------- figures --- */

double discard_average(const struct discard_answer *answer, const struct discard_choice *choice) {
    return (double)choice->figures.expected / (double)answer->discarding.draws;
}

double discard_cost(const struct discard_answer *answer, const struct discard_choice *choice) {
    uint64_t first = answer->choices[0].figures.expected, here = choice->figures.expected;
    double more = here >= first ? (double)(here - first) : -(double)(first - here);
    return more / (double)answer->discarding.draws;
}

double discard_worth(const struct discard_answer *answer, const struct discard_choice *choice) {
    const nh_pattern *pattern = nh_list_pattern(answer->question->list, choice->figures.pattern);
    return pattern->has_points ? pattern->points * choice->figures.chance : 0;
}

bool discard_reads(const struct discard_answer *answer) {
    return answer->question->players.count > 0;
}

bool discard_dangers_known(const struct discard_answer *answer) {
    return discard_reads(answer) && answer->players.counted;
}

size_t discard_shown(const struct discard_answer *answer) {
    return answer->count < answer->question->top ? answer->count : answer->question->top;
}

/* ------------------------------------------------------------- players --- */

/* The danger of each choice, and which is the safest. */
static nh_status find_dangers(struct discard_worker *worker, struct discard_answer *answer,
                              nh_error *error) {
    nh_status status = NH_OK;
    answer->safest = answer->count;
    if (discard_reads(answer))
        status = players_reading_find(&answer->question->players, &answer->hand, &answer->players,
                                      error);
    if (status != NH_OK || !discard_dangers_known(answer))
        return status;
    for (size_t i = 0; i < answer->count; i++) {
        struct discard_choice *choice = &worker->choices[i];
        choice->danger = players_danger(&answer->players, choice->figures.kind);
        if (i == 0 || choice->danger < worker->choices[answer->safest].danger)
            answer->safest = i;
    }
    return NH_OK;
}

/* ----------------------------------------------------------- answering --- */

/* A hand that discards has drawn: it is as large as a complete one. */
static bool check_discard_size(const struct discard_question *question, const nh_tiles *hand,
                               nh_error *error) {
    if (question->any_size || hand_before_discard(question->list, hand, error))
        return true;
    size_t length = strlen(error->text);
    snprintf(error->text + length, sizeof error->text - length, ": --any-size takes it as it is");
    return false;
}

/* Which patterns are nearest after a discard. */
static nh_status find_kept(struct discard_worker *worker, const struct discard_answer *answer,
                           struct discard_choice *choice, uint32_t *kept, nh_error *error) {
    const struct discard_question *question = worker->question;
    nh_situation situation = question->situation;
    nh_tiles hand = answer->hand, tile = {{0}};
    choice->keeps = kept;
    choice->keep_count = 0;
    if (choice->figures.away == NH_AWAY_NONE)
        return NH_OK;
    tile.count[choice->figures.kind] = 1;
    nh_tiles_take(&hand, &tile);
    nh_tiles_add(&situation.seen, &tile);
    nh_status status = nh_distances(worker->workspace, &hand, &situation, worker->away, error);
    for (size_t i = 0; status == NH_OK && i < nh_list_size(question->list); i++)
        if ((question->chosen == NULL || question->chosen[i] != 0) &&
            worker->away[i] == choice->figures.away)
            kept[choice->keep_count++] = (uint32_t)i;
    return status;
}

/* The chosen patterns that the hand completes. */
static nh_status find_completed(struct discard_worker *worker, struct discard_answer *answer,
                                nh_error *error) {
    const struct discard_question *question = worker->question;
    nh_check_question asked = NH_CHECK_QUESTION;
    nh_checking checking;
    asked.situation = &question->situation;
    nh_status status = nh_check(worker->workspace, &answer->hand, &asked, worker->completed,
                                nh_list_size(question->list), &checking, error);
    answer->completed = worker->completed;
    for (size_t i = 0; status == NH_OK && i < checking.rows; i++)
        if (question->chosen == NULL || question->chosen[worker->completed[i].pattern] != 0)
            worker->completed[answer->completed_count++] = worker->completed[i];
    return status;
}

/* The choices that are shown, and which is the safest: for that all of them. */
static nh_status weigh_choices(struct discard_worker *worker, struct discard_answer *answer,
                               nh_error *error) {
    const struct discard_question *question = worker->question;
    nh_discard_question asked = NH_DISCARD_QUESTION;
    size_t most = question->top > 1 ? question->top : 1; /* the best is always named */
    asked.situation = &question->situation;
    asked.chosen = question->chosen;
    asked.look = question->look;
    asked.draws = question->draws;
    asked.order = question->order;
    asked.cancel = question->players.cancel;
    if (most > NH_DISCARDS_MAX || discard_reads(answer))
        most = NH_DISCARDS_MAX;
    nh_status status = nh_discard(worker->workspace, &answer->hand, &asked, worker->found, most,
                                  &answer->discarding, error);
    if (status != NH_OK || answer->discarding.complete)
        return status;
    answer->count = answer->discarding.rows;
    for (size_t i = 0; i < answer->count; i++)
        worker->choices[i] = (struct discard_choice){.figures = worker->found[i]};
    return find_dangers(worker, answer, error);
}

static nh_status find_choices(struct discard_worker *worker, struct discard_answer *answer,
                              nh_error *error) {
    const struct discard_question *question = worker->question;
    nh_status status = weigh_choices(worker, answer, error);
    if (status != NH_OK)
        return status;
    if (answer->discarding.complete)
        return find_completed(worker, answer, error);
    status = exchanges_find(worker->workspace, &answer->hand, &question->situation,
                            &question->others, answer->discarding.away, &answer->exchanges, error);
    for (size_t i = 0; i < answer->count && status == NH_OK; i++) {
        uint32_t *kept = worker->kept + i * nh_list_size(question->list);
        if (i < question->top || i == answer->safest)
            status = find_kept(worker, answer, &worker->choices[i], kept, error);
    }
    return status;
}

static bool refuse(struct discard_worker *worker, const struct line *line, const nh_error *error) {
    worker->cancelled = error->status == NH_ERROR_CANCELLED;
    if (worker->cancelled)
        return false;
    if (worker->question->json)
        unread_json(line, error);
    else
        unread_text(line, error, worker->question->batch);
    return false;
}

static bool answer_hand(struct discard_worker *worker, struct discard_answer *answer) {
    const struct discard_question *question = worker->question;
    const struct line *line = answer->line;
    nh_error error = {NH_OK, 0, ""};
    if (!hand_read(question->list, line, &answer->hand, &error))
        return refuse(worker, line, &error);
    if (!check_discard_size(question, &answer->hand, &error) ||
        find_choices(worker, answer, &error) != NH_OK) {
        if (error.column == 0)
            error.column = hand_excess(question->list, line, &question->situation.seen);
        return refuse(worker, line, &error);
    }
    if (question->json)
        discard_json(answer);
    else
        discard_text(answer);
    return true;
}

bool discard_worker_answer(struct discard_worker *worker, const struct line *line) {
    struct discard_answer answer = {
        .question = worker->question, .line = line, .choices = worker->choices};
    bool answered = answer_hand(worker, &answer);
    players_reading_free(&answer.players);
    return answered;
}

bool discard_worker_cancelled(const struct discard_worker *worker) {
    return worker->cancelled;
}
