/* The task drill: rounds of passing and of choosing a pattern against the
 * clock, each with a review, and kept in the player's history. */
#define _POSIX_C_SOURCE 200809L
#include "deal/dealing.h"
#include "deal/training.h"
#include "drill/drill.h"
#include "drill/own_set.h"
#include "history/history.h"
#include "io/flow.h"
#include "io/message.h"
#include "io/output.h"
#include "io/output_file.h"
#include "io/text.h"
#include "options/option_row.h"
#include "patterns/list_files.h"
#include "system/clock.h"
#include "system/halt.h"
#include "task.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define ROUNDS_MOST 100
#define ROUNDS_DEFAULT 3
#define LIMIT_MOST 3600L /* seconds, of a round and of a decision */
#define DEALS_MOST UINT64_C(1000000000000000)

/* ---------------------------------------------------------- options --- */

struct drill_options {
    const char *list, *history;
    uint64_t first;
    struct seed seed;
    nh_wind seat, prevailing;
    long rounds, limit, fixed;
    int level; /* a place in `levels`, or -1 */
    struct training_options training;
    bool unkept, own, play;
};

/* Common practice. */
static const char *const levels[] = {"beginner", "intermediate", "advanced", NULL};
static const long level_limits[] = {240, 180, 120};

static bool parse_seconds(const char *digits, const char *end, long unit, long least,
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

static bool store_limit(const char *value, void *given) {
    struct drill_options *options = given;
    size_t length = strlen(value);
    char unit = length > 0 ? value[length - 1] : '\0';
    if ((unit == 's' || unit == 'm') &&
        parse_seconds(value, value + length - 1, unit == 'm' ? 60 : 1, 1, &options->limit))
        return true;
    misused("--limit takes seconds or minutes such as 90s or 2m, at most 60m, not '%s'", value);
    return false;
}

static bool store_clock(const char *value, void *given) {
    static const char word[] = "fixed:";
    struct drill_options *options = given;
    size_t length = strlen(word);
    if (strncmp(value, word, length) == 0 &&
        parse_seconds(value + length, value + strlen(value), 1, 0, &options->fixed))
        return true;
    misused("--clock takes fixed: and seconds such as fixed:20, not '%s'", value);
    return false;
}

static const struct option_row rows[] = {
    LIST_ROW(struct drill_options),
    {"rounds", "N", "3 is the default; each has the next deal",
     SETS_NUMBER(struct drill_options, rounds, 1, ROUNDS_MOST)},
    {"seed", "N", "deals the same hands again; without it a random one",
     SETS_SEED(struct drill_options, seed)},
    {"first", "N", "the number of the first deal; 1 is the default", .seldom = true,
     SETS_UNSIGNED(struct drill_options, first, 1, DEALS_MOST)},
    {"seat", "WIND", "E (the default) deals", .seldom = true,
     SETS_WIND(struct drill_options, seat)},
    TRAIN_AIM_ROW(struct drill_options, training),
    TRAIN_SECTION_ROW(struct drill_options, training),
    TRAIN_POINTS_ROW(struct drill_options, training),
    TRAIN_WITHIN_ROW(struct drill_options, training),
    {"play", NULL, "the game goes on after the passes, to its end",
     SETS_FLAG(struct drill_options, play)},
    {"own", NULL, "with your own set: type what you draw and what comes in",
     SETS_FLAG(struct drill_options, own)},
    {"prevailing", "WIND", "the prevailing wind, with --own", .seldom = true,
     SETS_WIND(struct drill_options, prevailing)},
    {"level", "LEVEL",
     "beginner (the default), intermediate or advanced: 4, 3 or 2 minutes a round (common "
     "practice)",
     SETS_CHOICE(struct drill_options, level, levels)},
    {"limit", "TIME", "another time, such as 90s or 2m", .kind = OPTION_SPECIAL,
     .read_value = store_limit},
    {"clock", "CLOCK", "fixed:N counts N seconds for every decision, for scripts", .seldom = true,
     .kind = OPTION_SPECIAL, .read_value = store_clock},
    {"history", "FILE", "where rounds are kept; see nearhand progress", .seldom = true,
     SETS_TEXT(struct drill_options, history)},
    {"no-history", NULL, "keeps nothing", .seldom = true, SETS_FLAG(struct drill_options, unkept)},
    {0},
};

static bool options_agree(const struct drill_options *options) {
    if (options->own &&
        (options->seed.given || options->first > 1 || training_picks(&options->training)))
        misused("--own deals nothing: leave out --seed, --first, --aim, --section and "
                "--points-from");
    else if (options->own && options->play)
        misused("--play needs the other players: leave out --own");
    else if (options->prevailing != NH_WIND_UNKNOWN && !options->own)
        misused("the dice choose the prevailing wind: --prevailing is for --own");
    else if (options->level >= 0 && options->limit > 0)
        misused("--level and --limit are two limits: leave out one");
    else if (options->history != NULL && options->unkept)
        misused("--history and --no-history contradict each other: leave out one");
    else
        return training_agrees(&options->training);
    return false;
}

/* --------------------------------------------------------- the session --- */

/* Rounds that were played to their end, for the table. */
struct session {
    struct drill drill;
    struct drill_round *rounds;
    size_t played;
    const char *history; /* NULL: nothing is kept */
    uint8_t *chosen;     /* patterns that deals must train, or NULL */
    int within;          /* see struct training */
    bool lost;           /* a round could not be kept */
};

static void tell_start(const struct drill *drill, long rounds) {
    struct text line;
    char limit[24];
    const char *title = nh_list_title(drill->list);
    clock_text((double)drill->limit, limit);
    text_clear(&line);
    text_add_cut(&line, title, strlen(title), 40);
    if (drill->own == NULL)
        text_add_format(&line, ", seed %s", drill->seed_text);
    text_print(&line);
    output_format("%ld round%s of %s%s%s. Type ? for help.\n", rounds, rounds == 1 ? "" : "s",
                  limit, drill->level != NULL ? ", " : "",
                  drill->level != NULL ? drill->level : "");
}

/* Which deals are picked. */
static void tell_training(const struct session *session) {
    size_t size = nh_list_size(session->drill.list), patterns = 0;
    if (session->chosen == NULL)
        return;
    for (size_t i = 0; i < size; i++)
        patterns += session->chosen[i] != 0;
    output_text("Only deals where ");
    if (patterns == 1)
        output_text("the pattern");
    else
        output_format("one of %zu patterns", patterns);
    if (session->within >= 0)
        output_format(" is at most %d away.\n", session->within);
    else
        output_text(" is closest.\n");
}

/* A round is in the history before its review is printed: who sees the one has the
 * other, even if the program is killed in between. */
static void keep_round(struct session *session, const struct drill_round *round) {
    if (session->history != NULL && !record_append(&session->drill, round, session->history))
        session->lost = true;
    review_round(&session->drill, round);
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

/* The next deal of the drill, from `*deal` on. */
static bool pick_deal(const struct session *session, uint64_t *deal) {
    const struct drill *drill = &session->drill;
    struct training training = {.list = drill->list,
                                .workspace = drill->workspace,
                                .chosen = session->chosen,
                                .within = session->within,
                                .seat = drill->seat,
                                .seed = drill->seed};
    uint64_t from = *deal;
    if (training_deal(&training, from, deal))
        return true;
    if (!halted())
        training_complain(&training, from);
    return false;
}

static int play_rounds(struct session *session, long rounds) {
    enum drill_end end = DRILL_DONE;
    uint64_t deal = session->drill.first;
    tell_start(&session->drill, rounds);
    tell_training(session);
    halt_on_signals();
    for (unsigned number = 1; number <= (unsigned)rounds && end != DRILL_QUIT; number++) {
        struct drill_round *round = &session->rounds[session->played];
        if (!pick_deal(session, &deal))
            return halted_by_signal() ? STATUS_STOPPED : STATUS_USAGE;
        *round = (struct drill_round){.number = number, .deal = deal};
        deal++;
        output_format("\nRound %u of %ld. ", number, rounds);
        end = drill_play(&session->drill, round);
        if (end == DRILL_FAILED)
            return STATUS_USAGE;
        if (end == DRILL_DONE)
            keep_round(session, round);
    }
    tell_session(session);
    if (halted_by_signal())
        return STATUS_STOPPED;
    return session->lost ? STATUS_OUTPUT : STATUS_ANSWERED;
}

/* The table, with players in the other three seats. */
static bool set_table(struct drill *drill) {
    if (nh_exact_player_new(drill->workspace, NULL, &drill->others) != NH_OK ||
        nh_table_new(drill->list, NULL, &drill->table) != NH_OK)
        return false;
    for (int seat = 0; seat < NH_SEATS; seat++)
        if (seat != drill->seat)
            nh_table_seat(drill->table, seat, nh_exact_play, drill->others);
    return true;
}

/* The game after the passes, with players in the other three seats. */
static bool set_game(struct drill *drill) {
    nh_error error;
    if (nh_way_player_new(drill->workspace, NULL, NULL, &drill->way, &error) != NH_OK ||
        nh_game_new(drill->list, NULL, &drill->game) != NH_OK)
        return false;
    for (int seat = 0; seat < NH_SEATS; seat++)
        if (seat != drill->seat)
            nh_way_player_seat(drill->way, drill->game, seat);
    return true;
}

/* What rounds are played with: a table, or the player's own set. */
static bool set_up(struct drill *drill, const struct drill_options *options) {
    if (nh_workspace_new(drill->list, NULL, &drill->workspace) != NH_OK)
        return false;
    drill->figures = figures_new(drill->workspace);
    if (options->own)
        drill->own = own_set_new(drill);
    return drill->figures != NULL && (options->own ? drill->own != NULL : set_table(drill)) &&
           (!options->play || set_game(drill));
}

static bool prepare_session(struct session *session, const struct drill_options *options) {
    struct drill *drill = &session->drill;
    const nh_list *list = drill->list;
    if (nh_list_charleston(list)->tiles > NH_PASS_MAX) {
        complain("the list passes %d tiles at a time; best passes are worked out for at most %d",
                 nh_list_charleston(list)->tiles, NH_PASS_MAX);
        return false;
    }
    session->within = (int)options->training.within;
    if (!patterns_chosen(list, &options->training.choice, &session->chosen))
        return false;
    session->rounds = calloc((size_t)options->rounds, sizeof *session->rounds);
    if (session->rounds == NULL || !set_up(drill, options))
        return short_of_memory();
    return true;
}

static void session_free(struct session *session) {
    figures_free(session->drill.figures);
    own_set_free(session->drill.own);
    nh_table_free(session->drill.table);
    nh_exact_player_free(session->drill.others);
    nh_game_free(session->drill.game);
    nh_way_player_free(session->drill.way);
    nh_workspace_free(session->drill.workspace);
    free(session->rounds);
    free(session->chosen);
}

/* The same for the rounds of one session, and for no others. */
static void name_session(char *name, size_t size) {
    char date[CLOCK_DATE_SIZE];
    clock_date(date);
    snprintf(name, size, "%s %ld", date, (long)getpid());
}

/* Rounds go to no file that is read, which is the list. */
static bool find_history(const struct drill_options *options, const char *list, char *path,
                         const char **history) {
    if (options->unkept)
        return true;
    *history = options->history != NULL ? options->history : path;
    return (options->history != NULL || history_path(path)) && output_file_spares(*history, list) &&
           history_prepare(*history);
}

static struct drill drill_asked(const struct drill_options *options, nh_list *list) {
    bool own_limit = options->limit > 0;
    int level = options->level < 0 ? 0 : options->level;
    return (struct drill){
        .list = list,
        .prompt = {.fixed = options->fixed},
        .level = own_limit ? NULL : levels[level],
        .seed = options->own          ? 0
                : options->seed.given ? options->seed.value
                                      : fresh_seed(),
        .first = options->first,
        .limit = own_limit ? options->limit : level_limits[level],
        .prevailing = options->prevailing,
        .seat = options->seat == NH_WIND_UNKNOWN ? 0 : (int)options->seat - (int)NH_WIND_EAST,
    };
}

static int run(void *given, int count, char *const *words) {
    const struct drill_options *options = given;
    char path[HISTORY_PATH_SIZE], list_path[LIST_PATH_SIZE];
    char name[64];
    char seed[24];
    struct session session = {.played = 0};
    (void)count;
    (void)words;
    if (!options_agree(options))
        return STATUS_USAGE;
    nh_list *list = list_find(options->list, list_path) ? list_load(list_path) : NULL;
    if (list == NULL)
        return STATUS_USAGE;
    session.drill = drill_asked(options, list);
    name_session(name, sizeof name);
    snprintf(seed, sizeof seed, "%" PRIu64, session.drill.seed);
    session.drill.session = name;
    session.drill.seed_text = seed;
    int status = STATUS_USAGE;
    if (prepare_session(&session, options) &&
        find_history(options, list_path, path, &session.history))
        status = play_rounds(&session, options->rounds);
    session_free(&session);
    nh_list_free(list);
    return status;
}

const struct task drill_task = {
    .name = "drill",
    .summary = "practise passing and choosing a pattern against the clock",
    .about =
        "Deals hands; you pass tiles as the list says and name the pattern you go for. The clock "
        "runs while you decide but stops nothing; afterwards you see the best passes beside "
        "yours.\n"
        "The rules of your event or house decide whether aids may be used at a table: this is for "
        "practice, review and list keeping.",
    .rows = rows,
    .example = "nearhand drill --level advanced --rounds 5",
    .defaults = &(const struct drill_options){.rounds = ROUNDS_DEFAULT,
                                              .first = 1,
                                              .training.within = TRAINING_CLOSEST,
                                              .fixed = -1,
                                              .level = -1},
    .size = sizeof(struct drill_options),
    .run = run,
};
