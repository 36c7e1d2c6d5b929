/* The task deal: hands dealt at random, each of which can be had again by its
 * seed and number, as lines that the other tasks read. */
#include "deal/dealing.h"
#include "io/flow.h"
#include "io/halt.h"
#include "io/json.h"
#include "io/message.h"
#include "io/options.h"
#include "io/output.h"
#include "io/text.h"
#include "patterns/list_files.h"
#include "task.h"

#include <inttypes.h>
#include <stdio.h>

/* Numbers of deals, and counts of them; their sums are whole in any JSON. */
#define DEALS_MOST UINT64_C(1000000000000000)

/* ---------------------------------------------------------- options --- */

struct deal_options {
    struct shared_options shared;
    uint64_t hands, first, seed;
    bool seeded, table;
};

enum { OPTION_HANDS = OPTION_OWN, OPTION_FIRST, OPTION_SEED, OPTION_TABLE };

static const struct option option_table[] = {
    {"list", required_argument, NULL, OPTION_LIST},
    {"hands", required_argument, NULL, OPTION_HANDS},
    {"first", required_argument, NULL, OPTION_FIRST},
    {"seed", required_argument, NULL, OPTION_SEED},
    {"seat", required_argument, NULL, OPTION_SEAT},
    {"table", no_argument, NULL, OPTION_TABLE},
    {"json", no_argument, NULL, OPTION_JSON},
    {"help", no_argument, NULL, 'h'},
    {NULL, 0, NULL, 0},
};

static int help(void) {
    output_text("nearhand deal [OPTION ...]\n"
                "\n"
                "Deals hands out of a list's set, as before the first pass, and throws two dice\n"
                "for the prevailing wind. Each line is a hand and behind a tab its label, as\n"
                "rank reads them. The same seed, number and list give the same deal everywhere.\n"
                "\n"
                "  --list FILE|NAME    a list in a file, or by name: club (if not told), jokers,\n"
                "                      traditional, or one in ~/.local/share/nearhand/lists\n"
                "  --hands N           how many deals, 1 if not told\n"
                "  --first N           the number of the first of them, 1 if not told\n"
                "  --seed N            0 to 18446744073709551615; if not told a random one,\n"
                "                      which the remark at the top tells\n"
                "  --seat WIND         whose hand: E (if not told) is the dealer, who has a tile\n"
                "                      more than S, W and N\n"
                "  --table             all four hands of each deal, a line each\n"
                "  --json              one JSON object for each hand\n"
                "\n"
                "Two dice tell the wind: their sum counts round E S W N, 5 and 9 are east.\n"
                "\n"
                "Example: nearhand deal --hands 5 --seed 42 | nearhand rank --top 3\n");
    return STATUS_ANSWERED;
}

static bool take(int option, const char *value, void *taken) {
    struct deal_options *options = taken;
    switch (option) {
    case OPTION_HANDS:
        return option_unsigned("--hands", value, 1, DEALS_MOST, &options->hands);
    case OPTION_FIRST:
        return option_unsigned("--first", value, 1, DEALS_MOST, &options->first);
    case OPTION_SEED:
        options->seeded = true;
        return option_unsigned("--seed", value, 0, UINT64_MAX, &options->seed);
    case OPTION_TABLE:
        options->table = true;
        return true;
    default:
        return option_shared(option, value, &options->shared);
    }
}

static bool read_options(int argc, char **argv, struct deal_options *options) {
    if (!options_read(argc, argv, option_table, take, options))
        return false;
    if (optind < argc)
        misused("'%s' is not an option", argv[optind]);
    else if (options->table && options->shared.seat != NH_WIND_UNKNOWN)
        misused("--table has every seat: leave out --seat");
    else
        return true;
    return false;
}

/* ------------------------------------------------------------ hands --- */

/* A deal, and what is told with each hand of it. */
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
    json_key(&json, "list");
    json_string(&json, dealt->list);
    json_key(&json, "seed");
    json_string(&json, dealt->seed);
    json_key(&json, "deal");
    json_unsigned(&json, dealt->number);
    json_key(&json, "dice");
    json_open(&json, '[');
    for (int die = 0; die < 2; die++)
        json_unsigned(&json, dealt->deal.dice[die]);
    json_close(&json, ']');
    json_key(&json, "prevailing");
    json_string(&json, nh_wind_name(dealt->deal.prevailing));
    json_key(&json, "seat");
    json_string(&json, nh_wind_name(seat));
    json_key(&json, "hand");
    json_string(&json, hand);
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
    nh_wind chosen = options->shared.seat;
    nh_wind first = options->table ? NH_WIND_EAST : chosen;
    nh_wind last = options->table ? NH_WIND_NORTH : chosen;
    for (nh_wind seat = first; seat <= last; seat++)
        hand_out(dealt, seat, options->shared.json);
}

/* --------------------------------------------------------- the task --- */

/* What it takes to have the deals again. */
static void remark_out(const struct dealt *dealt) {
    struct text about, line;
    text_clear(&about);
    text_add_format(&about, "# seed %s, list %s", dealt->seed, dealt->list);
    text_clear(&line);
    text_add_cut(&line, about.bytes, about.length, LINE_WIDTH);
    text_print(&line);
}

#define FLUSHED 64 /* deals after which it is looked whether anyone reads them */

static int deal_all(const nh_list *list, const struct deal_options *options, struct dealt *dealt) {
    uint64_t count = 0;
    halt_on_signals();
    while (count < options->hands && !halted()) {
        dealt->number = options->first + count;
        if (nh_deal_table(list, options->seed, dealt->number, &dealt->deal) != NH_OK)
            return too_few_tiles(list);
        if (count == 0 && !options->shared.json)
            remark_out(dealt);
        deal_out(dealt, options);
        if (++count % FLUSHED == 0 && !output_flush())
            break;
    }
    if (!halted_by_signal() || count == options->hands)
        return STATUS_ANSWERED;
    output_flush();
    complain("stopped: %" PRIu64 " deals were dealt", count);
    return STATUS_STOPPED;
}

static int run(struct deal_options *options) {
    char seed[24];
    nh_list *list = list_open(options->shared.list);
    if (list == NULL)
        return STATUS_USAGE;
    if (!options->seeded)
        options->seed = fresh_seed();
    snprintf(seed, sizeof seed, "%" PRIu64, options->seed);
    struct dealt dealt = {.list = nh_list_title(list), .seed = seed};
    if (options->shared.seat == NH_WIND_UNKNOWN)
        options->shared.seat = NH_WIND_EAST;
    int status = deal_all(list, options, &dealt);
    nh_list_free(list);
    return status;
}

int deal_run(int argc, char **argv) {
    struct deal_options options = {.hands = 1, .first = 1};
    if (!read_options(argc, argv, &options))
        return STATUS_USAGE;
    return options.shared.help ? help() : run(&options);
}
