/* The task sheet: hands with room to write down what to do, and a key that says what
 * is best. */
#include "sheet/sheet_task.h"
#include "deal/dealing.h"
#include "io/message.h"
#include "io/output.h"
#include "io/output_file.h"
#include "options/option_row.h"
#include "options/option_tiles.h"
#include "patterns/list_files.h"
#include "patterns/list_sets.h"
#include "system/halt.h"
#include "task.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define FIRST_MOST UINT64_C(1000000000000000)

/* ---------------------------------------------------------- options --- */

struct sheet_options {
    const char *list;
    uint64_t hands, first; /* 0: not given */
    struct seed seed;
    struct training_options training;
    nh_wind prevailing, seat;
    struct texts files; /* of hands */
    struct texts players, discarded;
    const char *html; /* a file, "-" for standard output; NULL for text */
    bool discards, reading, no_key, key_only;
};

static const struct option_row rows[] = {
    LIST_ROW(struct sheet_options),
    {"hands", "N", "how many hands, 1 to 1000; 8 is the default",
     SETS_UNSIGNED(struct sheet_options, hands, 1, SHEET_HANDS_MOST)},
    {"first", "N", "the number of the first deal; 1 is the default", .seldom = true,
     SETS_UNSIGNED(struct sheet_options, first, 1, FIRST_MOST)},
    {"seed", "N", "deals the same hands again; without it a random one",
     SETS_SEED(struct sheet_options, seed)},
    {"seat", "WIND", "whose hands: E (the default) deals and has one tile more than S, W and N",
     SETS_WIND(struct sheet_options, seat)},
    {"discards", NULL, "asks which tile to discard instead",
     SETS_FLAG(struct sheet_options, discards)},
    {"reading", NULL, "asks what a player with sets on the table can be making",
     SETS_FLAG(struct sheet_options, reading)},
    {"player", "SETS", "with --reading, the player's sets, for hands that you give", .seldom = true,
     ADDS_TEXT(struct sheet_options, players)},
    {"discarded", "TILES", "with --reading, likewise the tiles that players discarded",
     .seldom = true, ADDS_TEXT(struct sheet_options, discarded)},
    TRAIN_AIM_ROW(struct sheet_options, training),
    TRAIN_SECTION_ROW(struct sheet_options, training),
    TRAIN_POINTS_ROW(struct sheet_options, training),
    TRAIN_WITHIN_ROW(struct sheet_options, training),
    {"file", "FILE", "hands from FILE (- is standard input); may be repeated",
     ADDS_TEXT(struct sheet_options, files)},
    {"prevailing", "WIND", "the prevailing wind of the hands that you give", .seldom = true,
     SETS_WIND(struct sheet_options, prevailing)},
    {"html", "FILE", "a page to print, not text; FILE is overwritten",
     SETS_TEXT(struct sheet_options, html)},
    {"no-key", NULL, "only the sheet", SETS_FLAG(struct sheet_options, no_key)},
    {"key-only", NULL, "only the key", SETS_FLAG(struct sheet_options, key_only)},
    {0},
};

/* Where the hands come from. */
enum hands_from { FROM_DEALS, FROM_WORDS, FROM_LINES };

/* An option that is about deals, or NULL where there is none. */
static const char *deals_asked(const struct sheet_options *options) {
    const struct pattern_choice *choice = &options->training.choice;
    return options->hands > 0              ? "--hands"
           : options->first > 0            ? "--first"
           : options->seed.given           ? "--seed"
           : choice->aims.count > 0        ? "--aim"
           : choice->sections.count > 0    ? "--section"
           : choice->points > 0            ? "--points-from"
           : options->training.within >= 0 ? "--within"
                                           : NULL;
}

/* Deals, if one of their options is there; otherwise what is given, by words first. */
static enum hands_from hands_from(const struct sheet_options *options, int words) {
    if (words > 0)
        return FROM_WORDS;
    return options->files.count > 0 || (deals_asked(options) == NULL && hands_piped()) ? FROM_LINES
                                                                                       : FROM_DEALS;
}

static bool reads_standard_input(const struct texts *files) {
    bool reads = files->count == 0;
    for (int i = 0; i < files->count; i++)
        reads = reads || strcmp(files->text[i], "-") == 0;
    return reads;
}

/* Hands that would not be used are a mistake: somebody wanted them on the sheet. */
static bool input_agrees(const struct sheet_options *options, enum hands_from from) {
    bool reads = from == FROM_LINES && reads_standard_input(&options->files);
    if (from == FROM_WORDS && options->files.count > 0)
        misused("give hands by --file or as words, not both");
    else if (from != FROM_DEALS && deals_asked(options) != NULL)
        misused("%s is for hands that are dealt: leave it out, or the hands that you give",
                deals_asked(options));
    else if (!reads && hands_unused())
        misused("what is on standard input would not be used: %s, or add </dev/null",
                from == FROM_DEALS ? "leave out the options that deal hands"
                                   : "give hands in one way only");
    else
        return true;
    return false;
}

/* What a reading has instead of the options about passes and discards. */
static bool reading_agrees(const struct sheet_options *options, enum hands_from from) {
    bool told = options->players.count > 0 || options->discarded.count > 0;
    if (!options->reading && told)
        misused("--player and --discarded are for --reading");
    else if (options->reading && options->discards)
        misused("--discards and --reading ask two questions: leave out one");
    else if (options->reading && training_picks(&options->training))
        misused("--aim, --section and --points-from pick hands before play: leave them out");
    else if (options->reading && from == FROM_DEALS && told)
        misused("--player and --discarded are for hands that you give");
    else if (options->players.count > 1)
        misused("--reading asks about one player: give --player once");
    else
        return true;
    return false;
}

static bool options_agree(const struct sheet_options *options, enum hands_from from) {
    if (!reading_agrees(options, from))
        return false;
    if (options->no_key && options->key_only)
        misused("--no-key and --key-only leave nothing to write: leave out one");
    else if (options->prevailing != NH_WIND_UNKNOWN && from == FROM_DEALS)
        misused("the dice choose the prevailing wind: --prevailing is for hands that you give");
    else
        return training_agrees(&options->training) && input_agrees(options, from);
    return false;
}

/* ------------------------------------------------------------ words --- */

const char *sheet_tiles_passed(const struct sheet *sheet) {
    static const char *const words[] = {"one tile", "two tiles", "three tiles"};
    return words[sheet->count - 1];
}

void sheet_seed(const struct sheet *sheet, struct text *text) {
    text_clear(text);
    if (sheet->seed != NULL)
        text_add_format(text, "Seed %s. ", sheet->seed);
}

static void comma_add(struct text *text) {
    if (text->length > 0)
        text_add(text, ", ");
}

void sheet_hand_about(const struct sheet_hand *hand, struct text *text) {
    text_clear(text);
    if (hand->label != NULL)
        text_add(text, hand->label);
    if (hand->deal > 0)
        text_add_format(text, "deal %" PRIu64, hand->deal);
    if (hand->winds_in_label)
        return;
    if (hand->prevailing != NH_WIND_UNKNOWN) {
        comma_add(text);
        text_add_format(text, "prevailing %s", nh_wind_name(hand->prevailing));
    }
    if (hand->seat != NH_WIND_UNKNOWN) {
        comma_add(text);
        text_add_format(text, "seat %s", nh_wind_name(hand->seat));
    }
}

bool sheet_jokers(const struct sheet *sheet) {
    return nh_list_set(sheet->list)->count[NH_JOKER] > 0;
}

void sheet_place(const nh_pattern *pattern, struct text *text) {
    text_clear(text);
    if (pattern->ref != NULL)
        text_add(text, pattern->ref);
    if (pattern->ref != NULL && pattern->section != NULL)
        text_add(text, " ");
    if (pattern->section != NULL)
        text_add(text, pattern->section);
}

/* --------------------------------------------------------- the task --- */

/* What is written, and how. */
struct writing {
    const struct sheet *sheet;
    const struct sheet_hands *hands;
    const struct sheet_options *options;
    nh_workspace *workspace;
};

static void write_sheet(const struct writing *writing, const struct sheet_form *form) {
    form->sheet_head(writing->sheet);
    for (size_t i = 0; i < writing->hands->count; i++)
        form->sheet_hand(writing->sheet, &writing->hands->hand[i]);
    form->sheet_end();
}

static void write_key(const struct writing *writing, const struct sheet_form *form) {
    struct sheet_key key;
    form->key_head(writing->sheet);
    for (size_t i = 0; i < writing->hands->count && output_flush() && !halted(); i++) {
        const struct sheet_hand *hand = &writing->hands->hand[i];
        sheet_answer(writing->sheet, writing->workspace, hand, &key);
        form->key_hand(writing->sheet, hand, &key);
        sheet_key_free(&key);
    }
    form->key_end();
}

static void write_all(const struct writing *writing) {
    const struct sheet_options *options = writing->options;
    const struct sheet_form *form = options->html == NULL ? &sheet_text : &sheet_html;
    form->begin(writing->sheet);
    if (!options->key_only)
        write_sheet(writing, form);
    if (!options->key_only && !options->no_key)
        form->between();
    if (!options->no_key)
        write_key(writing, form);
    form->end();
}

/* The HTML page is written when it is whole, and not if a signal asked to stop. */
static int write_html(const struct writing *writing) {
    struct page page = {0};
    output_to(&page);
    write_all(writing);
    output_to(NULL);
    bool good = halted() || output_file_write(writing->options->html, &page);
    page_free(&page);
    return good ? STATUS_ANSWERED : STATUS_OUTPUT;
}

static bool to_file(const struct sheet_options *options) {
    return options->html != NULL && strcmp(options->html, "-") != 0;
}

static int write_to_place(const struct writing *writing) {
    if (!to_file(writing->options)) {
        write_all(writing);
        return STATUS_ANSWERED;
    }
    return output_file_ready(writing->options->html) ? write_html(writing) : STATUS_OUTPUT;
}

/* --------------------------------------------------------- the task --- */

/* What was asked. */
struct asked {
    struct sheet_options *options;
    enum hands_from from;
    char *words; /* one hand, or NULL */
    char seed[24];
    struct sheet sheet;
    struct sheet_hands hands;
};

static int deal_hands(struct asked *asked, nh_workspace *workspace) {
    struct sheet_options *options = asked->options;
    struct sheet_deals deals = {.first = options->first > 0 ? options->first : 1,
                                .count = options->hands > 0 ? options->hands : SHEET_HANDS_DEFAULT,
                                .seat = options->seat,
                                .training = &options->training,
                                .drawn = asked->sheet.asks != ASKS_PASS};
    deals.seed = options->seed.given ? options->seed.value : fresh_seed();
    if (deals.seat == NH_WIND_UNKNOWN)
        deals.seat = NH_WIND_EAST;
    snprintf(asked->seed, sizeof asked->seed, "%" PRIu64, deals.seed);
    asked->sheet.seed = asked->seed;
    if (asked->sheet.asks == ASKS_READING)
        return hands_played(workspace, asked->sheet.list, &deals, &asked->hands);
    return hands_dealt(workspace, &deals, &asked->hands);
}

/* The table of hands that are given: the player's sets must be such that something may be
 * left of the list. False with a message. */
static bool given_table(const struct asked *asked, struct sheet_table *table) {
    const struct sheet_options *options = asked->options;
    struct other_players players = {.whole = asked->sheet.list};
    struct other_sets sets = {.count = 0};
    nh_tiles seen = {{0}};
    bool good =
        players_add_each(&players, &options->players) &&
        see_sets(asked->sheet.list, "--player", &options->players, &seen, &sets) &&
        option_tiles("--discarded", &options->discarded, asked->sheet.list, &table->discards);
    players_free(&players);
    for (size_t i = 0; good && i < sets.count; i++)
        table->sets[table->set_count++] = sets.sets[i];
    return good;
}

/* Standard input without a line is as if it was not there, unless hands were meant. */
static int find_hands(struct asked *asked, nh_workspace *workspace) {
    const struct sheet_options *options = asked->options;
    struct sheet_table table = {.set_count = 0};
    struct sheet_source source = {.hand = asked->words,
                                  .files = &options->files,
                                  .prevailing = options->prevailing,
                                  .seat = options->seat,
                                  .drawn = asked->sheet.asks != ASKS_PASS};
    bool empty;
    if (asked->from == FROM_DEALS)
        return deal_hands(asked, workspace);
    if (asked->sheet.asks == ASKS_READING) {
        if (!given_table(asked, &table))
            return STATUS_USAGE;
        source.table = &table;
    }
    int status = hands_given(asked->sheet.list, &source, &asked->hands, &empty);
    if (status == STATUS_ANSWERED && !empty && asked->sheet.asks == ASKS_READING &&
        options->players.count == 0)
        return misused("name the sets of the player: --player \"EEE 444D\"");
    if (status != STATUS_ANSWERED || !empty)
        return status;
    if (options->prevailing != NH_WIND_UNKNOWN)
        return misused("there is no hand on standard input for --prevailing");
    if (options->players.count > 0)
        return misused("there is no hand on standard input for --player");
    sheet_hands_free(&asked->hands);
    return deal_hands(asked, workspace);
}

static int run_sheet(struct asked *asked, nh_workspace *workspace) {
    unsigned tiles = asked->sheet.count;
    if (tiles > NH_PASS_MAX && asked->sheet.asks == ASKS_PASS) {
        complain("this list passes %u tiles at a time; nearhand finds best passes of up to %d",
                 tiles, NH_PASS_MAX);
        return STATUS_USAGE;
    }
    struct writing writing = {&asked->sheet, &asked->hands, asked->options, workspace};
    halt_on_signals();
    int status = find_hands(asked, workspace);
    if (status == STATUS_ANSWERED)
        status = write_to_place(&writing);
    sheet_hands_free(&asked->hands);
    return halted_by_signal() ? STATUS_STOPPED : status;
}

/* The page goes to no file that is read. */
static bool spares_input(const struct sheet_options *options, const char *list) {
    bool spares = !to_file(options) || output_file_spares(options->html, list);
    for (int i = 0; to_file(options) && spares && i < options->files.count; i++)
        if (strcmp(options->files.text[i], "-") != 0)
            spares = output_file_spares(options->html, options->files.text[i]);
    return spares;
}

static nh_list *open_sheet_list(const struct sheet_options *options) {
    char path[LIST_PATH_SIZE];
    if (!list_find(options->list, path) || !spares_input(options, path))
        return NULL;
    return list_load(path);
}

static int write_asked(struct asked *asked) {
    nh_workspace *workspace;
    nh_list *list = open_sheet_list(asked->options);
    if (list == NULL)
        return STATUS_USAGE;
    int status = STATUS_USAGE;
    asked->sheet = (struct sheet){.list = list,
                                  .asks = asked->options->reading    ? ASKS_READING
                                          : asked->options->discards ? ASKS_DISCARD
                                                                     : ASKS_PASS,
                                  .count = nh_list_charleston(list)->tiles};
    if (nh_workspace_new(list, NULL, &workspace) == NH_OK) {
        status = run_sheet(asked, workspace);
        nh_workspace_free(workspace);
    } else
        short_of_memory();
    nh_list_free(list);
    return status;
}

static int run(void *given, int count, char *const *words) {
    struct asked asked = {.options = given};
    asked.from = hands_from(asked.options, count);
    if (!options_agree(asked.options, asked.from))
        return STATUS_USAGE;
    asked.words = count > 0 ? join_words(count, words) : NULL;
    int status = STATUS_USAGE;
    if (count > 0 && asked.words == NULL)
        short_of_memory();
    else
        status = write_asked(&asked);
    free(asked.words);
    return status;
}

const struct task sheet_task = {
    .name = "sheet",
    .summary = "practice sheets to print, with an answer key",
    .word = WORD_HAND,
    .about =
        "Writes hands with room for the tiles of the first pass and for the patterns to go for, "
        "and on a new page the key. The hands are dealt, or yours: a HAND, or one a line in files "
        "or on standard input, with labels as in rank.",
    .rows = rows,
    .example = "nearhand sheet --seed 42 --html sheet.html",
    .defaults = &(const struct sheet_options){.training.within = TRAINING_CLOSEST},
    .size = sizeof(struct sheet_options),
    .run = run,
};
