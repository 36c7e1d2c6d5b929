/* The task read: its options, and the hands that they ask about. */
#include "read/read_task.h"
#include "hands/answer.h"
#include "io/message.h"
#include "options/option_row.h"
#include "options/option_tiles.h"
#include "patterns/list_files.h"
#include "patterns/list_sets.h"
#include "task.h"

#include <stdlib.h>

#define TOP_MOST 1000000L
#define HIDDEN_NOT_GIVEN (-1)

struct read_options {
    const char *list;
    nh_wind prevailing, seat;
    struct texts exposed, players, seen, discarded, files;
    long hidden, top, jobs;
    bool json;
};

static const struct option_row rows[] = {
    LIST_ROW(struct read_options),
    {"exposed", "SETS", "the player's sets on the table: 444D EEEJ",
     ADDS_TEXT(struct read_options, exposed)},
    {"player", "SETS", "one of several players, by their sets; repeatable",
     ADDS_TEXT(struct read_options, players)},
    {"discarded", "TILES", "tiles that players discarded; they are gone",
     ADDS_TEXT(struct read_options, discarded)},
    {"seen", "TILES", "other tiles that are gone, such as your own sets",
     ADDS_TEXT(struct read_options, seen)},
    {"hidden", "K", "how many tiles they hide, if not the usual number",
     SETS_NUMBER(struct read_options, hidden, 0, NH_TARGET_MAX - 1)},
    {"top", "N", "shows N patterns and N other tiles; 8 is the default",
     SETS_NUMBER(struct read_options, top, 0, TOP_MOST)},
    PREVAILING_ROW(struct read_options),
    {"seat", "WIND", "the player's wind, in the same way", SETS_WIND(struct read_options, seat)},
    {"json", NULL, "one JSON object a line", SETS_FLAG(struct read_options, json)},
    {"file", "FILE", "hands of yours from FILE, one a line; - is standard input", .seldom = true,
     ADDS_TEXT(struct read_options, files)},
    JOBS_ROW(struct read_options, BATCH_JOBS_MAX),
    {0},
};

/* --------------------------------------------------------- the question --- */

static bool add_read_players(struct read_question *question, const struct read_options *options) {
    question->several = options->players.count > 0;
    if (!question->several)
        return players_add(&question->players, "--exposed", options->exposed.text,
                           options->exposed.count);
    if (options->exposed.count == 0)
        return players_add_each(&question->players, &options->players);
    misused("--exposed is for one player, --player for each of several; take one of them");
    return false;
}

/* Tiles that are gone for all, and the winds. */
static bool add_gone(struct read_question *question, const struct read_options *options) {
    nh_tiles discarded;
    nh_situation situation = NH_SITUATION;
    if (!option_tiles("--seen", &options->seen, question->whole, &situation.seen) ||
        !option_tiles("--discarded", &options->discarded, question->whole, &discarded))
        return false;
    situation.prevailing = options->prevailing;
    situation.seat = options->seat;
    nh_tiles_add(&situation.seen, &discarded);
    players_know(&question->players, &situation);
    return true;
}

static bool check_alone(const struct read_question *question, const struct read_options *options) {
    if (question->players.count > 1 && options->hidden != HIDDEN_NOT_GIVEN) {
        misused("--hidden is for one player");
        return false;
    }
    if (question->players.count > 1 && options->seat != NH_WIND_UNKNOWN) {
        misused("--seat is for one player");
        return false;
    }
    return true;
}

static bool prepare_question(struct read_question *question, const struct read_options *options) {
    question->whole = list_open(options->list);
    if (question->whole == NULL)
        return false;
    question->players.whole = question->whole;
    question->players.hidden =
        options->hidden == HIDDEN_NOT_GIVEN ? NH_HIDDEN_AS_LIST : (int)options->hidden;
    question->top = (size_t)options->top;
    question->json = options->json;
    question->style = style_of_output();
    return add_read_players(question, options) && check_alone(question, options) &&
           add_gone(question, options) &&
           (options->files.count == 0 || players_cancel_on_stop(&question->players));
}

static void question_free(struct read_question *question) {
    players_free(&question->players);
    nh_list_free(question->whole);
}

/* ---------------------------------------------------------- the task --- */

static void *begin_reader(const void *question) {
    return hand_reader_new(question);
}

static bool answer_line(void *reader, const struct line *line) {
    return hand_reader_answer(reader, line);
}

static bool reader_was_cancelled(const void *reader) {
    return hand_reader_cancelled(reader);
}

static void end_reader(void *reader) {
    hand_reader_free(reader);
}

/* Without a hand one's own tiles are not known. */
static int answer_none(const struct read_question *question) {
    struct hand_reader *reader = hand_reader_new(question);
    if (reader == NULL) {
        short_of_memory();
        return STATUS_USAGE;
    }
    bool answered = hand_reader_answer(reader, NULL);
    hand_reader_free(reader);
    return answered ? STATUS_ANSWERED : STATUS_USAGE;
}

static int run(void *given, int count, char *const *words) {
    const struct read_options *options = given;
    struct read_question question = {0};
    int status = STATUS_USAGE;
    if (count > 0 && options->files.count > 0)
        return misused("a HAND and --file are two ways to give a hand; take one of them");
    if (prepare_question(&question, options)) {
        struct batch_work work = {.begin = begin_reader,
                                  .answer = answer_line,
                                  .end = end_reader,
                                  .context = &question,
                                  .apart = !question.json,
                                  .cancelled = reader_was_cancelled};
        question.batch = options->files.count > 0;
        if (question.batch)
            status = answer_input(&work, &options->files, (unsigned)options->jobs, false);
        else
            status = count > 0 ? answer_words(&work, count, words) : answer_none(&question);
    }
    question_free(&question);
    return status;
}

const struct task read_task = {
    .name = "read",
    .summary = "what another player can be making, and which tile is dangerous",
    .word = WORD_HAND,
    .about =
        "Shows which patterns another player can still be making, and how dangerous each tile is: "
        "of the hands they can hide that are one tile short, the share that it completes. HAND "
        "is what you hold; without it nothing is known of your tiles.",
    .rows = rows,
    .example = "nearhand read --list jokers --exposed EEEJ 2468B 246C 33D EW R Wh",
    .defaults = &(const struct read_options){.hidden = HIDDEN_NOT_GIVEN, .top = READ_TOP},
    .size = sizeof(struct read_options),
    .run = run,
};
