/* The task progress: what the history says of a player's rounds. */
#include "progress/progress_task.h"
#include "history/history.h"
#include "io/message.h"
#include "io/output.h"
#include "io/output_file.h"
#include "nearhand.h"
#include "options/option_row.h"
#include "task.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

#define SESSIONS_DEFAULT 5
#define SESSIONS_MOST 1000000L

struct progress_options {
    bool json, ascii, rounds, round;
    long sessions;   /* -1: not given */
    uint64_t number; /* of the round */
    const char *history, *svg;
};

static bool store_round(const char *value, void *stored) {
    struct progress_options *options = stored;
    char *end = NULL;
    bool last = strcmp(value, "last") == 0;
    options->round = true;
    options->number = LAST_ROUND;
    errno = 0;
    if (!last && value[0] >= '1' && value[0] <= '9')
        options->number = strtoull(value, &end, 10);
    if (last || (end != NULL && *end == '\0' && errno == 0))
        return true;
    misused("--round '%s': type the number of a round, or last", value);
    return false;
}

static const struct option_row rows[] = {
    {"history", "FILE", "the default is nearhand/history.jsonl in $XDG_DATA_HOME or ~/.local/share",
     SETS_TEXT(struct progress_options, history)},
    {"sessions", "N", "the table has the last N sessions; 5 is the default",
     SETS_NUMBER(struct progress_options, sessions, 0, SESSIONS_MOST)},
    {"rounds", NULL, "lists all rounds with their numbers",
     SETS_FLAG(struct progress_options, rounds)},
    {"round", "R", "shows the review of round R again; --round last that of the last one",
     .kind = OPTION_SPECIAL, .read_value = store_round},
    {"ascii", NULL, "draws bars without block characters",
     SETS_FLAG(struct progress_options, ascii)},
    {"svg", "FILE", "also draws time and cost of every session into FILE",
     SETS_TEXT(struct progress_options, svg)},
    {"json", NULL, "one JSON object, with all sessions", SETS_FLAG(struct progress_options, json)},
    {0},
};

static bool options_agree(const struct progress_options *options) {
    bool one_by_one = options->rounds || options->round;
    if (options->rounds && options->round)
        misused("--rounds lists all rounds, --round shows one: leave out one of them");
    else if (one_by_one && options->json)
        misused("--json has sums of rounds; the history itself has every round as a line of JSON");
    else if (one_by_one && (options->svg != NULL || options->ascii || options->sessions >= 0))
        misused("--rounds and --round go with no other option but --history");
    else
        return true;
    return false;
}

int no_rounds_yet(void) {
    output_text("No rounds yet: play some with nearhand drill.\n");
    return STATUS_ANSWERED;
}

static int sums_out(struct practice *practice, const struct progress_options *options) {
    size_t shown = options->sessions >= 0 ? (size_t)options->sessions : SESSIONS_DEFAULT;
    if (options->json)
        practice_json(practice);
    else
        practice_text(practice, shown, options->ascii);
    if (options->svg != NULL && !practice_svg(practice, options->svg))
        return STATUS_OUTPUT;
    if (practice->failed)
        return STATUS_OUTPUT;
    return practice->damaged > 0 ? STATUS_UNREAD : STATUS_ANSWERED;
}

static int answer(const struct progress_options *options, struct history_lines *lines) {
    struct practice practice;
    if (options->rounds)
        return rounds_list(lines);
    if (options->round)
        return round_review(lines, options->number);
    practice_begin(&practice, PRACTICE_MEMORY);
    int status = STATUS_USAGE;
    if (practice_read(&practice, lines, options->json))
        status = sums_out(&practice, options);
    else if (practice.failed)
        status = STATUS_OUTPUT;
    practice_free(&practice);
    return status;
}

static int run(void *given, int count, char *const *words) {
    const struct progress_options *options = given;
    (void)count;
    (void)words;
    char place[HISTORY_PATH_SIZE];
    const char *path = options->history != NULL ? options->history : place;
    struct history_lines lines;
    int status = STATUS_USAGE;
    if (!options_agree(options) || (options->history == NULL && !history_path(place)))
        return STATUS_USAGE;
    if (options->svg != NULL && !output_file_spares(options->svg, path))
        return STATUS_USAGE;
    if (options->svg != NULL && !output_file_ready(options->svg))
        return STATUS_OUTPUT;
    enum history_state state = history_open(&lines, path);
    /* Before the first round there is no history, unless one is named. */
    if (state == HISTORY_OPEN || (state == HISTORY_MISSING && options->history == NULL))
        status = answer(options, &lines);
    else if (state == HISTORY_MISSING)
        complain("%s could not be read: %s", path, strerror(ENOENT));
    history_close(&lines);
    return status;
}

const struct task progress_task = {
    .name = "progress",
    .summary = "how your rounds of drill went, over time",
    .about =
        "Shows how your rounds of nearhand drill went: the median time of a round, the share of "
        "rounds within the limit, and the median cost of a pass, by list and level and by "
        "session; or past rounds one by one. A line of the history that is no record is reported "
        "with its number and skipped.",
    .rows = rows,
    .example = "nearhand progress --svg practice.svg",
    .defaults = &(const struct progress_options){.sessions = -1},
    .size = sizeof(struct progress_options),
    .run = run,
};
