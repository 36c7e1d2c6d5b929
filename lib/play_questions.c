/* Questions about hands in play: checked, whatever version of the interface they come
 * from, and handed to the stage that answers them. */
#include "base/question.h"
#include "play/check.h"
#include "questions.h"
#include "workspace.h"

/* Questions of the first version end with these fields. */
#define CHECK_LEAST SIZE_PAST(nh_check_question, cancel)

nh_status nh_check(nh_workspace *workspace, const nh_tiles *hand, const nh_check_question *question,
                   nh_completed *rows, size_t capacity, nh_checking *checking, nh_error *error) {
    nh_check_question asked = NH_CHECK_QUESTION;
    nh_situation situation;
    nh_status status =
        question_read(&asked, sizeof asked, question, CHECK_LEAST, "NH_CHECK_QUESTION", error);
    if (status == NH_OK)
        status = check_size("row_size", asked.row_size, error);
    if (status == NH_OK)
        status = check_size("checking_size", asked.checking_size, error);
    if (status == NH_OK)
        status = read_situation(asked.situation, &situation, error);
    if (status != NH_OK)
        return status;
    struct query query;
    nh_checking full = {.nearest = NH_AWAY_NONE};
    status = query_set(&query, workspace->list, hand, &situation, error);
    query.cancel = asked.cancel;
    if (status == NH_OK && cancel_asked(query.cancel))
        status = cancel_error(error);
    else if (status == NH_OK)
        status = check_hand(&query, &asked, &workspace->memo, workspace->away, rows, capacity,
                            &full, error);
    if (status != NH_OK)
        full = (nh_checking){.nearest = NH_AWAY_NONE};
    answer_write(checking, asked.checking_size, &full, sizeof full);
    return status;
}
