/* One hand after the other: read, ranked, and written in the format that was
 * asked for. Each thread has a ranker of its own. */
#include "hands/hand_line.h"
#include "io/unread.h"
#include "rank/rank_task.h"

#include <stdlib.h>

struct ranker {
    const struct rank_question *question;
    nh_workspace *workspace;
    nh_ranked *rows;
    uint8_t *away;
};

struct ranker *ranker_new(const struct rank_question *question) {
    struct ranker *ranker = calloc(1, sizeof *ranker);
    if (ranker == NULL)
        return NULL;
    ranker->question = question;
    ranker->rows = malloc((question->top + 1) * sizeof *ranker->rows);
    ranker->away = malloc(nh_list_size(question->list));
    if (ranker->rows != NULL && ranker->away != NULL &&
        nh_workspace_new(question->list, NULL, &ranker->workspace) == NH_OK)
        return ranker;
    ranker_free(ranker);
    return NULL;
}

void ranker_free(struct ranker *ranker) {
    nh_workspace_free(ranker->workspace);
    free(ranker->rows);
    free(ranker->away);
    free(ranker);
}

/* ------------------------------------------------------ what is asked --- */

static bool is_chosen(const struct rank_answer *answer, size_t pattern) {
    const uint8_t *chosen = answer->question->chosen;
    return chosen == NULL || chosen[pattern] != 0;
}

size_t rank_dead(const struct rank_answer *answer, void (*tell)(const char *name, void *context),
                 void *context) {
    const nh_list *list = answer->question->list;
    size_t dead = answer->question->chosen_count - answer->ranking.live;
    for (size_t i = 0; dead > 0 && i < nh_list_size(list); i++)
        if (is_chosen(answer, i) && answer->away[i] == NH_AWAY_NONE)
            tell(nh_list_pattern(list, i)->name, context);
    return dead;
}

size_t rank_complete(const struct rank_answer *answer) {
    size_t complete = 0;
    if (answer->ranking.nearest > 0)
        return 0;
    for (size_t i = 0; i < nh_list_size(answer->question->list); i++)
        complete += is_chosen(answer, i) && answer->away[i] == 0;
    return complete;
}

/* ------------------------------------------------------ what is wrong --- */

static bool refuse(const struct ranker *ranker, const struct line *line, const nh_error *error) {
    switch (ranker->question->format) {
    case FORMAT_TEXT:
        unread_text(line, error, ranker->question->batch);
        break;
    case FORMAT_JSON:
        unread_json(line, error);
        break;
    case FORMAT_TSV:
        unread_tsv(line, error);
        break;
    }
    return false;
}

/* ---------------------------------------------------------- answering --- */

/* Only the rows that are shown are made; what else is told of the other
 * patterns hangs on their distances alone. */
static nh_status rank_hand(struct ranker *ranker, struct rank_answer *answer, nh_error *error) {
    const struct rank_question *question = ranker->question;
    nh_rank_question asked = NH_RANK_QUESTION;
    asked.situation = &question->situation;
    asked.chosen = question->chosen;
    asked.draws = question->draws;
    nh_status status = nh_rank(ranker->workspace, &answer->hand, &asked, ranker->rows,
                               question->top, &answer->ranking, error);
    if (status != NH_OK)
        return status;
    if (answer->ranking.live == question->chosen_count && answer->ranking.nearest > 0)
        return NH_OK;
    answer->away = ranker->away;
    return nh_distances(ranker->workspace, &answer->hand, &question->situation, ranker->away,
                        error);
}

static void write_answer(const struct rank_answer *answer) {
    switch (answer->question->format) {
    case FORMAT_TEXT:
        rank_text(answer);
        break;
    case FORMAT_JSON:
        rank_json(answer);
        break;
    case FORMAT_TSV:
        rank_tsv(answer);
        break;
    }
}

bool ranker_answer(struct ranker *ranker, const struct line *line) {
    struct rank_answer answer = {.question = ranker->question, .line = line, .rows = ranker->rows};
    nh_error error = {NH_OK, 0, ""};
    if (!hand_read(ranker->question->list, line, &answer.hand, &error))
        return refuse(ranker, line, &error);
    if (rank_hand(ranker, &answer, &error) != NH_OK) {
        if (error.column == 0)
            error.column =
                hand_excess(ranker->question->list, line, &ranker->question->situation.seen);
        return refuse(ranker, line, &error);
    }
    write_answer(&answer);
    return true;
}
