/* The task progress: what the history tells of a player's rounds. */
#include "progress/progress_task.h"
#include "history/history.h"
#include "io/message.h"
#include "io/output.h"
#include "io/output_file.h"
#include "nearhand.h"
#include "options/option_row.h"
#include "task.h"

#include <errno.h>
#include <string.h>

#define SESSIONS_DEFAULT 5
#define SESSIONS_MOST 1000000L

struct progress_options {
    bool json, ascii;
    long sessions;
    const char *history, *svg;
};

static const struct option_row rows[] = {
    {"history", "FILE", "the default is nearhand/history.jsonl in $XDG_DATA_HOME or ~/.local/share",
     SETS_TEXT(struct progress_options, history)},
    {"sessions", "N", "the table has the last N sessions; 5 is the default",
     SETS_NUMBER(struct progress_options, sessions, 0, SESSIONS_MOST)},
    {"ascii", NULL, "draws bars without block characters",
     SETS_FLAG(struct progress_options, ascii)},
    {"svg", "FILE", "also draws time and cost of every session into FILE",
     SETS_TEXT(struct progress_options, svg)},
    {"json", NULL, "one JSON object, with all sessions", SETS_FLAG(struct progress_options, json)},
    {0},
};

static int tell(const struct practice *practice, const struct progress_options *options) {
    if (options->json)
        practice_json(practice);
    else
        practice_text(practice, (size_t)options->sessions, options->ascii);
    if (options->svg != NULL && !practice_svg(practice, options->svg))
        return STATUS_OUTPUT;
    return practice->damaged > 0 ? STATUS_UNREAD : STATUS_ANSWERED;
}

static int run(void *given, int count, char *const *words) {
    const struct progress_options *options = given;
    (void)count;
    (void)words;
    char place[HISTORY_PATH_SIZE];
    const char *path = options->history != NULL ? options->history : place;
    struct practice practice = {0};
    int status = STATUS_USAGE;
    if (options->history == NULL && !history_path(place))
        return STATUS_USAGE;
    if (options->svg != NULL && !output_file_spares(options->svg, path))
        return STATUS_USAGE;
    if (options->svg != NULL && !output_file_ready(options->svg))
        return STATUS_OUTPUT;
    enum practice_result result = practice_read(&practice, path, options->json);
    /* Before the first round there is no history, unless one is named. */
    if (result == PRACTICE_READ || (result == PRACTICE_MISSING && options->history == NULL))
        status = tell(&practice, options);
    else if (result == PRACTICE_MISSING)
        complain("%s could not be read: %s", path, strerror(ENOENT));
    practice_free(&practice);
    return status;
}

const struct task progress_task = {
    .name = "progress",
    .summary = "how your rounds of drill went, over time",
    .about =
        "Shows how your rounds of nearhand drill went: the median time of a round, the share of "
        "rounds within the limit, and the median cost of a pass, by list and level and by "
        "session. A line of the history that is no record is reported with its number and "
        "skipped.",
    .rows = rows,
    .example = "nearhand progress --svg practice.svg",
    .defaults = &(const struct progress_options){.sessions = SESSIONS_DEFAULT},
    .size = sizeof(struct progress_options),
    .run = run,
};
