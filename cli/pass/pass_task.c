/* The task pass: its options, and the hands that they ask about. */
#include "pass/pass_task.h"
#include "hands/answer.h"
#include "io/message.h"
#include "io/output.h"
#include "options/option_row.h"
#include "options/option_tiles.h"
#include "patterns/choice.h"
#include "patterns/list_files.h"
#include "patterns/list_sets.h"
#include "task.h"

#include <stdlib.h>

#define TOP_MOST 1000000L
#define AHEAD_MOST 1000000L
#define COUNT_OF_LIST (-1L)

/* ---------------------------------------------------------- options --- */

struct pass_options {
    const char *list;
    nh_wind prevailing, seat;
    struct texts seen, exposed, mine, given, got;
    struct pattern_choice choice;
    long count, top, jobs, round, step, ahead;
    bool courtesy, any_size, json;
};

static const struct option_row rows[] = {
    LIST_ROW(struct pass_options),
    {"count", "K", "how many tiles, 0 to 3; the default is what the list says",
     SETS_NUMBER(struct pass_options, count, 0, NH_PASS_MAX)},
    AIM_ROW(struct pass_options, choice),
    SECTION_ROW(struct pass_options, choice),
    POINTS_ROW(struct pass_options, choice),
    SEEN_ROW(struct pass_options),
    EXPOSED_ROW(struct pass_options),
    PREVAILING_ROW(struct pass_options),
    SEAT_ROW(struct pass_options),
    {"mine", "TILES", "a pass of your own, compared with the best",
     ADDS_TEXT(struct pass_options, mine)},
    {"given", "TILES", "what you passed so far: shows which pass is next; these tiles are gone",
     ADDS_TEXT(struct pass_options, given)},
    {"got", "TILES", "what you were passed so far, to check --given by",
     ADDS_TEXT(struct pass_options, got)},
    {"round", "R", "the round of the next pass, if --given does not show it", .seldom = true,
     SETS_NUMBER(struct pass_options, round, 1, NH_CHARLESTON_ROUNDS_MAX)},
    {"step", "S", "which pass of that round is next", .seldom = true,
     SETS_NUMBER(struct pass_options, step, 1, NH_CHARLESTON_STEPS_MAX)},
    {"courtesy", NULL, "all rounds are done: how many tiles to exchange, and which",
     SETS_FLAG(struct pass_options, courtesy)},
    {"top", "N", "shows the best N passes; 5 is the default",
     SETS_NUMBER(struct pass_options, top, 0, TOP_MOST)},
    {"ahead", "N", "also estimates each pass after the passes that follow, by N simulations",
     .seldom = true, SETS_NUMBER(struct pass_options, ahead, 2, AHEAD_MOST)},
    {"any-size", NULL, "takes a hand of any number of tiles", .seldom = true,
     SETS_FLAG(struct pass_options, any_size)},
    {"json", NULL, "one JSON object a line", .seldom = true, SETS_FLAG(struct pass_options, json)},
    JOBS_ROW(struct pass_options, BATCH_JOBS_MAX),
    {0},
};

/* --------------------------------------------------------- the question --- */

/* What is made once for all hands. */
struct asked {
    nh_list *whole;
    nh_list *list; /* less the sets on the table */
    uint8_t *chosen;
    struct pass_question question;
};

static bool read_tile_options(struct asked *asked, const struct pass_options *options) {
    struct pass_question *question = &asked->question;
    const nh_list *list = asked->list;
    question->has_mine = options->mine.count > 0;
    question->has_got = options->got.count > 0;
    return option_tiles("--seen", &options->seen, list, &question->situation.seen) &&
           option_tiles("--mine", &options->mine, list, &question->mine) &&
           option_tiles("--given", &options->given, list, &question->given) &&
           option_tiles("--got", &options->got, list, &question->got);
}

static bool find_walk(struct asked *asked, const struct pass_options *options) {
    struct pass_question *question = &asked->question;
    int given = nh_tiles_total(&question->given);
    int got = nh_tiles_total(&question->got);
    if (question->has_got && got != given) {
        misused("--got has %d tile%s and --given %d: as many come in as go", got,
                got == 1 ? "" : "s", given);
        return false;
    }
    nh_tiles_add(&question->situation.seen, &question->given);
    if (options->given.count == 0 && options->round == 0 && options->step == 0 &&
        !options->courtesy)
        return true;
    struct walk_options walk = {options->round, options->step, given, options->courtesy};
    return walk_find(nh_list_charleston(asked->list), &walk, &question->walk);
}

/* The numbers of tiles that are compared. */
static void find_step_counts(struct pass_question *question, long count) {
    const nh_charleston *charleston = nh_list_charleston(question->list);
    unsigned usual = walk_in_courtesy(&question->walk) ? charleston->courtesy : charleston->tiles;
    if (count == COUNT_OF_LIST && usual > NH_PASS_MAX) {
        complain("the list passes up to %u tiles at a time; %d is the most that is worked out",
                 usual, NH_PASS_MAX);
        usual = NH_PASS_MAX;
    }
    question->most = count == COUNT_OF_LIST ? usual : (unsigned)count;
    bool any_number = walk_in_courtesy(&question->walk) || walk_blind(&question->walk);
    question->least = count == COUNT_OF_LIST && any_number ? 0 : question->most;
}

/* Passes to come after this one: those that remain, or of the first round where the
 * options do not say how far the Charleston has come. */
static void find_further(struct pass_question *question, long ahead) {
    const nh_charleston *charleston = nh_list_charleston(question->list);
    if (question->walk.on)
        question->further = question->walk.left;
    else if (charleston->rounds > 0)
        question->further = charleston->steps[0] - 1u;
    /* The average after the last pass is known exactly. */
    question->ahead = question->further > 0 ? ahead : 0;
}

/* The first tile of the player's own pass that no hand may pass. */
static const char *kept_in_mine(const struct pass_question *question) {
    const nh_charleston *charleston = nh_list_charleston(question->list);
    nh_tiles passable = nh_charleston_passable(charleston, &question->mine);
    for (int kind = 0; kind < NH_KINDS; kind++)
        if (question->mine.count[kind] > passable.count[kind])
            return nh_kind_notation(kind);
    return NULL;
}

static bool mine_fits(const struct pass_question *question) {
    unsigned mine = (unsigned)nh_tiles_total(&question->mine);
    const char *kept = kept_in_mine(question);
    if (!question->has_mine || (mine >= question->least && mine <= question->most))
        return true;
    if (kept != NULL)
        misused("--mine: %s may never be passed", kept);
    else if (question->least < question->most)
        misused("--mine has %u tiles, but at most %u are %s", mine, question->most,
                walk_blind(&question->walk) ? "passed" : "exchanged");
    else
        misused("--mine has %u tile%s, but a pass has %u (--count)", mine, mine == 1 ? "" : "s",
                question->most);
    return false;
}

static bool prepare_question(struct asked *asked, const struct pass_options *options) {
    asked->whole = list_open(options->list);
    if (asked->whole == NULL ||
        !list_take_sets(asked->whole, options->exposed.text, options->exposed.count, &asked->list))
        return false;
    struct pass_question *question = &asked->question;
    nh_situation situation = NH_SITUATION;
    situation.prevailing = options->prevailing;
    situation.seat = options->seat;
    question->situation = situation;
    question->list = asked->list;
    question->top = (size_t)options->top;
    question->any_size = options->any_size;
    question->json = options->json;
    question->style = style_of_output();
    if (!read_tile_options(asked, options) ||
        !patterns_chosen(asked->list, &options->choice, &asked->chosen) ||
        !find_walk(asked, options))
        return false;
    question->chosen = asked->chosen;
    find_step_counts(question, options->count);
    find_further(question, options->ahead);
    return mine_fits(question);
}

static void asked_free(struct asked *asked) {
    free(asked->chosen);
    if (asked->list != asked->whole)
        nh_list_free(asked->list);
    nh_list_free(asked->whole);
}

/* ---------------------------------------------------------- the task --- */

static void *begin_passer(const void *question) {
    return passer_new(question);
}

static bool answer_line(void *passer, const struct line *line) {
    return passer_answer(passer, line);
}

static void end_passer(void *passer) {
    passer_free(passer);
}

static int run(void *given, int count, char *const *words) {
    static const struct texts standard_input = {NULL, 0};
    const struct pass_options *options = given;
    struct asked asked = {0};
    int status = STATUS_USAGE;
    if (prepare_question(&asked, options)) {
        struct pass_question *question = &asked.question;
        struct batch_work work = {.begin = begin_passer,
                                  .answer = answer_line,
                                  .end = end_passer,
                                  .context = question,
                                  .apart = !question->json};
        question->batch = count == 0;
        status = count > 0 ? answer_words(&work, count, words)
                           : answer_input(&work, &standard_input, (unsigned)options->jobs, false);
    }
    asked_free(&asked);
    return status;
}

const struct task pass_task = {
    .name = "pass",
    .summary = "which tiles to pass, and what another pass would cost",
    .word = WORD_HAND,
    .about =
        "Shows which tiles of a hand to pass, so that the closest pattern is the fewest tiles away "
        "on average once as many tiles have come in at random. Without a HAND it reads standard "
        "input, one hand a line, as rank does.",
    .rows = rows,
    .example = "nearhand pass --given \"1B 9C N\" --got \"3D EW\" 2468B 246C 33D EEW R",
    .defaults = &(const struct pass_options){.count = COUNT_OF_LIST, .top = PASS_TOP},
    .size = sizeof(struct pass_options),
    .run = run,
};
