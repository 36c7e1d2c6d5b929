/* The task claim: its options, and the hands that they ask about. */
#include "claim/claim_task.h"
#include "hands/answer.h"
#include "options/option_row.h"
#include "options/option_tiles.h"
#include "patterns/list_files.h"
#include "task.h"

#include <stdlib.h>

#define TOP_MOST 1000000L

struct claim_options {
    const char *list;
    nh_wind prevailing, seat;
    struct texts seen, exposed, others;
    long draws, top, jobs;
    bool any_size, json;
};

static const struct option_row rows[] = {
    LIST_ROW(struct claim_options),
    EXPOSED_ROW(struct claim_options),
    SEEN_ROW(struct claim_options),
    OTHERS_ROW(struct claim_options),
    PREVAILING_ROW(struct claim_options),
    SEAT_ROW(struct claim_options),
    {"draws", "K",
     "how many more tiles the chance counts: 1 is your next draw, 20 (the default) about all until "
     "the wall is gone",
     SETS_NUMBER(struct claim_options, draws, 0, NH_DRAWS_MAX)},
    {"top", "N", "the best N claims; the default is 6, all in json",
     SETS_NUMBER(struct claim_options, top, 0, TOP_MOST)},
    {"any-size", NULL, "takes a hand of any number of tiles", .seldom = true,
     SETS_FLAG(struct claim_options, any_size)},
    {"json", NULL, "one JSON object a line", SETS_FLAG(struct claim_options, json)},
    JOBS_ROW(struct claim_options, BATCH_JOBS_MAX),
    {0},
};

/* --------------------------------------------------------- the question --- */

static bool prepare_question(const struct claim_options *options, const nh_list *list,
                             struct claim_question *question) {
    nh_situation situation = NH_SITUATION;
    situation.prevailing = options->prevailing;
    situation.seat = options->seat;
    question->situation = situation;
    question->list = list;
    question->draws = (int)options->draws;
    question->top = options->top != TOP_ALL ? (size_t)options->top
                    : options->json         ? NH_CLAIMS_MAX
                                            : CLAIM_TOP;
    question->any_size = options->any_size;
    question->json = options->json;
    question->style = style_of_output();
    return option_tiles("--seen", &options->seen, list, &question->situation.seen) &&
           see_sets(list, "--others", &options->others, &question->situation.seen,
                    &question->others);
}

/* ---------------------------------------------------------- the task --- */

static void *begin_worker(const void *question) {
    return claim_worker_new(question);
}

static bool answer_line(void *worker, const struct line *line) {
    return claim_worker_answer(worker, line);
}

static void end_worker(void *worker) {
    claim_worker_free(worker);
}

static int run(void *given, int count, char *const *words) {
    static const struct texts standard_input = {NULL, 0};
    const struct claim_options *options = given;
    struct claim_question question = {.batch = count == 0};
    nh_list *whole = list_open(options->list), *list = NULL;
    int status = STATUS_USAGE;
    if (whole != NULL &&
        list_take_sets(whole, options->exposed.text, options->exposed.count, &list) &&
        prepare_question(options, list, &question)) {
        struct batch_work work = {.begin = begin_worker,
                                  .answer = answer_line,
                                  .end = end_worker,
                                  .context = &question,
                                  .apart = !question.json};
        status = count > 0 ? answer_words(&work, count, words)
                           : answer_input(&work, &standard_input, (unsigned)options->jobs, false);
    }
    if (list != whole)
        nh_list_free(list);
    nh_list_free(whole);
    return status;
}

const struct task claim_task = {
    .name = "claim",
    .summary = "which discards to claim, to win or for a set, and what that gives up",
    .word = WORD_HAND,
    .about =
        "Shows which discards of other players to claim: those that complete your hand, and those "
        "that make a set and bring you closer; with the best discard then, the chance beside that "
        "without the claim, and the patterns that the claim gives up. HAND is what you hold "
        "between your turns, one tile short of a complete hand. Without a HAND it reads standard "
        "input, one hand a line, as rank does.",
    .rows = rows,
    .example = "nearhand claim --list traditional --exposed EEE 123B 445C 99D RR",
    .defaults = &(const struct claim_options){.draws = NH_DRAWS_DEFAULT, .top = TOP_ALL},
    .size = sizeof(struct claim_options),
    .run = run,
};
