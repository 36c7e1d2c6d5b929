/* The task progress: what the history tells of a player's rounds. */
#include "progress/progress_task.h"
#include "history/history.h"
#include "io/message.h"
#include "io/options.h"
#include "io/output.h"
#include "nearhand.h"
#include "task.h"

#include <errno.h>
#include <string.h>

#define SESSIONS_DEFAULT 5
#define SESSIONS_MOST 1000000L

struct progress_options {
    bool json, ascii, help;
    long sessions;
    const char *history, *svg;
};

enum { OPTION_HISTORY = OPTION_OWN, OPTION_SESSIONS, OPTION_ASCII, OPTION_SVG };

static const struct option option_table[] = {
    {"history", required_argument, NULL, OPTION_HISTORY},
    {"sessions", required_argument, NULL, OPTION_SESSIONS},
    {"ascii", no_argument, NULL, OPTION_ASCII},
    {"svg", required_argument, NULL, OPTION_SVG},
    {"json", no_argument, NULL, OPTION_JSON},
    {"help", no_argument, NULL, 'h'},
    {NULL, 0, NULL, 0},
};

static int help(void) {
    output_text("nearhand progress [OPTION ...]\n"
                "\n"
                "Tells how the rounds of nearhand drill went: the median time of a round, the\n"
                "share of rounds within the limit, and the median cost of a pass, by list and\n"
                "level and by session. A line of the history that is no record is told with\n"
                "its number and passed over.\n"
                "\n"
                "  --history FILE      nearhand/history.jsonl in $XDG_DATA_HOME or\n"
                "                      ~/.local/share if not told\n"
                "  --sessions N        the table has the last N sessions, 5 if not told\n"
                "  --ascii             draws bars without block characters\n"
                "  --svg FILE          draws time and cost of every session into FILE as well\n"
                "  --json              one JSON object, with all sessions\n"
                "\n"
                "Example: nearhand progress --svg practice.svg\n");
    return STATUS_ANSWERED;
}

static bool take(int option, const char *value, void *taken) {
    struct progress_options *options = taken;
    switch (option) {
    case OPTION_HISTORY:
        options->history = value;
        return true;
    case OPTION_SESSIONS:
        return option_number("--sessions", value, 0, SESSIONS_MOST, &options->sessions);
    case OPTION_ASCII:
        options->ascii = true;
        return true;
    case OPTION_SVG:
        options->svg = value;
        return true;
    case OPTION_JSON:
        options->json = true;
        return true;
    case 'h':
        options->help = true;
        return true;
    default:
        misused_option();
        return false;
    }
}

static int tell(const struct practice *practice, const struct progress_options *options) {
    if (options->json)
        practice_json(practice);
    else
        practice_text(practice, (size_t)options->sessions, options->ascii);
    if (options->svg != NULL && !practice_svg(practice, options->svg))
        return STATUS_OUTPUT;
    return practice->damaged > 0 ? STATUS_UNREAD : STATUS_ANSWERED;
}

static int run(const struct progress_options *options) {
    char place[HISTORY_PATH_SIZE];
    const char *path = options->history != NULL ? options->history : place;
    struct practice practice = {0};
    int status = STATUS_USAGE;
    if (options->history == NULL && !history_path(place))
        return STATUS_USAGE;
    enum practice_result result = practice_read(&practice, path, options->json);
    /* Before the first round there is no history, unless one is named. */
    if (result == PRACTICE_READ || (result == PRACTICE_MISSING && options->history == NULL))
        status = tell(&practice, options);
    else if (result == PRACTICE_MISSING)
        complain("%s could not be read: %s", path, strerror(ENOENT));
    practice_free(&practice);
    return status;
}

int progress_run(int argc, char **argv) {
    struct progress_options options = {.sessions = SESSIONS_DEFAULT};
    if (!options_read(argc, argv, option_table, take, &options))
        return STATUS_USAGE;
    if (optind < argc)
        return misused("'%s' is not an option", argv[optind]);
    return options.help ? help() : run(&options);
}
