/* Jokers that a hand can take from sets on the table. */
#include "patterns/exchanges.h"

nh_status exchanges_find(nh_workspace *workspace, const nh_tiles *hand,
                         const nh_situation *situation, const struct other_sets *others,
                         uint8_t away, struct exchanges *found, nh_error *error) {
    nh_exchange_question question = NH_EXCHANGE_QUESTION;
    found->list = nh_workspace_list(workspace);
    found->others = others;
    found->away = away;
    found->count = 0;
    if (!nh_list_play(found->list)->exchange)
        return NH_OK;
    question.situation = situation;
    question.sets = others->sets;
    question.set_count = others->count;
    return nh_exchanges(workspace, hand, &question, found->rows, EXCHANGES_MOST, &found->count,
                        error);
}
