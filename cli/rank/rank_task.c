/* The task rank: its options, and the hands that they ask about. */
#define _POSIX_C_SOURCE 200809L
#include "rank/rank_task.h"
#include "hands/answer.h"
#include "io/message.h"
#include "io/output.h"
#include "options/option_row.h"
#include "options/option_tiles.h"
#include "patterns/choice.h"
#include "patterns/list_files.h"
#include "patterns/list_sets.h"
#include "task.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define TOP_MOST 1000000L

/* ---------------------------------------------------------- options --- */

struct rank_options {
    const char *list;
    nh_wind prevailing, seat;
    struct texts seen, exposed, files;
    struct pattern_choice choice;
    long draws, top, jobs;
    int format; /* enum rank_format */
    int order;  /* nh_order */
    int by;     /* enum rank_by */
    bool unicode, summary;
};

static const char *const formats[] = {
    [FORMAT_TEXT] = "text", [FORMAT_JSON] = "json", [FORMAT_TSV] = "tsv", NULL};

static const char *const orders[] = {
    [NH_ORDER_AWAY] = "away", [NH_ORDER_CHANCE] = "chance", [NH_ORDER_WORTH] = "worth", NULL};

static const char *const kinds_of_row[] = {
    [BY_PATTERN] = "pattern", [BY_SECTION] = "section", NULL};

static bool choose_json(const char *value, void *given) {
    struct rank_options *options = given;
    (void)value;
    options->format = FORMAT_JSON;
    return true;
}

static const struct option_row rows[] = {
    LIST_ROW(struct rank_options),
    SEEN_ROW(struct rank_options),
    EXPOSED_ROW(struct rank_options),
    PREVAILING_ROW(struct rank_options),
    SEAT_ROW(struct rank_options),
    AIM_ROW(struct rank_options, choice),
    SECTION_ROW(struct rank_options, choice),
    POINTS_ROW(struct rank_options, choice),
    {"draws", "K",
     "tiles still to come, for the chance: 1 is your next draw, 10 about half a game, 20 (the "
     "default) until the wall ends",
     SETS_NUMBER(struct rank_options, draws, 0, NH_DRAWS_MAX)},
    {"order", "ORDER", "away (the default), chance, or worth: points times chance",
     SETS_CHOICE(struct rank_options, order, orders)},
    {"by", "WHAT", "section: a row for each section; pattern is the default",
     SETS_CHOICE(struct rank_options, by, kinds_of_row)},
    {"top", "N", "the first N; else what fits a screen (json: all, tsv: 1)",
     SETS_NUMBER(struct rank_options, top, 0, TOP_MOST)},
    {"unicode", NULL, "writes tiles as Unicode tile characters", .seldom = true,
     SETS_FLAG(struct rank_options, unicode)},
    {"format", "FORMAT", "text, json (one object a line) or tsv (columns with tabs)",
     SETS_CHOICE(struct rank_options, format, formats)},
    {"json", NULL, "the same as --format json", .seldom = true, .kind = OPTION_SPECIAL,
     .read_value = choose_json},
    {"file", "FILE", "reads hands from FILE (- is standard input); repeatable", .seldom = true,
     ADDS_TEXT(struct rank_options, files)},
    JOBS_ROW(struct rank_options, BATCH_JOBS_MAX),
    {"summary", NULL, "says at the end how many hands were ranked", .seldom = true,
     SETS_FLAG(struct rank_options, summary)},
    {0},
};

/* --------------------------------------------------------- the question --- */

/* What is made once for all hands. */
struct asked {
    nh_list *whole;
    nh_list *list; /* less the sets on the table */
    uint8_t *chosen;
    struct rank_question question;
};

static bool choose_patterns(struct asked *asked, const struct pattern_choice *choice) {
    size_t size = nh_list_size(asked->list);
    asked->question.chosen_count = size;
    if (!patterns_chosen(asked->list, choice, &asked->chosen))
        return false;
    asked->question.chosen = asked->chosen;
    for (size_t i = 0; asked->chosen != NULL && i < size; i++)
        asked->question.chosen_count -= asked->chosen[i] == 0;
    return true;
}

static size_t rows_shown(const struct asked *asked, const struct rank_options *options) {
    size_t size = nh_list_size(asked->list);
    bool by_section = options->by == BY_SECTION;
    long top = options->top != TOP_ALL          ? options->top
               : options->format == FORMAT_TEXT ? by_section ? TOP_SECTIONS : TOP_TEXT
               : options->format == FORMAT_TSV  ? by_section ? TOP_ALL : 1
                                                : TOP_ALL;
    return top == TOP_ALL || (size_t)top > size ? size : (size_t)top;
}

static bool prepare_columns(struct rank_question *question) {
    if (question->format == FORMAT_JSON)
        return rank_columns_write(question, rank_json_pattern) || short_of_memory();
    if (question->format == FORMAT_TSV)
        return rank_columns_write(question, rank_tsv_pattern) || short_of_memory();
    return true;
}

static bool prepare_question(struct asked *asked, const struct rank_options *options) {
    asked->whole = list_open(options->list);
    if (asked->whole == NULL ||
        !list_take_sets(asked->whole, options->exposed.text, options->exposed.count, &asked->list))
        return false;
    struct rank_question *question = &asked->question;
    nh_situation situation = NH_SITUATION;
    situation.prevailing = options->prevailing;
    situation.seat = options->seat;
    question->draws = (int)options->draws;
    question->order = (nh_order)options->order;
    question->by = (enum rank_by)options->by;
    question->situation = situation;
    question->list = asked->list;
    question->top = rows_shown(asked, options);
    question->fit = options->top == TOP_ALL && options->format == FORMAT_TEXT;
    question->format = (enum rank_format)options->format;
    question->style = style_of_output();
    question->unicode = options->unicode;
    return option_tiles("--seen", &options->seen, asked->list, &question->situation.seen) &&
           choose_patterns(asked, &options->choice) && prepare_columns(question);
}

static void asked_free(struct asked *asked) {
    rank_columns_free(&asked->question.columns);
    free(asked->chosen);
    if (asked->list != asked->whole)
        nh_list_free(asked->list);
    nh_list_free(asked->whole);
}

/* ------------------------------------------------------------ hands --- */

static void *begin_ranker(const void *question) {
    return ranker_new(question);
}

static bool answer_line(void *ranker, const struct line *line) {
    return ranker_answer(ranker, line);
}

static void end_ranker(void *ranker) {
    ranker_free(ranker);
}

/* Checked before anything is ranked, so that a mistyped name is found at once. */
static bool files_there(const struct texts *files) {
    bool there = true;
    for (int i = 0; i < files->count; i++) {
        if (strcmp(files->text[i], "-") == 0 || access(files->text[i], R_OK) == 0)
            continue;
        complain("%s could not be read: %s", files->text[i], strerror(errno));
        there = false;
    }
    return there;
}

/* ---------------------------------------------------------- the task --- */

static int answer_hands(struct rank_question *question, const struct rank_options *options,
                        int count, char *const *words) {
    question->batch = count == 0;
    if (question->format == FORMAT_TSV)
        rank_tsv_head(question);
    struct batch_work work = {.begin = begin_ranker,
                              .answer = answer_line,
                              .end = end_ranker,
                              .context = question,
                              .apart = question->format == FORMAT_TEXT};
    return count > 0
               ? answer_words(&work, count, words)
               : answer_input(&work, &options->files, (unsigned)options->jobs, options->summary);
}

static int run(void *given, int count, char *const *words) {
    const struct rank_options *options = given;
    struct asked asked = {0};
    int status = STATUS_USAGE;
    if (count > 0 && options->files.count > 0)
        return misused("give hands by --file or as words, not both");
    if (files_there(&options->files) && prepare_question(&asked, options))
        status = answer_hands(&asked.question, options, count, words);
    asked_free(&asked);
    return status;
}

const struct task rank_task = {
    .name = "rank",
    .summary = "the patterns closest to a hand: what to keep and what to discard",
    .word = WORD_HAND,
    .about =
        "Shows which patterns a hand is closest to: how many tiles away each is, what to keep and "
        "what to discard, and the chance of completing it. Without a HAND it reads standard "
        "input, one hand a line; text after a tab is the hand's label, and lines that begin with "
        "# are skipped.",
    .rows = rows,
    .example = "nearhand rank --list jokers --seen \"444D F\" 2468B 246C 33D EEW R Wh",
    .defaults = &(const struct rank_options){.draws = NH_DRAWS_DEFAULT, .top = TOP_ALL},
    .size = sizeof(struct rank_options),
    .run = run,
};
