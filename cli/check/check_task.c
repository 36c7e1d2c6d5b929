/* The task check: its options, and the hands that they ask about. */
#include "check/check_task.h"
#include "hands/answer.h"
#include "options/option_row.h"
#include "patterns/list_files.h"
#include "patterns/list_sets.h"
#include "task.h"

#include <stdlib.h>

struct check_options {
    const char *list;
    nh_wind prevailing, seat;
    struct texts exposed;
    long jobs;
    bool json, unicode;
};

static const struct option_row rows[] = {
    LIST_ROW(struct check_options),
    EXPOSED_ROW(struct check_options),
    PREVAILING_ROW(struct check_options),
    SEAT_ROW(struct check_options),
    {"unicode", NULL, "writes tiles as Unicode tile characters", .seldom = true,
     SETS_FLAG(struct check_options, unicode)},
    {"json", NULL, "one JSON object a line", SETS_FLAG(struct check_options, json)},
    JOBS_ROW(struct check_options, BATCH_JOBS_MAX),
    {0},
};

static void *begin_checker(const void *question) {
    return checker_new(question);
}

static bool answer_line(void *checker, const struct line *line) {
    return checker_answer(checker, line);
}

static void end_checker(void *checker) {
    checker_free(checker);
}

static int answer_hands(const struct check_options *options, const nh_list *whole,
                        const nh_list *list, int count, char *const *words) {
    static const struct texts standard_input = {NULL, 0};
    nh_situation situation = NH_SITUATION;
    situation.prevailing = options->prevailing;
    situation.seat = options->seat;
    struct check_question question = {.whole = whole,
                                      .list = list,
                                      .situation = situation,
                                      .json = options->json,
                                      .unicode = options->unicode,
                                      .batch = count == 0,
                                      .style = style_of_output()};
    struct batch_work work = {.begin = begin_checker,
                              .answer = answer_line,
                              .end = end_checker,
                              .context = &question,
                              .apart = !options->json};
    return count > 0 ? answer_words(&work, count, words)
                     : answer_input(&work, &standard_input, (unsigned)options->jobs, false);
}

static int run(void *given, int count, char *const *words) {
    const struct check_options *options = given;
    nh_list *whole = list_open(options->list), *list = NULL;
    int status = STATUS_USAGE;
    if (whole != NULL &&
        list_take_sets(whole, options->exposed.text, options->exposed.count, &list))
        status = answer_hands(options, whole, list, count, words);
    if (list != whole)
        nh_list_free(list);
    nh_list_free(whole);
    return status;
}

const struct task check_task = {
    .name = "check",
    .summary = "whether a claimed hand is complete, and if not, what is wrong",
    .word = WORD_HAND,
    .about =
        "Says whether a hand that a player claims is complete: for which patterns, how many points "
        "and in which groups. If it is not, it says what is wrong: tiles too few or too many, a "
        "concealed pattern with sets on the table, which tiles are missing. Without a HAND it "
        "reads "
        "standard input, one hand a line, as rank does.",
    .rows = rows,
    .example = "nearhand check --list jokers --exposed EEEJ 23456B 23456C",
    .defaults = &(const struct check_options){.list = NULL},
    .size = sizeof(struct check_options),
    .run = run,
};
