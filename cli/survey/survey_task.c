/* The task survey: its options, and the parts that it puts together. */
#define _POSIX_C_SOURCE 200809L
#include "survey/survey_task.h"
#include "io/message.h"
#include "io/output.h"
#include "io/output_file.h"
#include "options/option_row.h"
#include "patterns/list_files.h"
#include "survey/figures.h"
#include "survey/fingerprint.h"
#include "survey/part_lock.h"
#include "system/halt.h"
#include "task.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

const char *const survey_passes[] = {[NH_PASS_BEST] = "best", [NH_PASS_SPARE] = "spare", NULL};
const char *const survey_discards[] = {[NH_DISCARD_AWAY] = "away",
                                       [NH_DISCARD_EXPECTED] = "expected",
                                       [NH_DISCARD_CHANCE] = "chance",
                                       [NH_DISCARD_WORTH] = "worth",
                                       NULL};
const char *const survey_claims[] = {
    [NH_CLAIM_WORTH] = "worth", [NH_CLAIM_ALWAYS] = "always", [NH_CLAIM_NEVER] = "never", NULL};

#define GAMES_MOST UINT64_C(1000000000)
#define FIRST 1 /* unless the options say other games */
#define GAMES 100
#define JOBS_MOST 64

/* ------------------------------------------------------------- options --- */

struct survey_options {
    const char *list, *out, *html;
    struct texts parts;
    struct seed seed;
    uint64_t first, games, record;
    long look, jobs;
    int passes, discards, claims;
    bool json, resume;
};

static const struct option_row rows[] = {
    LIST_ROW(struct survey_options),
    {"games", "N", "how many games; 100 is the default",
     SETS_UNSIGNED(struct survey_options, games, 1, GAMES_MOST)},
    {"first", "N", "the number of the first game; 1 is the default", .seldom = true,
     SETS_UNSIGNED(struct survey_options, first, 1, GAMES_MOST)},
    {"seed", "N", "the games' seed; 1 is the default", SETS_SEED(struct survey_options, seed)},
    {"passing", "HOW",
     "best (exact, the default) or spare (what the nearest target has no use for)",
     SETS_CHOICE(struct survey_options, passes, survey_passes)},
    {"discarding", "ORDER", "away (the default), expected, chance or worth",
     SETS_CHOICE(struct survey_options, discards, survey_discards)},
    {"claiming", "WHEN", "sets: worth (the default), always or never",
     SETS_CHOICE(struct survey_options, claims, survey_claims)},
    {"look", "K", "tiles that discards look ahead, 1 to 3 (the default)", .seldom = true,
     SETS_NUMBER(struct survey_options, look, 1, NH_LOOK_MAX)},
    {"out", "FILE", "keeps what was counted, every minute and at the end",
     SETS_TEXT(struct survey_options, out)},
    {"resume", NULL, "goes on from what --out FILE has", .seldom = true,
     SETS_FLAG(struct survey_options, resume)},
    {"merge", "FILE", "puts parts together, this and the FILEs behind it",
     ADDS_TEXT(struct survey_options, parts)},
    {"record", "N", "plays game N alone and prints what happens as lines of JSON", .seldom = true,
     SETS_UNSIGNED(struct survey_options, record, 1, GAMES_MOST)},
    {"json", NULL, "one JSON object, which --merge reads", SETS_FLAG(struct survey_options, json)},
    {"html", "FILE", "writes a page for browsers too; - for standard output alone",
     SETS_TEXT(struct survey_options, html)},
    JOBS_ROW(struct survey_options, JOBS_MOST),
    {0},
};

/* ------------------------------------------------------- the survey's key --- */

static struct survey_key key_of(const struct survey_options *options, const nh_list *list) {
    struct survey_key key = {.list = nh_list_title(list),
                             .seed = options->seed.given ? options->seed.value : 1,
                             .way = NH_WAY};
    key.way.pass = (nh_way_pass)options->passes;
    key.way.discard = (nh_discard_order)options->discards;
    key.way.claim = (nh_way_claim)options->claims;
    key.way.look = (int)options->look;
    return key;
}

static unsigned jobs_of(const struct survey_options *options) {
    long processors = sysconf(_SC_NPROCESSORS_ONLN);
    long jobs = options->jobs > 0 ? options->jobs : processors;
    return (unsigned)(jobs < 1 ? 1 : jobs > JOBS_MOST ? JOBS_MOST : jobs);
}

/* --------------------------------------------------------------- tasks --- */

static bool page_to_output(const struct survey_options *options) {
    return options->html != NULL && strcmp(options->html, "-") == 0;
}

static bool page_to_file(const struct survey_options *options) {
    return options->html != NULL && !page_to_output(options);
}

/* Whether the page goes to a file of its own that can be written. */
static int check_page(const struct survey_options *options, const char *list,
                      const struct texts *words) {
    if (!page_to_file(options))
        return STATUS_ANSWERED;
    bool good = output_file_spares(options->html, list) &&
                (options->out == NULL || output_files_differ(options->html, options->out));
    for (int i = 0; i < options->parts.count && good; i++)
        good = output_file_spares(options->html, options->parts.text[i]);
    for (int i = 0; i < words->count && good; i++)
        good = output_file_spares(options->html, words->text[i]);
    return !good                              ? STATUS_USAGE
           : output_file_ready(options->html) ? STATUS_ANSWERED
                                              : STATUS_OUTPUT;
}

static bool write_survey_page(const char *path, const struct survey_key *key,
                              const struct counts *counts, const size_t *order) {
    struct page page = {0};
    output_to(&page);
    survey_page(key, counts, order);
    output_to(NULL);
    bool good = output_file_write(path, &page);
    page_free(&page);
    return good;
}

static int print(const struct survey_options *options, const struct survey_key *key,
                 const struct counts *counts) {
    size_t *order = patterns_by_wins(counts);
    if (order == NULL)
        return STATUS_USAGE;
    if (options->json)
        survey_json(key, counts);
    else if (page_to_output(options))
        survey_page(key, counts, order);
    else
        survey_text(key, counts, order);
    bool good = !page_to_file(options) || write_survey_page(options->html, key, counts, order);
    free(order);
    return good ? STATUS_ANSWERED : STATUS_OUTPUT;
}

/* How to go on after a stop. */
static void say_stopped(const struct survey_options *options, uint64_t played) {
    if (options->out != NULL)
        complain("stopped after %" PRIu64 " games; go on with the same options and --resume",
                 played);
    else
        complain("stopped after %" PRIu64 " games; go on with --first %" PRIu64 " --games %" PRIu64
                 ", then put the parts together with --merge",
                 played, options->first + played, options->games - played);
}

/* Plays the games of the plan, and prints what was counted. */
static int play(const struct survey_options *options, const struct survey_plan *plan,
                struct counts *counts) {
    halt_on_signals();
    int status = survey_run(plan, counts);
    uint64_t played = counts_within(counts, plan->games);
    if (status != STATUS_ANSWERED)
        return status;
    if (counts->games > 0)
        status = print(options, plan->key, counts);
    if (status != STATUS_ANSWERED || !halted_by_signal() || played == options->games)
        return status;
    if (output_flush())
        say_stopped(options, played);
    return STATUS_STOPPED;
}

/* Reads what the file has of the survey already, if it may have any. */
static int resume(const struct survey_options *options, const struct survey_key *key,
                  struct counts *counts) {
    struct stat status;
    if (stat(options->out, &status) != 0 || !S_ISREG(status.st_mode))
        return STATUS_ANSWERED;
    if (options->resume)
        return part_read(options->out, key, counts) ? STATUS_ANSWERED : STATUS_USAGE;
    complain("%s: there is such a file; go on from it with --resume, or name another",
             options->out);
    return STATUS_USAGE;
}

/* With the file that it is kept in locked. */
static int play_kept(const struct survey_options *options, const char *path,
                     const struct survey_plan *plan, struct counts *counts) {
    struct part_lock lock;
    if (options->out == NULL)
        return play(options, plan, counts);
    if (!output_file_spares(options->out, path))
        return STATUS_USAGE;
    if (!output_file_ready(options->out))
        return STATUS_OUTPUT;
    if (!part_lock_hold(&lock, options->out))
        return STATUS_USAGE;
    int status = resume(options, plan->key, counts);
    if (status == STATUS_ANSWERED)
        status = play(options, plan, counts);
    part_lock_release(&lock);
    return status;
}

/* Whether this program can pass as the list wants it. */
static bool check_passes(const struct survey_options *options, const nh_list *list) {
    const nh_charleston *charleston = nh_list_charleston(list);
    if (options->passes != NH_PASS_BEST || charleston->rounds == 0 ||
        charleston->tiles <= NH_PASS_MAX)
        return true;
    complain("this list passes %u tiles at a time; nearhand finds best passes of up to %d: "
             "play with --passing spare",
             charleston->tiles, NH_PASS_MAX);
    return false;
}

/* The settings of a merge are those of its first part. */
static int merge(const struct survey_options *options, struct survey_key *key,
                 struct counts *counts, const struct texts *words) {
    char print_here[FINGERPRINT_SIZE], title[PART_TITLE_SIZE];
    memcpy(print_here, key->print, sizeof print_here);
    if (!part_key(options->parts.text[0], key, title))
        return STATUS_USAGE;
    if (strcmp(print_here, key->print) != 0) {
        complain("%s: it is a survey of \"%s\"; name that list, as it was then, with --list",
                 options->parts.text[0], title);
        return STATUS_USAGE;
    }
    key->list = nh_list_title(counts->list);
    for (int i = 0; i < options->parts.count; i++)
        if (!part_read(options->parts.text[i], key, counts))
            return STATUS_USAGE;
    for (int i = 0; i < words->count; i++)
        if (!part_read(words->text[i], key, counts))
            return STATUS_USAGE;
    return print(options, key, counts);
}

static int play_or_merge(const struct survey_options *options, const char *path,
                         struct survey_key *key, struct counts *counts, const struct texts *words) {
    struct survey_plan plan = {
        .key = key,
        .list = counts->list,
        .games = {options->first, options->first + options->games - 1},
        .jobs = jobs_of(options),
        .out = options->out,
    };
    if (options->parts.count > 0)
        return merge(options, key, counts, words);
    return play_kept(options, path, &plan, counts);
}

static int survey(const struct survey_options *options, const char *path, const nh_list *list,
                  const struct texts *words) {
    struct survey_key key = key_of(options, list);
    struct counts counts;
    if (!fingerprint_list(path, key.print))
        return STATUS_USAGE;
    if (options->parts.count == 0 && !check_passes(options, list))
        return STATUS_USAGE;
    if (options->record > 0)
        return survey_record(&key, list, options->record) ? STATUS_ANSWERED : STATUS_USAGE;
    int status = check_page(options, path, words);
    if (status != STATUS_ANSWERED)
        return status;
    status = counts_new(&counts, list) ? play_or_merge(options, path, &key, &counts, words)
                                       : STATUS_USAGE;
    counts_free(&counts);
    return status;
}

/* Whether anything is said of games to be played. */
static bool has_settings(const struct survey_options *options) {
    return options->seed.given || options->first != FIRST || options->games != GAMES ||
           options->look != NH_LOOK_MAX || options->passes != NH_PASS_BEST ||
           options->discards != NH_DISCARD_AWAY || options->claims != NH_CLAIM_WORTH;
}

/* Options that do not go together. */
static int check(const struct survey_options *options) {
    if (options->resume && options->out == NULL)
        return misused("--resume goes on from a file: say which with --out");
    if (options->record > 0 &&
        (options->parts.count > 0 || options->out != NULL || options->html != NULL))
        return misused("--record prints one game: leave out --merge, --out and --html");
    if (options->json && page_to_output(options))
        return misused("--json and --html - both print: name a file for the page");
    if (options->parts.count > 0 && (options->out != NULL || has_settings(options)))
        return misused("--merge prints parts together, with the settings that they have: leave "
                       "out all options but --list, --json and --html");
    return STATUS_ANSWERED;
}

static int run(void *given, int count, char *const *words) {
    struct survey_options *options = given;
    char path[LIST_PATH_SIZE];
    int status = check(options);
    if (status != STATUS_ANSWERED)
        return status;
    if (count > 0 && options->parts.count == 0)
        return misused("'%s': only --merge takes files", words[0]);
    if (!list_find(options->list, path))
        return STATUS_USAGE;
    nh_list *list = list_load(path);
    if (list == NULL)
        return STATUS_USAGE;
    status = survey(options, path, list, &(struct texts){(const char **)words, count});
    nh_list_free(list);
    return status;
}

const struct task survey_task = {
    .name = "survey",
    .word = WORD_FILES,
    .summary = "whole games, many of them: which patterns win, and what they pay",
    .about =
        "Plays whole games between four players who pass, discard and claim in a named way, and "
        "counts how often each pattern is the nearest, how often it is won, and what it pays. A "
        "game is the same wherever it is played, so a survey can be split between machines: "
        "parts that are merged, in any order, give what one run over all their games gives.",
    .rows = rows,
    .example = "nearhand survey --list club --games 100",
    .defaults = &(const struct survey_options){.first = FIRST, .games = GAMES, .look = NH_LOOK_MAX},
    .size = sizeof(struct survey_options),
    .run = run,
};
