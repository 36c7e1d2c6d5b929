/* The task rank: reads its options, and has the hands that they tell answered. */
#define _POSIX_C_SOURCE 200809L
#include "rank/rank_task.h"
#include "hands/answer.h"
#include "io/message.h"
#include "io/options.h"
#include "io/output.h"
#include "patterns/list_files.h"
#include "patterns/sections.h"
#include "task.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define TOP_MOST 1000000L

/* ---------------------------------------------------------- options --- */

struct rank_options {
    struct shared_options shared;
    struct texts seen, sections, files;
    long draws, top, jobs;
    enum rank_format format;
    bool unicode, summary;
};

enum {
    OPTION_TOP = OPTION_OWN,
    OPTION_SEEN,
    OPTION_SECTION,
    OPTION_DRAWS,
    OPTION_UNICODE,
    OPTION_FORMAT,
    OPTION_FILE,
    OPTION_JOBS,
    OPTION_SUMMARY
};

static const struct option option_table[] = {
    SHARED_OPTION_ROWS,
    {"top", required_argument, NULL, OPTION_TOP},
    {"seen", required_argument, NULL, OPTION_SEEN},
    {"section", required_argument, NULL, OPTION_SECTION},
    {"draws", required_argument, NULL, OPTION_DRAWS},
    {"unicode", no_argument, NULL, OPTION_UNICODE},
    {"format", required_argument, NULL, OPTION_FORMAT},
    {"file", required_argument, NULL, OPTION_FILE},
    {"jobs", required_argument, NULL, OPTION_JOBS},
    {"summary", no_argument, NULL, OPTION_SUMMARY},
    {NULL, 0, NULL, 0},
};

static int help(void) {
    output_text("nearhand rank [OPTION ...] [HAND]\n"
                "\n"
                "Ranks the patterns of a list by how many tiles a hand is away from them, then\n"
                "by the chance of getting those. Without a HAND, each line of standard input is\n"
                "one; text behind a tab is its label, and lines that begin with # are remarks.\n"
                "\n"
                "  --list FILE|NAME    a list in a file, or by name: club (if not told), jokers,\n"
                "                      traditional, or one in ~/.local/share/nearhand/lists\n"
                "  --seen TILES        tiles known to be gone: exposed, discarded, passed\n"
                "  --prevailing WIND   the prevailing wind, E, S, W or N; without it each is\n"
                "                      tried, and the answer tells which\n"
                "  --seat WIND         your own wind, likewise\n"
                "  --section TEXT      only sections with TEXT in their name; may be repeated\n"
                "  --draws K           the chance is that of K more tiles, 20 if not told: what\n"
                "                      one of four players draws until all tiles are gone\n"
                "  --top N             the first N patterns; if not told 10, in json all, tsv 1\n"
                "  --unicode           writes tiles as Unicode tile characters\n"
                "  --format FORMAT     text, json (one object a line) or tsv (columns with tabs)\n"
                "  --json              the same as --format json\n"
                "  --file FILE         hands are the lines of FILE (- standard input); repeatable\n"
                "  --jobs N            threads for many hands; if not told, one a processor\n"
                "  --summary           tells at the end how many hands were ranked\n"
                "\n"
                "Example: nearhand rank --list jokers --seen \"444D F\" 2468B 246C 33D EEW R Wh\n");
    return STATUS_ANSWERED;
}

static bool take_format(const char *value, enum rank_format *format) {
    static const char *const names[] = {"text", "json", "tsv"};
    for (int i = 0; i < 3; i++)
        if (strcmp(value, names[i]) == 0) {
            *format = (enum rank_format)i;
            return true;
        }
    misused("--format '%s': text, json or tsv is wanted", value);
    return false;
}

static bool set(bool *flag) {
    *flag = true;
    return true;
}

static bool take(int option, const char *value, void *taken) {
    struct rank_options *options = taken;
    switch (option) {
    case OPTION_TOP:
        return option_number("--top", value, 0, TOP_MOST, &options->top);
    case OPTION_SEEN:
        return option_text(&options->seen, value);
    case OPTION_SECTION:
        return option_text(&options->sections, value);
    case OPTION_DRAWS:
        return option_number("--draws", value, 0, NH_DRAWS_MAX, &options->draws);
    case OPTION_UNICODE:
        return set(&options->unicode);
    case OPTION_FORMAT:
        return take_format(value, &options->format);
    case OPTION_JSON:
        return take_format("json", &options->format);
    case OPTION_FILE:
        return option_text(&options->files, value);
    case OPTION_JOBS:
        return option_number("--jobs", value, 1, BATCH_JOBS_MAX, &options->jobs);
    case OPTION_SUMMARY:
        return set(&options->summary);
    default:
        return option_shared(option, value, &options->shared);
    }
}

/* --------------------------------------------------------- the question --- */

/* Everything that is made once and serves for every hand. */
struct asked {
    nh_list *list;
    uint8_t *chosen;
    struct rank_question question;
};

static bool choose_sections(struct asked *asked, const struct texts *sections) {
    size_t size = nh_list_size(asked->list);
    asked->question.chosen_count = size;
    if (sections->count == 0)
        return true;
    asked->chosen = calloc(size, 1);
    if (asked->chosen == NULL)
        return short_of_memory();
    for (int i = 0; i < sections->count; i++)
        if (!section_choose(asked->list, sections->text[i], asked->chosen))
            return false;
    asked->question.chosen = asked->chosen;
    asked->question.chosen_count = 0;
    for (size_t i = 0; i < size; i++)
        asked->question.chosen_count += asked->chosen[i];
    return true;
}

static size_t rows_shown(const struct asked *asked, const struct rank_options *options) {
    size_t size = nh_list_size(asked->list);
    long top = options->top != TOP_ALL          ? options->top
               : options->format == FORMAT_TEXT ? TOP_TEXT
               : options->format == FORMAT_TSV  ? 1
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

static bool prepare(struct asked *asked, const struct rank_options *options) {
    asked->list = list_open(options->shared.list);
    if (asked->list == NULL)
        return false;
    struct rank_question *question = &asked->question;
    nh_situation situation = NH_SITUATION;
    situation.prevailing = options->shared.prevailing;
    situation.seat = options->shared.seat;
    question->draws = (int)options->draws;
    question->situation = situation;
    question->list = asked->list;
    question->top = rows_shown(asked, options);
    question->format = options->format;
    question->style = style_of_output();
    question->unicode = options->unicode;
    return option_tiles_of("--seen", &options->seen, asked->list, &question->situation.seen) &&
           choose_sections(asked, &options->sections) && prepare_columns(question);
}

static void asked_free(struct asked *asked) {
    rank_columns_free(&asked->question.columns);
    free(asked->chosen);
    nh_list_free(asked->list);
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

/* Before anything is ranked, so that a name that was mistyped is found at
 * once. */
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

static int answer(struct rank_question *question, const struct rank_options *options, int count,
                  char *const *words) {
    question->batch = count == 0;
    if (question->format == FORMAT_TSV)
        rank_tsv_head();
    struct batch_work work = {begin_ranker, answer_line, end_ranker, question,
                              question->format == FORMAT_TEXT};
    return count > 0
               ? answer_words(&work, count, words)
               : answer_input(&work, &options->files, (unsigned)options->jobs, options->summary);
}

static int run(const struct rank_options *options, int count, char *const *words) {
    struct asked asked = {0};
    int status = STATUS_USAGE;
    if (count > 0 && options->files.count > 0)
        return misused("hands come from --file or as words, not both");
    if (files_there(&options->files) && prepare(&asked, options))
        status = answer(&asked.question, options, count, words);
    asked_free(&asked);
    return status;
}

int rank_run(int argc, char **argv) {
    struct rank_options options = {
        .draws = NH_DRAWS_DEFAULT, .top = TOP_ALL, .jobs = jobs_if_not_told()};
    const char **texts = calloc(3 * (size_t)argc, sizeof *texts);
    if (texts == NULL) {
        short_of_memory();
        return STATUS_USAGE;
    }
    options.seen.text = texts;
    options.sections.text = texts + argc;
    options.files.text = texts + 2 * (size_t)argc;
    int status = STATUS_USAGE;
    if (options_read(argc, argv, option_table, take, &options))
        status = options.shared.help ? help() : run(&options, argc - optind, argv + optind);
    free((void *)texts);
    return status;
}
