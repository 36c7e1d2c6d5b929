/* The task deal: random hands, which their seed and number deal again, as lines
 * that other tasks read. */
#include "deal/dealing.h"
#include "deal/training.h"
#include "io/flow.h"
#include "io/json.h"
#include "io/message.h"
#include "io/output.h"
#include "io/text.h"
#include "options/option_row.h"
#include "patterns/list_files.h"
#include "system/halt.h"
#include "task.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

/* Numbers of deals, and counts of them; their sums are whole in any JSON. */
#define DEALS_MOST UINT64_C(1000000000000000)

/* ---------------------------------------------------------- options --- */

struct deal_options {
    const char *list;
    uint64_t hands, first;
    struct seed seed;
    nh_wind seat;
    struct training_options training;
    bool table, json;
};

static const struct option_row rows[] = {
    LIST_ROW(struct deal_options),
    {"hands", "N", "how many deals; 1 is the default",
     SETS_UNSIGNED(struct deal_options, hands, 1, DEALS_MOST)},
    {"first", "N", "the number of the first deal; 1 is the default",
     SETS_UNSIGNED(struct deal_options, first, 1, DEALS_MOST)},
    {"seed", "N", "0 to 18446744073709551615; without it a random one, shown in the first line",
     SETS_SEED(struct deal_options, seed)},
    {"seat", "WIND", "whose hand: E (the default) deals and has one tile more than S, W and N",
     SETS_WIND(struct deal_options, seat)},
    TRAIN_AIM_ROW(struct deal_options, training),
    TRAIN_SECTION_ROW(struct deal_options, training),
    TRAIN_POINTS_ROW(struct deal_options, training),
    TRAIN_WITHIN_ROW(struct deal_options, training),
    {"table", NULL, "all four hands of each deal, one a line",
     SETS_FLAG(struct deal_options, table)},
    {"json", NULL, "one JSON object for each hand", SETS_FLAG(struct deal_options, json)},
    {0},
};

static bool options_agree(const struct deal_options *options) {
    if (!options->table || options->seat == NH_WIND_UNKNOWN || training_picks(&options->training))
        return training_agrees(&options->training);
    misused("--table shows every seat: leave out --seat");
    return false;
}

/* ------------------------------------------------------------ hands --- */

/* A deal, and what stands beside each hand of it. */
struct dealt {
    const char *list, *seed;
    uint64_t number;
    nh_deal deal;
};

static void hand_text(const struct dealt *dealt, nh_wind seat, const char *hand) {
    output_format("%s\tdeal %" PRIu64 ", prevailing %s, seat %s\n", hand, dealt->number,
                  nh_wind_name(dealt->deal.prevailing), nh_wind_name(seat));
}

static void hand_json(const struct dealt *dealt, nh_wind seat, const char *hand) {
    struct json json = {0};
    json_answer(&json);
    json_key_string(&json, "list", dealt->list);
    json_key_string(&json, "seed", dealt->seed);
    json_key_unsigned(&json, "deal", dealt->number);
    json_key(&json, "dice");
    json_open(&json, '[');
    for (int die = 0; die < 2; die++)
        json_unsigned(&json, dealt->deal.dice[die]);
    json_close(&json, ']');
    json_key_string(&json, "prevailing", nh_wind_name(dealt->deal.prevailing));
    json_key_string(&json, "seat", nh_wind_name(seat));
    json_key_string(&json, "hand", hand);
    json_close(&json, '}');
    output_text("\n");
}

static void hand_out(const struct dealt *dealt, nh_wind seat, bool as_json) {
    char hand[NH_TILES_TEXT_SIZE];
    nh_tiles_format(&dealt->deal.hand[seat - NH_WIND_EAST], NH_STYLE_LETTERS, hand, sizeof hand);
    if (as_json)
        hand_json(dealt, seat, hand);
    else
        hand_text(dealt, seat, hand);
}

static void deal_out(const struct dealt *dealt, const struct deal_options *options) {
    nh_wind own = options->seat;
    nh_wind first = options->table ? NH_WIND_EAST : own;
    nh_wind last = options->table ? NH_WIND_NORTH : own;
    for (nh_wind seat = first; seat <= last; seat++)
        hand_out(dealt, seat, options->json);
}

/* --------------------------------------------------------- the task --- */

/* What deals the same hands again. */
static void remark_out(const struct dealt *dealt) {
    struct text about, line;
    text_clear(&about);
    text_add_format(&about, "# seed %s, list %s", dealt->seed, dealt->list);
    text_clear(&line);
    text_add_cut(&line, about.bytes, about.length, LINE_WIDTH);
    text_print(&line);
}

#define FLUSHED 64 /* deals from one look at whether anyone reads to the next */

/* How a search for the next deal ended. */
static int explain_end(const struct training *training, uint64_t from, uint64_t dealt) {
    if (halted_by_signal()) {
        if (output_flush())
            complain("stopped after %" PRIu64 " deals", dealt);
        return STATUS_STOPPED;
    }
    if (training->chosen == NULL)
        return too_few_tiles(training->list);
    if (output_flush())
        training_complain(training, from);
    return STATUS_USAGE;
}

static int deal_all(const struct training *training, const struct deal_options *options,
                    struct dealt *dealt) {
    uint64_t next = options->first;
    halt_on_signals();
    for (uint64_t count = 0; count < options->hands; count++) {
        if (halted() || !training_deal(training, next, &dealt->number) ||
            nh_deal_table(training->list, training->seed, dealt->number, &dealt->deal) != NH_OK)
            return explain_end(training, next, count);
        if (count == 0 && !options->json)
            remark_out(dealt);
        deal_out(dealt, options);
        next = dealt->number + 1;
        bool due = training->chosen != NULL || (count + 1) % FLUSHED == 0;
        if (due && !output_flush())
            break;
    }
    return STATUS_ANSWERED;
}

/* Finds which deals will do, and deals them. */
static int deal_chosen(const nh_list *list, const struct deal_options *options,
                       struct dealt *dealt) {
    uint8_t *chosen;
    struct training training = {.list = list,
                                .within = (int)options->training.within,
                                .seat = (int)options->seat - (int)NH_WIND_EAST,
                                .seed = options->seed.value};
    int status = STATUS_USAGE;
    if (!patterns_chosen(list, &options->training.choice, &chosen))
        return STATUS_USAGE;
    training.chosen = chosen;
    if (chosen != NULL && nh_workspace_new(list, NULL, &training.workspace) != NH_OK)
        short_of_memory();
    else
        status = deal_all(&training, options, dealt);
    nh_workspace_free(training.workspace);
    free(chosen);
    return status;
}

static int run(void *given, int count, char *const *words) {
    struct deal_options *options = given;
    char seed[24];
    (void)count;
    (void)words;
    if (!options_agree(options))
        return STATUS_USAGE;
    nh_list *list = list_open(options->list);
    if (list == NULL)
        return STATUS_USAGE;
    if (!options->seed.given)
        options->seed.value = fresh_seed();
    snprintf(seed, sizeof seed, "%" PRIu64, options->seed.value);
    struct dealt dealt = {.list = nh_list_title(list), .seed = seed};
    if (options->seat == NH_WIND_UNKNOWN)
        options->seat = NH_WIND_EAST;
    int status = deal_chosen(list, options, &dealt);
    nh_list_free(list);
    return status;
}

const struct task deal_task = {
    .name = "deal",
    .summary = "random hands, which a seed deals again",
    .about =
        "Deals hands from a list's set, before the first pass, and throws two dice for the "
        "prevailing wind. Each line is a hand, a tab and a label, ready for nearhand rank. The "
        "same seed, number and list give the same deal everywhere, whichever deals are picked.\n"
        "The sum of the dice counts round E S W N, so 5 and 9 are east.",
    .rows = rows,
    .example = "nearhand deal --hands 5 --seed 42 | nearhand rank --top 3",
    .defaults =
        &(const struct deal_options){.hands = 1, .first = 1, .training.within = TRAINING_CLOSEST},
    .size = sizeof(struct deal_options),
    .run = run,
};
