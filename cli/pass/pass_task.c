/* The task pass: reads its options, and has the hands that they tell answered. */
#include "pass/pass_task.h"
#include "hands/answer.h"
#include "io/message.h"
#include "io/options.h"
#include "io/output.h"
#include "patterns/list_files.h"
#include "patterns/patterns_by_name.h"
#include "task.h"

#include <stdlib.h>

#define TOP_MOST 1000000L
#define AHEAD_MOST 1000000L
#define UNTOLD (-1L)

/* ---------------------------------------------------------- options --- */

struct pass_options {
    struct shared_options shared;
    struct texts seen, aims, mine, given, got;
    long count, top, jobs, round, step, ahead;
    bool courtesy;
};

enum {
    OPTION_COUNT = OPTION_OWN,
    OPTION_AIM,
    OPTION_SEEN,
    OPTION_TOP,
    OPTION_MINE,
    OPTION_JOBS,
    OPTION_ROUND,
    OPTION_STEP,
    OPTION_GIVEN,
    OPTION_GOT,
    OPTION_COURTESY,
    OPTION_AHEAD
};

static const struct option option_table[] = {
    SHARED_OPTION_ROWS,
    {"count", required_argument, NULL, OPTION_COUNT},
    {"aim", required_argument, NULL, OPTION_AIM},
    {"seen", required_argument, NULL, OPTION_SEEN},
    {"top", required_argument, NULL, OPTION_TOP},
    {"mine", required_argument, NULL, OPTION_MINE},
    {"jobs", required_argument, NULL, OPTION_JOBS},
    {"round", required_argument, NULL, OPTION_ROUND},
    {"step", required_argument, NULL, OPTION_STEP},
    {"given", required_argument, NULL, OPTION_GIVEN},
    {"got", required_argument, NULL, OPTION_GOT},
    {"courtesy", no_argument, NULL, OPTION_COURTESY},
    {"ahead", required_argument, NULL, OPTION_AHEAD},
    {NULL, 0, NULL, 0},
};

static int help(void) {
    output_text(
        "nearhand pass [OPTION ...] [HAND]\n"
        "\n"
        "Tells which tiles of a hand to pass: once as many have come in at random, the\n"
        "nearest pattern is the fewest tiles away on average. Without a HAND, each\n"
        "line of standard input is one, as for rank.\n"
        "\n"
        "  --list FILE|NAME    a list, as for rank: club if not told\n"
        "  --count K           how many tiles, 0 to 3; if not told as the list has it\n"
        "  --aim PATTERN       only patterns with that in their name; may be repeated\n"
        "  --seen TILES        tiles known to be gone\n"
        "  --prevailing WIND   the prevailing wind, E, S, W or N; without it, each\n"
        "  --seat WIND         your own wind, likewise\n"
        "  --mine TILES        a pass of your own, judged against the best\n"
        "  --top N             the first N passes, 5 if not told\n"
        "  --ahead N           after the passes to come, too: N simulated courses of each\n"
        "  --json              one JSON object a line\n"
        "  --jobs N            threads for many hands; if not told, one a processor\n"
        "  --given TILES       passed away so far: says which pass is next, and is gone\n"
        "  --got TILES         all that came in so far, to check the others by\n"
        "  --round R           the round of the next pass, if --given does not tell\n"
        "  --step S            which pass of that round it is\n"
        "  --courtesy          all rounds are over: how many tiles to exchange, and which\n"
        "\n"
        "Example: nearhand pass --given \"1B 9C N\" --got \"3D EW\" 2468B 246C 33D EEW R\n");
    return STATUS_ANSWERED;
}

static bool take(int option, const char *value, void *taken) {
    struct pass_options *options = taken;
    switch (option) {
    case OPTION_COUNT:
        return option_number("--count", value, 0, NH_PASS_MAX, &options->count);
    case OPTION_AIM:
        return option_text(&options->aims, value);
    case OPTION_SEEN:
        return option_text(&options->seen, value);
    case OPTION_TOP:
        return option_number("--top", value, 0, TOP_MOST, &options->top);
    case OPTION_MINE:
        return option_text(&options->mine, value);
    case OPTION_JOBS:
        return option_number("--jobs", value, 1, BATCH_JOBS_MAX, &options->jobs);
    case OPTION_ROUND:
        return option_number("--round", value, 1, NH_CHARLESTON_ROUNDS_MAX, &options->round);
    case OPTION_STEP:
        return option_number("--step", value, 1, NH_CHARLESTON_STEPS_MAX, &options->step);
    case OPTION_GIVEN:
        return option_text(&options->given, value);
    case OPTION_GOT:
        return option_text(&options->got, value);
    case OPTION_COURTESY:
        options->courtesy = true;
        return true;
    case OPTION_AHEAD:
        return option_number("--ahead", value, 2, AHEAD_MOST, &options->ahead);
    default:
        return option_shared(option, value, &options->shared);
    }
}

/* --------------------------------------------------------- the question --- */

/* Everything that is made once and serves for every hand. */
struct asked {
    nh_list *list;
    uint8_t *chosen;
    struct pass_question question;
};

static bool choose_aims(struct asked *asked, const struct texts *aims) {
    if (aims->count == 0)
        return true;
    asked->chosen = calloc(nh_list_size(asked->list), 1);
    if (asked->chosen == NULL)
        return short_of_memory();
    for (int i = 0; i < aims->count; i++)
        if (!patterns_choose(asked->list, "--aim", aims->text[i], asked->chosen))
            return false;
    asked->question.chosen = asked->chosen;
    return true;
}

static bool read_tiles(struct asked *asked, const struct pass_options *options) {
    struct pass_question *question = &asked->question;
    const nh_list *list = asked->list;
    question->has_mine = options->mine.count > 0;
    question->has_got = options->got.count > 0;
    return option_tiles_of("--seen", &options->seen, list, &question->situation.seen) &&
           option_tiles_of("--mine", &options->mine, list, &question->mine) &&
           option_tiles_of("--given", &options->given, list, &question->given) &&
           option_tiles_of("--got", &options->got, list, &question->got);
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
static void find_counts(struct pass_question *question, long count) {
    const nh_charleston *charleston = nh_list_charleston(question->list);
    unsigned usual = walk_in_courtesy(&question->walk) ? charleston->courtesy : charleston->tiles;
    if (count == UNTOLD && usual > NH_PASS_MAX) {
        complain("the list passes up to %u tiles at a time; %d is the most that is worked out",
                 usual, NH_PASS_MAX);
        usual = NH_PASS_MAX;
    }
    question->most = count == UNTOLD ? usual : (unsigned)count;
    question->least = count == UNTOLD && walk_in_courtesy(&question->walk) ? 0 : question->most;
}

/* Passes to come, after this one: those that remain, or of the first round where it is not told
 * how far the Charleston has come. */
static void find_further(struct pass_question *question, long ahead) {
    const nh_charleston *charleston = nh_list_charleston(question->list);
    if (question->walk.on)
        question->further = question->walk.left;
    else if (charleston->rounds > 0)
        question->further = charleston->steps[0] - 1u;
    /* What is to be expected after the last pass is known exactly. */
    question->ahead = question->further > 0 ? ahead : 0;
}

static bool mine_fits(const struct pass_question *question) {
    unsigned mine = (unsigned)nh_tiles_total(&question->mine);
    if (!question->has_mine || (mine >= question->least && mine <= question->most))
        return true;
    if (question->least < question->most)
        misused("--mine has %u tiles, but at most %u are exchanged", mine, question->most);
    else
        misused("--mine has %u tile%s, but a pass has %u (--count)", mine, mine == 1 ? "" : "s",
                question->most);
    return false;
}

static bool prepare(struct asked *asked, const struct pass_options *options) {
    asked->list = list_open(options->shared.list);
    if (asked->list == NULL)
        return false;
    struct pass_question *question = &asked->question;
    nh_situation situation = NH_SITUATION;
    situation.prevailing = options->shared.prevailing;
    situation.seat = options->shared.seat;
    question->situation = situation;
    question->list = asked->list;
    question->top = (size_t)options->top;
    question->json = options->shared.json;
    question->style = style_of_output();
    if (!read_tiles(asked, options) || !choose_aims(asked, &options->aims) ||
        !find_walk(asked, options))
        return false;
    find_counts(question, options->count);
    find_further(question, options->ahead);
    return mine_fits(question);
}

static void asked_free(struct asked *asked) {
    free(asked->chosen);
    nh_list_free(asked->list);
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

static int run(const struct pass_options *options, int count, char *const *words) {
    static const struct texts standard_input = {NULL, 0};
    struct asked asked = {0};
    int status = STATUS_USAGE;
    if (prepare(&asked, options)) {
        struct pass_question *question = &asked.question;
        struct batch_work work = {begin_passer, answer_line, end_passer, question, !question->json};
        question->batch = count == 0;
        status = count > 0 ? answer_words(&work, count, words)
                           : answer_input(&work, &standard_input, (unsigned)options->jobs, false);
    }
    asked_free(&asked);
    return status;
}

int pass_run(int argc, char **argv) {
    struct pass_options options = {.count = UNTOLD, .top = PASS_TOP, .jobs = jobs_if_not_told()};
    enum { REPEATED = 5 };
    struct texts *const repeated[REPEATED] = {&options.seen, &options.aims, &options.mine,
                                              &options.given, &options.got};
    const char **texts = calloc(REPEATED * (size_t)argc, sizeof *texts);
    if (texts == NULL) {
        short_of_memory();
        return STATUS_USAGE;
    }
    for (size_t i = 0; i < REPEATED; i++)
        repeated[i]->text = texts + i * (size_t)argc;
    int status = STATUS_USAGE;
    if (options_read(argc, argv, option_table, take, &options))
        status = options.shared.help ? help() : run(&options, argc - optind, argv + optind);
    free((void *)texts);
    return status;
}
