/* Questions about one hand: checked, from any version of the interface, and
 * handed to the stage that answers them. */
#include "questions.h"
#include "base/question.h"
#include "base/status.h"
#include "pass/simulate.h"
#include "play/discard.h"
#include "workspace.h"

#define READ(full, given, last, name, error)                                                       \
    question_read(&(full), sizeof(full), given, last, name, error)

/* Situations and questions of the first version end with these fields. */
#define SITUATION_LEAST SIZE_PAST(nh_situation, seat)
#define RANK_LEAST SIZE_PAST(nh_rank_question, order)
#define PASS_LEAST SIZE_PAST(nh_pass_question, tiles)
#define DISCARD_LEAST SIZE_PAST(nh_discard_question, order)
#define AHEAD_LEAST SIZE_PAST(nh_ahead_question, courses)

nh_status read_situation(const nh_situation *given, nh_situation *situation, nh_error *error) {
    *situation = (nh_situation)NH_SITUATION;
    return READ(*situation, given, SITUATION_LEAST, "NH_SITUATION", error);
}

nh_status check_size(const char *which, size_t size, nh_error *error) {
    if (size != 0)
        return NH_OK;
    return error_set(error, NH_ERROR_ARGUMENT, 0, "%s is 0; an initialiser sets it", which);
}

nh_status check_draws(int draws, nh_error *error) {
    if (draws >= 0 && draws <= NH_DRAWS_MAX)
        return NH_OK;
    return error_set(error, NH_ERROR_ARGUMENT, 0, "draws is %d; 0 to %d", draws, NH_DRAWS_MAX);
}

nh_status read_rank_question(const nh_rank_question *given, struct rank_asked *asked,
                             nh_error *error) {
    asked->question = (nh_rank_question)NH_RANK_QUESTION;
    nh_rank_question *question = &asked->question;
    nh_status status = READ(*question, given, RANK_LEAST, "NH_RANK_QUESTION", error);
    if (status == NH_OK)
        status = check_size("row_size", question->row_size, error);
    if (status == NH_OK)
        status = check_size("ranking_size", question->ranking_size, error);
    if (status == NH_OK)
        status = check_draws(question->draws, error);
    if (status == NH_OK && (unsigned)question->order > NH_ORDER_WORTH)
        return error_set(error, NH_ERROR_ARGUMENT, 0, "order is %d; 0 to %d", (int)question->order,
                         NH_ORDER_WORTH);
    if (status == NH_OK)
        status = read_situation(question->situation, &asked->situation, error);
    question->situation = &asked->situation;
    return status;
}

nh_status read_pass_question(const nh_list *list, const nh_pass_question *given,
                             struct pass_asked *asked, nh_error *error) {
    asked->question = (nh_pass_question)NH_PASS_QUESTION;
    nh_pass_question *question = &asked->question;
    nh_status status = READ(*question, given, PASS_LEAST, "NH_PASS_QUESTION", error);
    if (status == NH_OK)
        status = check_size("choice_size", question->choice_size, error);
    if (status == NH_OK)
        status = check_size("passing_size", question->passing_size, error);
    if (question->tiles == NH_PASS_AS_LIST)
        question->tiles = list->charleston.tiles;
    if (status == NH_OK && (question->tiles < 0 || question->tiles > NH_PASS_MAX))
        return error_set(error, NH_ERROR_ARGUMENT, 0, "tiles is %d; a pass has 0 to %d",
                         question->tiles, NH_PASS_MAX);
    if (status == NH_OK)
        status = read_situation(question->situation, &asked->situation, error);
    question->situation = &asked->situation;
    return status;
}

nh_status read_discard_question(const nh_discard_question *given, struct discard_asked *asked,
                                nh_error *error) {
    asked->question = (nh_discard_question)NH_DISCARD_QUESTION;
    nh_discard_question *question = &asked->question;
    nh_status status = READ(*question, given, DISCARD_LEAST, "NH_DISCARD_QUESTION", error);
    if (status == NH_OK)
        status = check_size("choice_size", question->choice_size, error);
    if (status == NH_OK)
        status = check_size("discarding_size", question->discarding_size, error);
    if (status == NH_OK && (question->look < 1 || question->look > NH_LOOK_MAX))
        return error_set(error, NH_ERROR_ARGUMENT, 0, "look is %d; 1 to %d", question->look,
                         NH_LOOK_MAX);
    if (status == NH_OK)
        status = check_draws(question->draws, error);
    if (status == NH_OK && (unsigned)question->order > NH_DISCARD_WORTH)
        return error_set(error, NH_ERROR_ARGUMENT, 0, "order is %d; 0 to %d", (int)question->order,
                         NH_DISCARD_WORTH);
    if (status == NH_OK)
        status = read_situation(question->situation, &asked->situation, error);
    question->situation = &asked->situation;
    return status;
}

nh_status rank_hand(nh_workspace *workspace, const nh_tiles *hand, const nh_rank_question *question,
                    nh_ranked *rows, size_t capacity, nh_ranking *ranking, nh_error *error) {
    struct query query;
    nh_ranking full = {.nearest = NH_AWAY_NONE};
    nh_status status = query_set(&query, workspace->list, hand, question->situation, error);
    query.cancel = question->cancel;
    if (status == NH_OK && !cancel_asked(query.cancel)) {
        struct rank_memory memory = {&workspace->memo, workspace->away, &workspace->rank};
        rank_patterns(&query, question, &memory, rows, capacity, &full);
    }
    if (status == NH_OK && cancel_asked(query.cancel)) {
        full = (nh_ranking){.nearest = NH_AWAY_NONE};
        status = cancel_error(error);
    }
    answer_write(ranking, question->ranking_size, &full, sizeof full);
    return status;
}

nh_status nh_rank(nh_workspace *workspace, const nh_tiles *hand, const nh_rank_question *question,
                  nh_ranked *rows, size_t capacity, nh_ranking *ranking, nh_error *error) {
    struct rank_asked asked;
    nh_status status = read_rank_question(question, &asked, error);
    if (status != NH_OK)
        return status;
    return rank_hand(workspace, hand, &asked.question, rows, capacity, ranking, error);
}

nh_status nh_distances(nh_workspace *workspace, const nh_tiles *hand, const nh_situation *situation,
                       uint8_t *away, nh_error *error) {
    nh_situation known;
    struct query query;
    struct near_rows near;
    nh_status status = read_situation(situation, &known, error);
    if (status == NH_OK)
        status = query_set(&query, workspace->list, hand, &known, error);
    if (status != NH_OK)
        return status;
    find_distances(&query, NULL, &workspace->memo, &near, away);
    return NH_OK;
}

static struct pass_memory pass_memory_of(nh_workspace *workspace) {
    return (struct pass_memory){workspace->list, &workspace->memo, &workspace->pass};
}

nh_status pass_hand(nh_workspace *workspace, const nh_tiles *hand, const nh_pass_question *question,
                    nh_choice *choices, size_t capacity, nh_passing *passing, nh_error *error) {
    nh_passing full = {.away = NH_AWAY_NONE};
    struct pass_memory memory = pass_memory_of(workspace);
    nh_choice *rows = workspace->pass.rows;
    size_t most = capacity < NH_PASSES_MAX ? capacity : NH_PASSES_MAX;
    nh_status status = cancel_asked(question->cancel)
                           ? cancel_error(error)
                           : find_passes(&memory, hand, question, rows, most, &full, error);
    if (status != NH_OK)
        full = (nh_passing){.away = NH_AWAY_NONE};
    for (size_t i = 0; i < full.rows; i++)
        answer_write((char *)choices + i * question->choice_size, question->choice_size, &rows[i],
                     sizeof rows[i]);
    answer_write(passing, question->passing_size, &full, sizeof full);
    return status;
}

nh_status nh_pass(nh_workspace *workspace, const nh_tiles *hand, const nh_pass_question *question,
                  nh_choice *choices, size_t capacity, nh_passing *passing, nh_error *error) {
    struct pass_asked asked;
    nh_status status = read_pass_question(workspace->list, question, &asked, error);
    if (status != NH_OK)
        return status;
    return pass_hand(workspace, hand, &asked.question, choices, capacity, passing, error);
}

nh_status nh_pass_ahead(nh_workspace *workspace, const nh_tiles *hand,
                        const nh_ahead_question *question, nh_ahead *ahead, nh_error *error) {
    nh_ahead_question asked = NH_AHEAD_QUESTION;
    nh_situation situation;
    nh_status status = READ(asked, question, AHEAD_LEAST, "NH_AHEAD_QUESTION", error);
    if (status == NH_OK)
        status = read_situation(asked.situation, &situation, error);
    if (status == NH_OK && nh_tiles_total(&asked.pass) > NH_PASS_MAX)
        status = error_set(error, NH_ERROR_ARGUMENT, 0, "the pass has %d tiles; 0 to %d",
                           nh_tiles_total(&asked.pass), NH_PASS_MAX);
    if (status == NH_OK && asked.further > NH_FURTHER_MAX)
        status = error_set(error, NH_ERROR_ARGUMENT, 0, "further is %u; 0 to %u", asked.further,
                           NH_FURTHER_MAX);
    if (status != NH_OK)
        return status;
    asked.situation = &situation;
    struct pass_memory memory = pass_memory_of(workspace);
    return simulate_passes(&memory, hand, &asked, ahead, error);
}

nh_status discard_from(nh_workspace *workspace, const nh_tiles *hand,
                       const nh_discard_question *question, nh_discard_choice *choices,
                       size_t capacity, nh_discarding *discarding, nh_error *error) {
    nh_discarding full = {.away = NH_AWAY_NONE};
    nh_discard_choice rows[NH_DISCARDS_MAX];
    struct discard_memory memory = {workspace->list,
                                    &workspace->pass.expect,
                                    {&workspace->memo, workspace->away, &workspace->rank}};
    nh_status status = cancel_asked(question->cancel)
                           ? cancel_error(error)
                           : find_discards(&memory, hand, question, rows, capacity, &full, error);
    if (status != NH_OK)
        full = (nh_discarding){.away = NH_AWAY_NONE};
    for (size_t i = 0; i < full.rows; i++)
        answer_write((char *)choices + i * question->choice_size, question->choice_size, &rows[i],
                     sizeof rows[i]);
    answer_write(discarding, question->discarding_size, &full, sizeof full);
    return status;
}

nh_status nh_discard(nh_workspace *workspace, const nh_tiles *hand,
                     const nh_discard_question *question, nh_discard_choice *choices,
                     size_t capacity, nh_discarding *discarding, nh_error *error) {
    struct discard_asked asked;
    nh_status status = read_discard_question(question, &asked, error);
    if (status != NH_OK)
        return status;
    return discard_from(workspace, hand, &asked.question, choices, capacity, discarding, error);
}
