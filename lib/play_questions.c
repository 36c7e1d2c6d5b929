/* Questions about hands in play: checked, whatever version of the interface they come
 * from, and handed to the stage that answers them. */
#include "base/question.h"
#include "base/status.h"
#include "play/check.h"
#include "play/claim.h"
#include "play/exchange.h"
#include "questions.h"
#include "workspace.h"

/* Questions of the first version end with these fields. */
#define CHECK_LEAST SIZE_PAST(nh_check_question, cancel)
#define CLAIM_LEAST SIZE_PAST(nh_claim_question, leave_out_given_up)
#define EXCHANGE_LEAST SIZE_PAST(nh_exchange_question, set_count)

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

static nh_status check_tile(int tile, nh_error *error) {
    if (tile == NH_CLAIM_ANY || (tile >= 0 && tile < NH_JOKER))
        return NH_OK;
    return error_set(error, NH_ERROR_ARGUMENT, 0,
                     "tile is %d; 0 to %d, or NH_CLAIM_ANY: jokers are never claimed", tile,
                     NH_JOKER - 1);
}

nh_status nh_claims(nh_workspace *workspace, const nh_tiles *hand,
                    const nh_claim_question *question, nh_claim *claims, size_t capacity,
                    nh_claiming *claiming, nh_error *error) {
    nh_claim_question asked = NH_CLAIM_QUESTION;
    nh_situation situation;
    nh_status status =
        question_read(&asked, sizeof asked, question, CLAIM_LEAST, "NH_CLAIM_QUESTION", error);
    if (status == NH_OK)
        status = check_size("claim_size", asked.claim_size, error);
    if (status == NH_OK)
        status = check_size("claiming_size", asked.claiming_size, error);
    if (status == NH_OK)
        status = check_draws(asked.draws, error);
    if (status == NH_OK)
        status = check_tile(asked.tile, error);
    if (status == NH_OK)
        status = read_situation(asked.situation, &situation, error);
    if (status != NH_OK)
        return status;
    asked.situation = &situation;
    struct claim_memory memory = {workspace->list,
                                  &workspace->allocator,
                                  {&workspace->memo, workspace->away, &workspace->rank}};
    nh_claiming full = {.away = NH_AWAY_NONE};
    status = cancel_asked(asked.cancel)
                 ? cancel_error(error)
                 : find_claims(&memory, hand, &asked, claims, capacity, &full, error);
    if (status != NH_OK)
        full = (nh_claiming){.away = NH_AWAY_NONE};
    answer_write(claiming, asked.claiming_size, &full, sizeof full);
    return status;
}

nh_status nh_exchanges(nh_workspace *workspace, const nh_tiles *hand,
                       const nh_exchange_question *question, nh_exchange *exchanges,
                       size_t capacity, size_t *count, nh_error *error) {
    nh_exchange_question asked = NH_EXCHANGE_QUESTION;
    nh_situation situation;
    struct query query;
    *count = 0;
    nh_status status = question_read(&asked, sizeof asked, question, EXCHANGE_LEAST,
                                     "NH_EXCHANGE_QUESTION", error);
    if (status == NH_OK)
        status = check_size("exchange_size", asked.exchange_size, error);
    if (status == NH_OK && asked.set_count > 0 && asked.sets == NULL)
        status = error_set(error, NH_ERROR_ARGUMENT, 0, "sets is NULL");
    if (status == NH_OK)
        status = read_situation(asked.situation, &situation, error);
    if (status == NH_OK)
        status = query_set(&query, workspace->list, hand, &situation, error);
    if (status != NH_OK)
        return status;
    asked.situation = &situation;
    return find_exchanges(&query, &asked, &workspace->memo, workspace->away, exchanges, capacity,
                          count, error);
}
