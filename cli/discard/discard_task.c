/* The task discard: its options, and the hands that they ask about. */
#include "discard/discard_task.h"
#include "hands/answer.h"
#include "io/message.h"
#include "options/option_row.h"
#include "options/option_tiles.h"
#include "patterns/choice.h"
#include "patterns/list_files.h"
#include "patterns/list_sets.h"
#include "players/players.h"
#include "task.h"

#include <stdlib.h>
#include <string.h>

#define TOP_MOST 1000000L

struct discard_options {
    const char *list;
    nh_wind prevailing, seat;
    struct texts seen, exposed, others, players, discarded;
    struct pattern_choice choice;
    long look, draws, top, jobs;
    int order; /* nh_discard_order */
    bool any_size, json;
};

static const char *const orders[] = {[NH_DISCARD_AWAY] = "away",
                                     [NH_DISCARD_EXPECTED] = "expected",
                                     [NH_DISCARD_CHANCE] = "chance",
                                     [NH_DISCARD_WORTH] = "worth",
                                     NULL};

static const struct option_row rows[] = {
    LIST_ROW(struct discard_options),
    EXPOSED_ROW(struct discard_options),
    SEEN_ROW(struct discard_options),
    OTHERS_ROW(struct discard_options),
    {"player", "SETS", "a player to beware of, by their sets; may be repeated",
     ADDS_TEXT(struct discard_options, players)},
    {"look", "K", "1 to 3 more tiles for the average; 3 is the default",
     SETS_NUMBER(struct discard_options, look, 1, NH_LOOK_MAX)},
    {"order", "ORDER", "away (the default), expected, chance or worth",
     SETS_CHOICE(struct discard_options, order, orders)},
    {"top", "N", "shows the best N tiles to discard; 5 is the default",
     SETS_NUMBER(struct discard_options, top, 0, TOP_MOST)},
    AIM_ROW(struct discard_options, choice),
    SECTION_ROW(struct discard_options, choice),
    POINTS_ROW(struct discard_options, choice),
    PREVAILING_ROW(struct discard_options),
    SEAT_ROW(struct discard_options),
    {"discarded", "TILES", "tiles that players discarded; they are gone, as those seen",
     .seldom = true, ADDS_TEXT(struct discard_options, discarded)},
    {"draws", "K", "how many more tiles the chance counts; 20 is the default", .seldom = true,
     SETS_NUMBER(struct discard_options, draws, 0, NH_DRAWS_MAX)},
    {"any-size", NULL, "takes a hand of any number of tiles", .seldom = true,
     SETS_FLAG(struct discard_options, any_size)},
    {"json", NULL, "one JSON object a line", SETS_FLAG(struct discard_options, json)},
    JOBS_ROW(struct discard_options, BATCH_JOBS_MAX),
    {0},
};

/* --------------------------------------------------------- the question --- */

/* What is made once for all hands. */
struct asked {
    nh_list *whole;
    nh_list *list; /* less the sets on the table */
    uint8_t *chosen;
    struct discard_question question;
};

/* Tiles that are gone for one's own hand: those of --seen and --discarded, and the sets of
 * all other players, whose jokers may be there to take. */
static bool see_table(struct asked *asked, const struct discard_options *options,
                      nh_situation *table) {
    nh_tiles *seen = &asked->question.situation.seen;
    nh_tiles discarded;
    struct other_sets *others = &asked->question.others;
    if (!option_tiles("--seen", &options->seen, asked->list, seen) ||
        !option_tiles("--discarded", &options->discarded, asked->list, &discarded))
        return false;
    nh_tiles_add(seen, &discarded);
    if (!see_sets(asked->list, "--others", &options->others, seen, others))
        return false;
    table->seen = *seen;
    return see_sets(asked->list, "--player", &options->players, seen, others);
}

/* For a player one's own sets are gone too, and their wind is not known. */
static bool add_discard_players(struct asked *asked, const struct discard_options *options,
                                nh_situation *table) {
    struct other_players *players = &asked->question.players;
    players->whole = asked->whole;
    players->hidden = NH_HIDDEN_AS_LIST;
    sets_see(asked->list, &table->seen);
    if (!players_add_each(players, &options->players))
        return false;
    players_know(players, table);
    return true;
}

static bool prepare_question(struct asked *asked, const struct discard_options *options) {
    struct discard_question *question = &asked->question;
    nh_situation situation = NH_SITUATION, table = NH_SITUATION;
    asked->whole = list_open(options->list);
    if (asked->whole == NULL ||
        !list_take_sets(asked->whole, options->exposed.text, options->exposed.count, &asked->list))
        return false;
    situation.prevailing = table.prevailing = options->prevailing;
    situation.seat = options->seat;
    question->situation = situation;
    question->list = asked->list;
    question->look = (int)options->look;
    question->draws = (int)options->draws;
    question->order = (nh_discard_order)options->order;
    question->top = (size_t)options->top;
    question->any_size = options->any_size;
    question->json = options->json;
    question->style = style_of_output();
    if (!see_table(asked, options, &table) || !add_discard_players(asked, options, &table) ||
        !patterns_chosen(asked->list, &options->choice, &asked->chosen))
        return false;
    question->chosen = asked->chosen;
    return true;
}

static void asked_free(struct asked *asked) {
    free(asked->chosen);
    players_free(&asked->question.players);
    if (asked->list != asked->whole)
        nh_list_free(asked->list);
    nh_list_free(asked->whole);
}

/* ---------------------------------------------------------- the task --- */

static void *begin_worker(const void *question) {
    return discard_worker_new(question);
}

static bool answer_line(void *worker, const struct line *line) {
    return discard_worker_answer(worker, line);
}

static bool worker_was_cancelled(const void *worker) {
    return discard_worker_cancelled(worker);
}

static void end_worker(void *worker) {
    discard_worker_free(worker);
}

static int run(void *given, int count, char *const *words) {
    static const struct texts standard_input = {NULL, 0};
    const struct discard_options *options = given;
    struct asked asked = {0};
    int status = STATUS_USAGE;
    if (prepare_question(&asked, options) && (count > 0 || asked.question.players.count == 0 ||
                                              players_cancel_on_stop(&asked.question.players))) {
        struct discard_question *question = &asked.question;
        struct batch_work work = {.begin = begin_worker,
                                  .answer = answer_line,
                                  .end = end_worker,
                                  .context = question,
                                  .apart = !question->json,
                                  .cancelled = worker_was_cancelled};
        question->batch = count == 0;
        status = count > 0 ? answer_words(&work, count, words)
                           : answer_input(&work, &standard_input, (unsigned)options->jobs, false);
    }
    asked_free(&asked);
    return status;
}

const struct task discard_task = {
    .name = "discard",
    .summary = "which tile to discard, and what another would cost",
    .word = WORD_HAND,
    .about =
        "Shows which tile of a hand that has drawn to discard, so that it stays closest to a "
        "pattern, and which unseen tiles then bring it closer. HAND is what you hold; sets on the "
        "table are for --exposed. Without a HAND it reads standard input, one hand a line, as "
        "rank does.",
    .rows = rows,
    .example = "nearhand discard --exposed 444D --others \"EEE 777B\" 2468B 246C 33D W R",
    .defaults = &(const struct discard_options){.look = NH_LOOK_MAX,
                                                .draws = NH_DRAWS_DEFAULT,
                                                .top = DISCARD_TOP},
    .size = sizeof(struct discard_options),
    .run = run,
};
