/* One claimed hand after the other: read, checked, and written in the format that was
 * asked for. Each thread has a checker of its own. */
#include "check/check_task.h"
#include "hands/hand_line.h"
#include "io/unread.h"
#include "patterns/row_layouts.h"

#include <stdlib.h>

struct checker {
    const struct check_question *question;
    nh_workspace *workspace;
    nh_workspace *whole; /* of the list with no set on the table; NULL where that is the same */
    struct kongs_as_pungs *kongs; /* NULL likewise */
    nh_completed *completed, *without_sets;
    nh_ranked *ranked;
    nh_layout *layouts;
    struct check_row *rows;
    uint8_t *away;
};

struct checker *checker_new(const struct check_question *question) {
    struct checker *checker = calloc(1, sizeof *checker);
    size_t size = nh_list_size(question->list);
    if (checker == NULL)
        return NULL;
    checker->question = question;
    checker->completed = malloc(size * sizeof *checker->completed);
    checker->without_sets = malloc(size * sizeof *checker->without_sets);
    checker->ranked = malloc(size * sizeof *checker->ranked);
    checker->layouts = malloc(size * sizeof *checker->layouts);
    checker->rows = malloc(size * sizeof *checker->rows);
    checker->away = malloc(size);
    bool good = checker->completed != NULL && checker->without_sets != NULL &&
                checker->ranked != NULL && checker->layouts != NULL && checker->rows != NULL &&
                checker->away != NULL &&
                nh_workspace_new(question->list, NULL, &checker->workspace) == NH_OK;
    if (good && question->list != question->whole) {
        checker->kongs = kongs_new(question->whole, question->list);
        good = checker->kongs != NULL &&
               nh_workspace_new(question->whole, NULL, &checker->whole) == NH_OK;
    }
    if (good)
        return checker;
    checker_free(checker);
    return NULL;
}

void checker_free(struct checker *checker) {
    nh_workspace_free(checker->workspace);
    nh_workspace_free(checker->whole);
    kongs_free(checker->kongs);
    free(checker->completed);
    free(checker->without_sets);
    free(checker->ranked);
    free(checker->layouts);
    free(checker->rows);
    free(checker->away);
    free(checker);
}

/* ------------------------------------------------------------- complete --- */

static void fill_complete(struct checker *checker, struct check_answer *answer) {
    const nh_list *list = checker->question->list;
    for (size_t i = 0; i < answer->row_count; i++) {
        const nh_completed *from = &checker->completed[i];
        checker->ranked[i] = (nh_ranked){.pattern = from->pattern,
                                         .prevailing = from->prevailing,
                                         .seat = from->seat,
                                         .target = from->target,
                                         .keep = answer->hand,
                                         .joked = from->joked};
        checker->rows[i].about = *nh_list_variant(list, from->pattern, from->variant);
    }
    answer->whole = nh_tiles_total(&answer->hand);
}

/* ------------------------------------------------------------ incomplete --- */

/* The closest patterns, and no others. */
static nh_status fill_closest(struct checker *checker, struct check_answer *answer,
                              nh_error *error) {
    const struct check_question *question = checker->question;
    nh_rank_question asked = NH_RANK_QUESTION;
    nh_ranking ranking;
    asked.situation = &question->situation;
    nh_status status =
        nh_distances(checker->workspace, &answer->hand, &question->situation, checker->away, error);
    for (size_t i = 0; status == NH_OK && i < nh_list_size(question->list); i++)
        answer->row_count += answer->nearest < NH_AWAY_NONE && checker->away[i] == answer->nearest;
    if (status == NH_OK)
        status = nh_rank(checker->workspace, &answer->hand, &asked, checker->ranked,
                         answer->row_count, &ranking, error);
    for (size_t i = 0; status == NH_OK && i < answer->row_count; i++)
        checker->rows[i].about = *nh_list_pattern(question->list, checker->ranked[i].pattern);
    answer->whole = nh_list_hand_size(question->list);
    if (status == NH_OK && answer->row_count > 0)
        answer->whole = nh_tiles_total(&checker->ranked[0].target);
    return status;
}

/* What hand and sets would complete if nothing lay on the table. */
static nh_status find_without_sets(struct checker *checker, struct check_answer *answer,
                                   nh_error *error) {
    nh_tiles all = answer->hand;
    nh_check_question asked = NH_CHECK_QUESTION;
    nh_checking checking;
    size_t count;
    if (checker->whole == NULL)
        return NH_OK;
    const nh_set *sets = nh_list_sets(checker->question->list, &count);
    for (size_t i = 0; i < count; i++) {
        nh_tiles tiles;
        nh_set_tiles(&sets[i], &tiles);
        nh_tiles_add(&all, &tiles);
    }
    asked.situation = &checker->question->situation;
    nh_status status = nh_check(checker->whole, &all, &asked, checker->without_sets,
                                nh_list_size(checker->question->list), &checking, error);
    answer->without_count = checking.rows;
    if (status == NH_OK && checking.rows == 0)
        status = kongs_find(checker->kongs, &answer->hand, asked.situation, &answer->kong, error);
    return status;
}

/* ---------------------------------------------------------- answering --- */

static nh_status check_tiles(struct checker *checker, struct check_answer *answer,
                             nh_error *error) {
    nh_check_question asked = NH_CHECK_QUESTION;
    nh_checking checking;
    asked.situation = &checker->question->situation;
    nh_status status = nh_check(checker->workspace, &answer->hand, &asked, checker->completed,
                                nh_list_size(checker->question->list), &checking, error);
    if (status != NH_OK)
        return status;
    answer->complete = checking.completed > 0;
    answer->nearest = checking.nearest;
    answer->row_count = checking.rows;
    if (answer->complete)
        fill_complete(checker, answer);
    else
        status = fill_closest(checker, answer, error);
    if (status == NH_OK && !answer->complete)
        status = find_without_sets(checker, answer, error);
    if (status == NH_OK)
        lay_out_rows(checker->question->list, checker->ranked, answer->row_count, checker->layouts);
    for (size_t i = 0; status == NH_OK && i < answer->row_count; i++) {
        checker->rows[i].ranked = checker->ranked[i];
        checker->rows[i].layout = checker->layouts[i];
    }
    return status;
}

bool checker_answer(struct checker *checker, const struct line *line) {
    const struct check_question *question = checker->question;
    struct check_answer answer = {.question = question,
                                  .line = line,
                                  .rows = checker->rows,
                                  .without_sets = checker->without_sets};
    nh_error error = {NH_OK, 0, ""};
    if (claimed_read(question->list, line, &answer.hand, &error) &&
        check_tiles(checker, &answer, &error) == NH_OK) {
        if (question->json)
            check_json(&answer);
        else
            check_text(&answer);
        return true;
    }
    if (question->json)
        unread_json(line, &error);
    else
        unread_text(line, &error, question->batch);
    return false;
}
