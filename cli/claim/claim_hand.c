/* One hand after another: read, its claims worked out, and the answer written. Each thread
 * has a worker of its own. */
#include "claim/claim_task.h"
#include "hands/hand_line.h"
#include "io/text.h"
#include "io/unread.h"

#include <stdio.h>
#include <stdlib.h>

struct claim_worker {
    const struct claim_question *question;
    nh_workspace *workspace;
    nh_claim claims[NH_CLAIMS_MAX];
};

struct claim_worker *claim_worker_new(const struct claim_question *question) {
    struct claim_worker *worker = calloc(1, sizeof *worker);
    if (worker == NULL)
        return NULL;
    worker->question = question;
    if (nh_workspace_new(question->list, NULL, &worker->workspace) == NH_OK)
        return worker;
    claim_worker_free(worker);
    return NULL;
}

void claim_worker_free(struct claim_worker *worker) {
    nh_workspace_free(worker->workspace);
    free(worker);
}

/* Kinds that the hand may have a concealed kong of, which holds a tile more than a pung. */
static int kongs_within(const nh_tiles *hand) {
    int kongs = 0;
    for (int kind = 0; kind < NH_JOKER; kind++)
        kongs += hand->count[kind] > 0 && hand->count[kind] + hand->count[NH_JOKER] >= NH_KONG;
    return kongs;
}

/* Says why a hand does not wait: mostly it has drawn, or is complete already. */
static void explain_size(const struct claim_worker *worker, const nh_tiles *hand, bool complete,
                         nh_error *error) {
    int tiles = nh_tiles_total(hand);
    int waiting = nh_list_hand_size(worker->question->list) - 1;
    *error = (nh_error){NH_ERROR_TILES, 0, ""};
    if (complete)
        snprintf(error->text, sizeof error->text,
                 "this hand is complete with its %d tiles: declare it, there is nothing to claim",
                 tiles);
    else if (tiles == waiting + 1)
        snprintf(error->text, sizeof error->text,
                 "this hand has %d tiles: discard one, then claim with the other %d", tiles,
                 waiting);
    else
        snprintf(error->text, sizeof error->text,
                 "this hand has %d tile%s; one that waits has %d: --any-size takes it as it is",
                 tiles, plural((size_t)tiles), waiting);
}

/* Between turns a hand is a tile short of a complete one. */
static bool hand_waits(struct claim_worker *worker, const nh_tiles *hand, nh_error *error) {
    const struct claim_question *question = worker->question;
    int tiles = nh_tiles_total(hand), waiting = nh_list_hand_size(question->list) - 1;
    nh_check_question asked = NH_CHECK_QUESTION;
    nh_checking checking = {.completed = 0};
    if (question->any_size || tiles == waiting)
        return true;
    asked.situation = &question->situation;
    if (tiles > waiting &&
        nh_check(worker->workspace, hand, &asked, NULL, 0, &checking, error) != NH_OK)
        return false;
    bool kongs = tiles > waiting && tiles - waiting <= kongs_within(hand);
    if (checking.completed == 0 && kongs && tiles < nh_list_hand_most(question->list))
        return true;
    explain_size(worker, hand, checking.completed > 0, error);
    return false;
}

static nh_status claims_find(struct claim_worker *worker, struct claim_answer *answer,
                             nh_error *error) {
    const struct claim_question *question = worker->question;
    nh_claim_question asked = NH_CLAIM_QUESTION;
    asked.situation = &question->situation;
    asked.draws = question->draws;
    nh_status status = nh_claims(worker->workspace, &answer->hand, &asked, worker->claims,
                                 NH_CLAIMS_MAX, &answer->claiming, error);
    if (status != NH_OK)
        return status;
    return exchanges_find(worker->workspace, &answer->hand, &question->situation, &question->others,
                          answer->claiming.away, &answer->exchanges, error);
}

bool claim_worker_answer(struct claim_worker *worker, const struct line *line) {
    const struct claim_question *question = worker->question;
    struct claim_answer answer = {.question = question, .line = line, .claims = worker->claims};
    nh_error error = {NH_OK, 0, ""};
    bool good = hand_read(question->list, line, &answer.hand, &error);
    if (good) {
        good = hand_waits(worker, &answer.hand, &error) &&
               claims_find(worker, &answer, &error) == NH_OK;
        if (!good && error.column == 0)
            error.column = hand_excess(question->list, line, &question->situation.seen);
    }
    if (good && question->json)
        claim_json(&answer);
    else if (good)
        claim_text(&answer);
    else if (question->json)
        unread_json(line, &error);
    else
        unread_text(line, &error, question->batch);
    return good;
}

const char *claim_use_word(const nh_claim *claim) {
    static const char *const words[] = {
        [NH_CLAIM_WIN] = "win", [NH_PUNG] = "pung",     [NH_KONG] = "kong",
        [NH_QUINT] = "quint",   [NH_SEXTET] = "sextet", [NH_CHOW] = "chow"};
    return words[claim->use];
}
