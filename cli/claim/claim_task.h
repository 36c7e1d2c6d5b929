/* The task claim: what was asked, and the answer for one hand, which is finished before
 * claim_text or claim_json writes it. */
#ifndef CLI_CLAIM_CLAIM_TASK_H
#define CLI_CLAIM_CLAIM_TASK_H

#include "io/input.h"
#include "io/style.h"
#include "nearhand.h"
#include "patterns/exchanges.h"

#include <stdbool.h>

#define TOP_ALL (-1L)
#define CLAIM_TOP 6 /* claims shown as text unless --top says otherwise */

/* What was asked, beside the hands. */
struct claim_question {
    const nh_list *list;    /* less the sets on the table */
    nh_situation situation; /* other players' sets are among the tiles seen */
    struct other_sets others;
    int draws;
    size_t top;
    bool any_size, json;
    struct style style;
    bool batch; /* hands are lines of input */
};

struct claim_answer {
    const struct claim_question *question;
    const struct line *line;
    nh_tiles hand;
    nh_claiming claiming;
    const nh_claim *claims; /* all of them, best first: claiming.rows */
    struct exchanges exchanges;
};

/* --------------------------------------------------------------- hands --- */

/* What one thread finds claims with. */
struct claim_worker;

struct claim_worker *claim_worker_new(const struct claim_question *question); /* or NULL */
void claim_worker_free(struct claim_worker *worker);

/* Answers a hand, or says what is wrong with it and returns false. */
bool claim_worker_answer(struct claim_worker *worker, const struct line *line);

/* ------------------------------------------------------------- formats --- */

void claim_json(const struct claim_answer *answer);
void claim_text(const struct claim_answer *answer);

/* "win", or the word for the set. */
const char *claim_use_word(const nh_claim *claim);

#endif
