/* The task sheet: dealt hands with room to write down what to do, and a key
 * that says what is best. */
#include "sheet/sheet_task.h"
#include "deal/dealing.h"
#include "io/message.h"
#include "io/output.h"
#include "io/output_file.h"
#include "options/option_row.h"
#include "patterns/list_files.h"
#include "patterns/row_layouts.h"
#include "task.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#define HANDS_DEFAULT 8
#define HANDS_MOST 1000

/* ---------------------------------------------------------- options --- */

struct sheet_options {
    const char *list;
    uint64_t hands;
    struct seed seed;
    nh_wind seat;
    const char *html; /* a file, "-" for standard output; NULL for text */
    bool no_key, key_only;
};

static const struct option_row rows[] = {
    LIST_ROW(struct sheet_options),
    {"hands", "N", "how many hands, 1 to 1000; 8 is the default",
     SETS_UNSIGNED(struct sheet_options, hands, 1, HANDS_MOST)},
    {"seed", "N",
     "0 to 18446744073709551615; without it a random one, shown on the sheet: nearhand deal "
     "deals the same hands from it",
     SETS_SEED(struct sheet_options, seed)},
    {"seat", "WIND", "whose hands: E (the default) deals and has one tile more than S, W and N",
     SETS_WIND(struct sheet_options, seat)},
    {"html", "FILE",
     "an HTML page to print on A4 or Letter, instead of text; FILE is overwritten, - is standard "
     "output",
     SETS_TEXT(struct sheet_options, html)},
    {"no-key", NULL, "only the sheet", SETS_FLAG(struct sheet_options, no_key)},
    {"key-only", NULL, "only the key", SETS_FLAG(struct sheet_options, key_only)},
    {0},
};

static bool options_agree(const struct sheet_options *options) {
    if (!options->no_key || !options->key_only)
        return true;
    misused("--no-key and --key-only leave nothing to write: leave out one");
    return false;
}

/* ------------------------------------------------------------ words --- */

const char *sheet_tiles_passed(const struct sheet *sheet) {
    static const char *const words[] = {"one tile", "two tiles", "three tiles"};
    return words[sheet->count - 1];
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

size_t sheet_passes(const struct sheet_key *key) {
    return key->passing.rows < SHEET_PASSES ? key->passing.rows : SHEET_PASSES;
}

const char *sheet_no_pass(const struct sheet_key *key) {
    return key->too_much ? "The passes of this hand take too much work."
                         : "Too few of these tiles may be passed.";
}

size_t sheet_as_good(const struct sheet_key *key) {
    size_t more = 0;
    for (size_t i = SHEET_PASSES; i < key->passing.rows; i++)
        more += key->choices[i].expected == key->choices[0].expected;
    return more;
}

void sheet_expected(const struct sheet_key *key, const nh_choice *choice,
                    char text[SHEET_FIGURE_SIZE]) {
    if (choice->expected == UINT64_MAX)
        snprintf(text, SHEET_FIGURE_SIZE, "none left");
    else
        snprintf(text, SHEET_FIGURE_SIZE, "%.3f",
                 (double)choice->expected / (double)key->passing.draws);
}

void sheet_nearer(const struct sheet_key *key, const nh_choice *choice,
                  char text[SHEET_FIGURE_SIZE]) {
    snprintf(text, SHEET_FIGURE_SIZE, "%.1f%%",
             100 * (double)choice->nearer / (double)key->passing.draws);
}

/* ------------------------------------------------------------ hands --- */

static bool deal_hand(const struct sheet *sheet, const struct sheet_options *options,
                      uint64_t number, struct sheet_hand *hand) {
    nh_deal deal;
    if (nh_deal_table(sheet->list, options->seed.value, number, &deal) != NH_OK)
        return false;
    hand->number = number;
    hand->seat = options->seat;
    hand->tiles = deal.hand[hand->seat - NH_WIND_EAST];
    hand->prevailing = deal.prevailing;
    return true;
}

/* The passes that are shown, or all if they are needed to count those as good as
 * the best. A hand with too few tiles that may be passed has none. The deal rules
 * out all other errors. */
static void find_passes(const struct sheet *sheet, nh_workspace *workspace,
                        const struct sheet_hand *hand, const nh_situation *situation,
                        struct sheet_key *key) {
    nh_passing passing;
    nh_pass_question question = NH_PASS_QUESTION;
    question.situation = situation;
    question.tiles = (int)sheet->count;
    nh_status status = nh_pass(workspace, &hand->tiles, &question, key->choices, SHEET_PASSES,
                               &key->passing, NULL);
    key->too_much = status == NH_ERROR_LIMIT;
    const nh_choice *last = &key->choices[SHEET_PASSES - 1];
    if (key->passing.rows == SHEET_PASSES && last->expected == key->choices[0].expected &&
        nh_pass(workspace, &hand->tiles, &question, key->choices, NH_PASSES_MAX, &passing, NULL) ==
            NH_OK)
        key->passing = passing;
}

static void answer_hand(const struct sheet *sheet, nh_workspace *workspace,
                        const struct sheet_hand *hand, struct sheet_key *key) {
    nh_situation situation = NH_SITUATION;
    memset(key, 0, sizeof *key);
    situation.prevailing = hand->prevailing;
    situation.seat = hand->seat;
    find_passes(sheet, workspace, hand, &situation, key);
    nh_rank_question question = NH_RANK_QUESTION;
    question.situation = &situation;
    nh_rank(workspace, &hand->tiles, &question, key->rows, SHEET_PATTERNS, &key->ranking, NULL);
    lay_out_rows(sheet->list, key->rows, key->ranking.rows, key->layouts);
}

/* --------------------------------------------------------- the task --- */

static void write_sheet(const struct sheet *sheet, const struct sheet_options *options,
                        const struct sheet_form *form) {
    struct sheet_hand hand;
    form->sheet_head(sheet);
    for (uint64_t number = 1; number <= options->hands; number++)
        if (deal_hand(sheet, options, number, &hand))
            form->sheet_hand(sheet, &hand);
    form->sheet_end();
}

static void write_key(const struct sheet *sheet, const struct sheet_options *options,
                      const struct sheet_form *form, nh_workspace *workspace) {
    struct sheet_hand hand;
    struct sheet_key key;
    form->key_head(sheet);
    for (uint64_t number = 1; number <= options->hands && output_flush(); number++)
        if (deal_hand(sheet, options, number, &hand)) {
            answer_hand(sheet, workspace, &hand, &key);
            form->key_hand(sheet, &hand, &key);
        }
    form->key_end();
}

static void write_all(const struct sheet *sheet, const struct sheet_options *options,
                      nh_workspace *workspace) {
    const struct sheet_form *form = options->html == NULL ? &sheet_text : &sheet_html;
    form->begin(sheet);
    if (!options->key_only)
        write_sheet(sheet, options, form);
    if (!options->key_only && !options->no_key)
        form->between();
    if (!options->no_key)
        write_key(sheet, options, form, workspace);
    form->end();
}

/* The HTML page is written when it is whole. */
static int write_html(const struct sheet *sheet, const struct sheet_options *options,
                      nh_workspace *workspace) {
    struct page page = {0};
    output_to(&page);
    write_all(sheet, options, workspace);
    output_to(NULL);
    bool good = output_file_write(options->html, &page);
    page_free(&page);
    return good ? STATUS_ANSWERED : STATUS_OUTPUT;
}

static bool to_file(const struct sheet_options *options) {
    return options->html != NULL && strcmp(options->html, "-") != 0;
}

static int run_with(const nh_list *list, nh_workspace *workspace,
                    const struct sheet_options *options) {
    char seed[24];
    struct sheet_hand hand;
    snprintf(seed, sizeof seed, "%" PRIu64, options->seed.value);
    struct sheet sheet = {.list = list, .seed = seed, .count = nh_list_charleston(list)->tiles};
    if (sheet.count > NH_PASS_MAX) {
        complain("this list passes %u tiles at a time; nearhand finds best passes of up to %d",
                 sheet.count, NH_PASS_MAX);
        return STATUS_USAGE;
    }
    if (!deal_hand(&sheet, options, 1, &hand))
        return too_few_tiles(list);
    if (to_file(options))
        return output_file_ready(options->html) ? write_html(&sheet, options, workspace)
                                                : STATUS_OUTPUT;
    write_all(&sheet, options, workspace);
    return STATUS_ANSWERED;
}

static nh_list *open_list(const struct sheet_options *options) {
    char path[LIST_PATH_SIZE];
    if (!list_find(options->list, path) ||
        (to_file(options) && !output_file_spares(options->html, path)))
        return NULL;
    return list_load(path);
}

static int run(void *given, int count, char *const *words) {
    struct sheet_options *options = given;
    nh_workspace *workspace;
    (void)count;
    (void)words;
    if (!options_agree(options))
        return STATUS_USAGE;
    nh_list *list = open_list(options);
    if (list == NULL)
        return STATUS_USAGE;
    if (!options->seed.given)
        options->seed.value = fresh_seed();
    if (options->seat == NH_WIND_UNKNOWN)
        options->seat = NH_WIND_EAST;
    int status = STATUS_USAGE;
    if (nh_workspace_new(list, NULL, &workspace) == NH_OK) {
        status = run_with(list, workspace, options);
        nh_workspace_free(workspace);
    } else
        complain("%s", nh_status_text(NH_ERROR_MEMORY));
    nh_list_free(list);
    return status;
}

const struct task sheet_task = {
    .name = "sheet",
    .summary = "practice sheets to print, with an answer key",
    .about =
        "Writes a practice sheet: dealt hands with room for the tiles of the first pass and for "
        "the patterns to go for, and on a new page the key with the best passes and the closest "
        "patterns. The same seed and list give the same sheet.",
    .rows = rows,
    .example = "nearhand sheet --seed 42 --html sheet.html",
    .defaults = &(const struct sheet_options){.hands = HANDS_DEFAULT},
    .size = sizeof(struct sheet_options),
    .run = run,
};
