/* The task survey: its options, and the parts that it puts together. */
#define _POSIX_C_SOURCE 200809L
#include "survey/survey_task.h"
#include "io/message.h"
#include "io/output.h"
#include "io/output_file.h"
#include "io/whole_file.h"
#include "options/option_row.h"
#include "patterns/list_files.h"
#include "system/halt.h"
#include "task.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
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
#define LIST_BYTES_MAX ((size_t)NH_LIST_BYTES_MAX)

/* ------------------------------------------------------------- options --- */

struct survey_options {
    const char *list, *out;
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
    JOBS_ROW(struct survey_options, JOBS_MOST),
    {0},
};

/* ------------------------------------------------------- the survey's key --- */

/* FNV-1a with 64 bits (Fowler, Noll, Vo; draft-eastlake-fnv), from memory: it tells lists
 * apart that were mixed up, not ones that were made to look alike. */
static bool find_print(const char *path, char print[17]) {
    size_t length;
    char *bytes = file_bytes(path, LIST_BYTES_MAX, &length);
    uint64_t hash = UINT64_C(0xcbf29ce484222325);
    if (bytes == NULL)
        return false;
    for (size_t i = 0; i < length; i++)
        hash = (hash ^ (unsigned char)bytes[i]) * UINT64_C(0x100000001b3);
    free(bytes);
    snprintf(print, 17, "%016" PRIx64, hash);
    return true;
}

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

static void print(const struct survey_options *options, const struct survey_key *key,
                  const struct counts *counts) {
    if (options->json)
        survey_json(key, counts);
    else
        survey_text(key, counts);
}

/* How to go on after a stop. */
static void say_stopped(const struct survey_options *options, const struct counts *counts) {
    if (options->out != NULL)
        complain("stopped after %" PRIu64 " games; go on with the same options and --resume",
                 counts->games);
    else
        complain("stopped after %" PRIu64 " games; go on with --first %" PRIu64
                 ", then put the parts together with --merge",
                 counts->games, options->first + counts->games);
}

static int play(const struct survey_options *options, const nh_list *list, const char *path,
                const struct survey_key *key, struct counts *counts) {
    struct survey_plan plan = {
        .key = key,
        .list = list,
        .games = {options->first, options->first + options->games - 1},
        .jobs = jobs_of(options),
        .out = options->out,
    };
    if (plan.out != NULL && (!output_file_spares(plan.out, path) || !output_file_ready(plan.out)))
        return STATUS_USAGE;
    if (plan.out != NULL && !options->resume && access(plan.out, F_OK) == 0) {
        complain("%s: there is such a file; go on from it with --resume, or name another",
                 plan.out);
        return STATUS_USAGE;
    }
    if (options->resume && plan.out != NULL && access(plan.out, F_OK) == 0 &&
        !part_read(plan.out, key, counts))
        return STATUS_USAGE;
    halt_on_signals();
    if (!survey_run(&plan, counts))
        return STATUS_USAGE;
    if (counts->games > 0)
        print(options, key, counts);
    if (!halted_by_signal() || counts->games >= options->games)
        return STATUS_ANSWERED;
    if (output_flush())
        say_stopped(options, counts);
    return STATUS_STOPPED;
}

/* The settings of a merge are those of its first part. */
static int merge(const struct survey_options *options, struct survey_key *key,
                 struct counts *counts, const struct texts *words) {
    char print_here[17], title[PART_TITLE_SIZE];
    memcpy(print_here, key->print, sizeof print_here);
    if (!part_key(options->parts.text[0], key, title))
        return STATUS_USAGE;
    if (strcmp(print_here, key->print) != 0) {
        complain("%s: it is a survey of \"%s\"; name that list, as it was then, with --list",
                 options->parts.text[0], title);
        return STATUS_USAGE;
    }
    for (int i = 0; i < options->parts.count; i++)
        if (!part_read(options->parts.text[i], key, counts))
            return STATUS_USAGE;
    for (int i = 0; i < words->count; i++)
        if (!part_read(words->text[i], key, counts))
            return STATUS_USAGE;
    print(options, key, counts);
    return STATUS_ANSWERED;
}

static int survey(const struct survey_options *options, const char *path, const nh_list *list,
                  const struct texts *words) {
    struct survey_key key = key_of(options, list);
    struct counts counts;
    if (!find_print(path, key.print))
        return STATUS_USAGE;
    if (options->record > 0)
        return survey_record(&key, list, options->record) ? STATUS_ANSWERED : STATUS_USAGE;
    bool good = counts_new(&counts, list);
    int status = !good                      ? STATUS_USAGE
                 : options->parts.count > 0 ? merge(options, &key, &counts, words)
                                            : play(options, list, path, &key, &counts);
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
    if (options->record > 0 && (options->parts.count > 0 || options->out != NULL))
        return misused("--record prints one game: leave out --merge and --out");
    if (options->parts.count > 0 && (options->out != NULL || has_settings(options)))
        return misused("--merge prints parts together, with the settings that they have: leave "
                       "out all options but --list and --json");
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
    .example = "nearhand survey --list club --games 1000",
    .defaults = &(const struct survey_options){.first = FIRST, .games = GAMES, .look = NH_LOOK_MAX},
    .size = sizeof(struct survey_options),
    .run = run,
};
