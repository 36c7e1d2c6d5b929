/* The task drill: rounds of passing and of choosing a pattern against the
 * clock, each with a review, and kept in the player's history. */
#define _POSIX_C_SOURCE 200809L
#include "drill/drill_task.h"
#include "deal/dealing.h"
#include "history/history.h"
#include "io/flow.h"
#include "io/halt.h"
#include "io/message.h"
#include "io/options.h"
#include "io/output.h"
#include "io/text.h"
#include "patterns/list_files.h"
#include "task.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#define ROUNDS_MOST 100
#define ROUNDS_DEFAULT 3
#define LIMIT_MOST 3600L /* seconds, of a round and of a decision */
#define DEALS_MOST UINT64_C(1000000000000000)

/* ---------------------------------------------------------- options --- */

struct drill_options {
    struct shared_options shared;
    uint64_t first, seed;
    long rounds, limit, fixed;
    const char *level, *history;
    bool seeded, unkept;
};

enum {
    OPTION_ROUNDS = OPTION_OWN,
    OPTION_SEED,
    OPTION_FIRST,
    OPTION_LEVEL,
    OPTION_LIMIT,
    OPTION_CLOCK,
    OPTION_HISTORY,
    OPTION_UNKEPT
};

static const struct option option_table[] = {
    {"list", required_argument, NULL, OPTION_LIST},
    {"rounds", required_argument, NULL, OPTION_ROUNDS},
    {"seed", required_argument, NULL, OPTION_SEED},
    {"first", required_argument, NULL, OPTION_FIRST},
    {"seat", required_argument, NULL, OPTION_SEAT},
    {"level", required_argument, NULL, OPTION_LEVEL},
    {"limit", required_argument, NULL, OPTION_LIMIT},
    {"clock", required_argument, NULL, OPTION_CLOCK},
    {"history", required_argument, NULL, OPTION_HISTORY},
    {"no-history", no_argument, NULL, OPTION_UNKEPT},
    {"help", no_argument, NULL, 'h'},
    {NULL, 0, NULL, 0},
};

static int help(void) {
    output_text("nearhand drill [OPTION ...]\n"
                "\n"
                "Deals hands; you pass tiles as the list says and name the pattern you go for.\n"
                "The clock runs while you decide and forbids nothing; the review has the best\n"
                "passes beside yours. The others pass their best, and go on with an optional\n"
                "Charleston if one more best pass brings their hand nearer in expectation.\n"
                "Rules of the event and the house decide whether aids may be used at a table:\n"
                "this is for practice, review and list keeping.\n"
                "\n"
                "  --list FILE|NAME    as in rank; club if not told\n"
                "  --rounds N          3 if not told; each has the next deal\n"
                "  --seed N            the same deals again; if not told a random one, as in deal\n"
                "  --first N           the number of the first deal, 1 if not told\n"
                "  --seat WIND         E (if not told) is the dealer\n"
                "  --level LEVEL       beginner (if not told), intermediate or advanced: 4, 3\n"
                "                      or 2 minutes a round (common practice)\n"
                "  --limit TIME        another time, such as 90s or 2m\n"
                "  --clock CLOCK       fixed:N lets every decision count N seconds, for scripts\n"
                "  --history FILE      where rounds are kept; see progress\n"
                "  --no-history        keeps nothing\n"
                "\n"
                "Example: nearhand drill --level advanced --rounds 5\n");
    return STATUS_ANSWERED;
}

static bool take_level(const char *value, struct drill_options *options) {
    static const char *const names[] = {"beginner", "intermediate", "advanced"};
    for (int i = 0; i < 3; i++)
        if (strcmp(value, names[i]) == 0) {
            options->level = names[i];
            return true;
        }
    misused("--level '%s': beginner, intermediate or advanced is wanted", value);
    return false;
}

static bool take_seconds(const char *digits, const char *end, long unit, long least,
                         long *seconds) {
    long number = 0;
    for (const char *at = digits; at < end; at++) {
        if (*at < '0' || *at > '9' || number > LIMIT_MOST)
            return false;
        number = 10 * number + (*at - '0');
    }
    *seconds = number * unit;
    return digits < end && *seconds >= least && *seconds <= LIMIT_MOST;
}

static bool take_limit(const char *value, long *limit) {
    size_t length = strlen(value);
    char unit = length > 0 ? value[length - 1] : '\0';
    if ((unit == 's' || unit == 'm') &&
        take_seconds(value, value + length - 1, unit == 'm' ? 60 : 1, 1, limit))
        return true;
    misused("--limit '%s': seconds or minutes are wanted, such as 90s or 2m, at most 60m", value);
    return false;
}

static bool take_clock(const char *value, long *fixed) {
    static const char word[] = "fixed:";
    size_t length = strlen(word);
    if (strncmp(value, word, length) == 0 &&
        take_seconds(value + length, value + strlen(value), 1, 0, fixed))
        return true;
    misused("--clock '%s': fixed: and seconds are wanted, such as fixed:20", value);
    return false;
}

static bool take(int option, const char *value, void *taken) {
    struct drill_options *options = taken;
    switch (option) {
    case OPTION_ROUNDS:
        return option_number("--rounds", value, 1, ROUNDS_MOST, &options->rounds);
    case OPTION_SEED:
        options->seeded = true;
        return option_unsigned("--seed", value, 0, UINT64_MAX, &options->seed);
    case OPTION_FIRST:
        return option_unsigned("--first", value, 1, DEALS_MOST, &options->first);
    case OPTION_LEVEL:
        return take_level(value, options);
    case OPTION_LIMIT:
        return take_limit(value, &options->limit);
    case OPTION_CLOCK:
        return take_clock(value, &options->fixed);
    case OPTION_HISTORY:
        options->history = value;
        return true;
    case OPTION_UNKEPT:
        options->unkept = true;
        return true;
    default:
        return option_shared(option, value, &options->shared);
    }
}

static bool read_options(int argc, char **argv, struct drill_options *options) {
    if (!options_read(argc, argv, option_table, take, options))
        return false;
    if (optind < argc)
        misused("'%s' is not an option", argv[optind]);
    else if (options->level != NULL && options->limit > 0)
        misused("--level and --limit are two limits: tell one");
    else if (options->history != NULL && options->unkept)
        misused("--history and --no-history contradict each other");
    else
        return true;
    return false;
}

/* --------------------------------------------------------- the session --- */

/* Rounds that were played to their end, for the table. */
struct session {
    struct drill drill;
    struct drill_round *rounds;
    size_t played;
    const char *history; /* NULL: nothing is kept */
    bool lost;           /* a round could not be kept */
};

static void tell_start(const struct drill *drill, long rounds) {
    struct text line;
    char limit[24];
    const char *title = nh_list_title(drill->list);
    clock_text((double)drill->limit, limit);
    text_clear(&line);
    text_add_cut(&line, title, strlen(title), 40);
    text_add_format(&line, ", seed %s", drill->seed_text);
    text_print(&line);
    output_format("%ld round%s of %s%s%s. ? tells what may be typed.\n", rounds,
                  rounds == 1 ? "" : "s", limit, drill->level != NULL ? ", " : "",
                  drill->level != NULL ? drill->level : "");
}

static void keep(struct session *session, const struct drill_round *round) {
    review_round(&session->drill, round);
    if (session->history != NULL && !record_append(&session->drill, round, session->history))
        session->lost = true;
    session->played++;
}

static void tell_session(const struct session *session) {
    if (session->played == 0) {
        output_text("\nNo round was played to its end.\n");
        return;
    }
    review_head();
    for (size_t i = 0; i < session->played; i++)
        review_row(&session->drill, &session->rounds[i]);
}

static int play(struct session *session, long rounds) {
    enum drill_end end = DRILL_DONE;
    tell_start(&session->drill, rounds);
    halt_on_signals();
    for (unsigned number = 1; number <= (unsigned)rounds && end != DRILL_QUIT; number++) {
        struct drill_round *round = &session->rounds[session->played];
        *round = (struct drill_round){.number = number};
        output_format("\nRound %u of %ld. ", number, rounds);
        end = drill_play(&session->drill, round);
        if (end == DRILL_FAILED)
            return STATUS_USAGE;
        if (end == DRILL_DONE)
            keep(session, round);
    }
    tell_session(session);
    if (halted_by_signal())
        return STATUS_STOPPED;
    return session->lost ? STATUS_OUTPUT : STATUS_ANSWERED;
}

/* The table, with players in the other three seats. */
static bool set_table(struct drill *drill) {
    if (nh_workspace_new(drill->list, NULL, &drill->workspace) != NH_OK ||
        nh_exact_player_new(drill->workspace, NULL, &drill->others) != NH_OK ||
        nh_table_new(drill->list, NULL, &drill->table) != NH_OK)
        return false;
    for (int seat = 0; seat < NH_SEATS; seat++)
        if (seat != drill->seat)
            nh_table_seat(drill->table, seat, nh_exact_play, drill->others);
    drill->figures = figures_new(drill->workspace);
    return drill->figures != NULL;
}

static bool prepare(struct session *session, const struct drill_options *options) {
    struct drill *drill = &session->drill;
    const nh_list *list = drill->list;
    if (nh_list_charleston(list)->tiles > NH_PASS_MAX) {
        complain("the list passes %d tiles at a time; best passes are worked out for at most %d",
                 nh_list_charleston(list)->tiles, NH_PASS_MAX);
        return false;
    }
    session->rounds = calloc((size_t)options->rounds, sizeof *session->rounds);
    if (session->rounds == NULL || !set_table(drill))
        return short_of_memory();
    return true;
}

static void session_free(struct session *session) {
    figures_free(session->drill.figures);
    nh_table_free(session->drill.table);
    nh_exact_player_free(session->drill.others);
    nh_workspace_free(session->drill.workspace);
    free(session->rounds);
}

/* The same for the rounds of one session, and for no others. */
static void name_session(char *name, size_t size) {
    struct tm parts;
    time_t now = time(NULL);
    char when[32] = "";
    if (gmtime_r(&now, &parts) != NULL)
        strftime(when, sizeof when, "%Y-%m-%dT%H:%M:%SZ", &parts);
    snprintf(name, size, "%s %ld", when, (long)getpid());
}

static long level_limit(const char *level) {
    /* Common practice. */
    return strcmp(level, "beginner") == 0 ? 240 : strcmp(level, "intermediate") == 0 ? 180 : 120;
}

static bool find_history(const struct drill_options *options, char *path, const char **history) {
    if (options->unkept)
        return true;
    *history = options->history != NULL ? options->history : path;
    return (options->history != NULL || history_path(path)) && history_prepare(*history);
}

static int run(struct drill_options *options) {
    char path[HISTORY_PATH_SIZE];
    char name[64];
    char seed[24];
    struct session session = {.played = 0};
    if (!options->seeded)
        options->seed = fresh_seed();
    if (options->limit == 0 && options->level == NULL)
        options->level = "beginner";
    name_session(name, sizeof name);
    snprintf(seed, sizeof seed, "%" PRIu64, options->seed);
    nh_list *list = list_open(options->shared.list);
    if (list == NULL)
        return STATUS_USAGE;
    nh_wind seat = options->shared.seat;
    session.drill = (struct drill){
        .list = list,
        .prompt = {.fixed = options->fixed},
        .session = name,
        .seed_text = seed,
        .level = options->level,
        .seed = options->seed,
        .first = options->first,
        .limit = options->level != NULL ? level_limit(options->level) : options->limit,
        .seat = seat == NH_WIND_UNKNOWN ? 0 : (int)seat - (int)NH_WIND_EAST,
    };
    int status = STATUS_USAGE;
    if (prepare(&session, options) && find_history(options, path, &session.history))
        status = play(&session, options->rounds);
    session_free(&session);
    nh_list_free(list);
    return status;
}

int drill_run(int argc, char **argv) {
    struct drill_options options = {.rounds = ROUNDS_DEFAULT, .first = 1, .fixed = -1};
    if (!read_options(argc, argv, &options))
        return STATUS_USAGE;
    return options.shared.help ? help() : run(&options);
}
