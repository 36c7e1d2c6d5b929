/* What is best for the hands of a sheet, and the figures that the key shows of it. */
#include "patterns/row_layouts.h"
#include "sheet/sheet_task.h"

#include <stdio.h>
#include <string.h>

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

/* ------------------------------------------------------------ sentences --- */

#define COST_LEAST 0.001 /* that is written as it is */

static void say_kept(const struct sheet *sheet, const struct pass_keeps *keeps, struct text *text) {
    if (!keeps->keeps) {
        text_add(text, "Every close pattern loses at least one tile; this pass costs the least.");
        return;
    }
    text_add(text, "Keeps ");
    text_add(text, nh_list_pattern(sheet->list, keeps->kept)->name);
    text_add_format(text, ", %d away", keeps->kept_away);
    if (keeps->also > 0)
        text_add_format(text, ", and %zu more as close", keeps->also);
    text_add(text, ".");
}

static void say_lost(const struct sheet *sheet, const struct pass_keeps *keeps, struct text *text) {
    char tiles[NH_TILES_TEXT_SIZE];
    if (!keeps->loses) {
        text_add(text, keeps->keeps ? " No close pattern loses a tile." : "");
        return;
    }
    nh_tiles_format(&keeps->lost_tiles, NH_STYLE_LETTERS, tiles, sizeof tiles);
    text_add(text, " Sets back ");
    text_add(text, nh_list_pattern(sheet->list, keeps->lost)->name);
    text_add_format(text, ", which uses %s", tiles);
    if (keeps->lost_after > NH_TARGET_MAX)
        text_add_format(text, ": out of reach, not %d away.", keeps->lost_before);
    else
        text_add_format(text, ": %d away instead of %d.", keeps->lost_after, keeps->lost_before);
}

/* What the best pass has over a second choice that sets no close pattern back. */
static void say_closer(const struct sheet_key *key, const nh_choice *choice, struct text *text) {
    char nearer[SHEET_FIGURE_SIZE], best[SHEET_FIGURE_SIZE];
    sheet_nearer(key, choice, nearer);
    sheet_nearer(key, &key->choices[0], best);
    text_add(text, "no close pattern loses a tile; closer ");
    if (strcmp(nearer, best) == 0)
        text_add_format(text, "about as often, %s of the time.", nearer);
    else
        text_add_format(text, "%s of the time, not %s.", nearer, best);
}

static void say_second(const struct sheet *sheet, const struct sheet_key *key, struct text *text) {
    char tiles[NH_TILES_TEXT_SIZE];
    const nh_choice *choice = &key->choices[key->second];
    const struct pass_reason *reason = &key->reason;
    double cost =
        (double)(choice->expected - key->choices[0].expected) / (double)key->passing.draws;
    nh_tiles_format(&choice->pass, NH_STYLE_LETTERS, tiles, sizeof tiles);
    text_add_format(text, " Second choice %s costs ", tiles);
    if (cost < COST_LEAST)
        text_add_format(text, "less than %.3f: ", COST_LEAST);
    else
        text_add_format(text, "%.3f: ", cost);
    if (!reason->has_pattern) {
        say_closer(key, choice, text);
        return;
    }
    nh_tiles_format(&reason->tiles, NH_STYLE_LETTERS, tiles, sizeof tiles);
    text_add(text, nh_list_pattern(sheet->list, reason->pattern)->name);
    text_add_format(text, " uses %s, ", tiles);
    if (reason->away > NH_TARGET_MAX)
        text_add_format(text, "out of reach instead of %d away.", reason->best_away);
    else
        text_add_format(text, "%d away instead of %d.", reason->away, reason->best_away);
}

void sheet_why(const struct sheet *sheet, const struct sheet_key *key, struct text *text) {
    text_clear(text);
    if (!key->explained)
        return;
    say_kept(sheet, &key->keeps, text);
    say_lost(sheet, &key->keeps, text);
    if (key->second > 0)
        say_second(sheet, key, text);
}

/* -------------------------------------------------------------- discards --- */

size_t sheet_discards(const struct sheet_key *key) {
    size_t found = key->discarding.complete ? 0 : key->discarding.rows;
    return found < SHEET_DISCARDS ? found : SHEET_DISCARDS;
}

size_t sheet_discards_as_good(const struct sheet_key *key) {
    size_t more = 0;
    for (size_t i = SHEET_DISCARDS; i < key->discarding.rows; i++)
        more += key->discards[i].away == key->discards[0].away &&
                key->discards[i].expected == key->discards[0].expected;
    return more;
}

const char *sheet_no_discard(const struct sheet_key *key) {
    return key->discarding.complete ? "Complete: nothing to discard."
           : key->too_much          ? "The discards of this hand take too much work."
                                    : "Nothing but jokers, which are never discarded.";
}

void sheet_discard_expected(const struct sheet_key *key, const nh_discard_choice *choice,
                            char text[SHEET_FIGURE_SIZE]) {
    if (choice->expected == UINT64_MAX)
        snprintf(text, SHEET_FIGURE_SIZE, "none left");
    else
        snprintf(text, SHEET_FIGURE_SIZE, "%.3f",
                 (double)choice->expected / (double)key->discarding.draws);
}

/* ------------------------------------------------------------- answers --- */

/* The passes that are shown, or all if they are needed to count those as good as
 * the best. A hand with too few tiles that may be passed has none. The deal rules
 * out all other errors. */
static void find_key_passes(const struct sheet *sheet, nh_workspace *workspace,
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

/* Why the best pass is the best. A pass after which nothing is in reach explains
 * nothing. */
static void explain_passes(nh_workspace *workspace, const struct sheet_hand *hand,
                           const nh_situation *situation, struct sheet_key *key) {
    const struct hand_known before = {hand->tiles, *situation};
    const nh_choice *best = &key->choices[0];
    if (key->passing.rows == 0 || best->expected == UINT64_MAX)
        return;
    size_t second = 1;
    while (second < key->passing.rows && key->choices[second].expected == best->expected)
        second++;
    if (second < key->passing.rows && key->choices[second].expected != UINT64_MAX)
        key->second = second;
    key->explained =
        pass_keeps_find(workspace, &before, &best->pass, &key->keeps, NULL) == NH_OK &&
        (key->second == 0 || pass_reason_find(workspace, &before, &key->choices[key->second].pass,
                                              &best->pass, &key->reason, NULL) == NH_OK);
}

static void find_key_discards(nh_workspace *workspace, const struct sheet_hand *hand,
                              const nh_situation *situation, struct sheet_key *key) {
    nh_discard_question question = NH_DISCARD_QUESTION;
    question.situation = situation;
    key->too_much = nh_discard(workspace, &hand->tiles, &question, key->discards, NH_DISCARDS_MAX,
                               &key->discarding, NULL) == NH_ERROR_LIMIT;
}

void sheet_answer(const struct sheet *sheet, nh_workspace *workspace, const struct sheet_hand *hand,
                  struct sheet_key *key) {
    nh_situation situation = NH_SITUATION;
    memset(key, 0, sizeof *key);
    situation.prevailing = hand->prevailing;
    situation.seat = hand->seat;
    if (sheet->asks == ASKS_READING) {
        sheet_read(sheet->list, hand, key);
        return;
    }
    if (sheet->asks == ASKS_DISCARD)
        find_key_discards(workspace, hand, &situation, key);
    else {
        find_key_passes(sheet, workspace, hand, &situation, key);
        explain_passes(workspace, hand, &situation, key);
    }
    nh_rank_question question = NH_RANK_QUESTION;
    question.situation = &situation;
    nh_rank(workspace, &hand->tiles, &question, key->rows, SHEET_PATTERNS, &key->ranking, NULL);
    lay_out_rows(sheet->list, key->rows, key->ranking.rows, key->layouts);
}
