/* Practice sheet and key as text, no line longer than LINE_WIDTH columns, with
 * a form feed between them.
 *
 *  1  234679B 2689C 45D N Wh                         prevailing north, seat east
 *     Pass three tiles:  ______  ______  ______
 *     Patterns:          _________________________  _________________________
 */
#include "deal/dealing.h"
#include "io/flow.h"
#include "io/output.h"
#include "io/style.h"
#include "io/text.h"
#include "patterns/marked.h"
#include "patterns/useful.h"
#include "sheet/sheet_task.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#define NUMBER_WIDTH 4
#define INDENT (NUMBER_WIDTH + 2)
#define LABEL_END (INDENT + 17)
#define WINDS_COLUMN 52
#define PASS_COLUMN 19 /* right ends of the figures of a pass */
#define EXPECTED_END 32
#define NEARER_END 42
#define AFTER_END 25 /* right ends of the figures of a discard */
#define DISCARD_AVERAGE_END 37
#define USEFUL_COLUMN 39
#define AWAY_END (INDENT + 4)
#define NAME_COLUMN (AWAY_END + 2)
#define SHARE_END (INDENT + 6)
#define PLACE_COLUMN 50

static const struct style plain = {false, "", "", "", ""};

static void nothing(void) {
}

static void sheet_begin(const struct sheet *sheet) {
    (void)sheet;
}

static void form_feed(void) {
    output_text("\f");
}

static void title_out(const char *what, const struct sheet *sheet) {
    struct text text;
    const char *title = nh_list_title(sheet->list);
    text_clear(&text);
    text_add_format(&text, "%s: ", what);
    text_add_cut(&text, title, strlen(title), LINE_WIDTH - text.width);
    text_print(&text);
}

static void words_out(const char *words) {
    struct flow flow = {0};
    flow_words(&flow, words);
    flow_end(&flow);
}

static void hand_out(const struct sheet_hand *hand) {
    struct flow flow = {0};
    struct text text, about, whole;
    char number[24];
    sheet_hand_about(hand, &whole);
    text_clear(&about);
    text_add_cut(&about, whole.bytes, whole.length, LINE_WIDTH - INDENT);
    int column = WINDS_COLUMN + about.width > LINE_WIDTH ? LINE_WIDTH - about.width : WINDS_COLUMN;
    snprintf(number, sizeof number, "%" PRIu64, hand->number);
    text_clear(&text);
    text_add_right(&text, number, NUMBER_WIDTH);
    text_pad(&text, INDENT);
    marked_tiles(&text, &hand->tiles, "", &plain, false);
    int gap = text.width + 2 < column ? column - text.width : 2;
    output_text("\n");
    flow_add(&flow, &text, 0);
    flow.indent = INDENT;
    if (about.length > 0)
        flow_add(&flow, &about, gap);
    flow_end(&flow);
}

/* ------------------------------------------------------------- sheet --- */

static void sheet_head(const struct sheet *sheet) {
    struct text text;
    title_out("Practice sheet", sheet);
    sheet_seed(sheet, &text);
    if (sheet->asks == ASKS_READING)
        text_add(&text, SHEET_ASKS_READING);
    else if (sheet->asks == ASKS_DISCARD)
        text_add(&text, SHEET_ASKS_DISCARD);
    else
        text_add_format(&text, "Which %s do you pass first, and which patterns do you go for?",
                        sheet_tiles_passed(sheet));
    words_out(text.bytes);
}

/* A blank line to write on below the one before, then a label. */
static void label_add(struct text *text, const char *label, const char *more) {
    output_text("\n");
    text_clear(text);
    text_pad(text, INDENT);
    text_add_format(text, "%s%s:", label, more);
    text_pad(text, LABEL_END);
}

static const char write_line[] = "_________________________";

static void ask_discard(void) {
    struct text text;
    label_add(&text, "Discard", "");
    text_add(&text, "  ______");
    text_print(&text);
    label_add(&text, "Useful tiles", "");
    text_add_format(&text, "  %s  %s", write_line, write_line);
    text_print(&text);
}

static void ask_pass(const struct sheet *sheet) {
    struct text text;
    label_add(&text, "Pass ", sheet_tiles_passed(sheet));
    for (unsigned i = 0; i < sheet->count; i++)
        text_add(&text, "  ______");
    text_print(&text);
    label_add(&text, "Patterns", "");
    text_add_format(&text, "  %s  %s", write_line, write_line);
    text_print(&text);
}

/* "North:  EEE 444D", in as many lines as it takes. */
static void shown_out(const char *label, const char *tiles) {
    struct flow flow = {.indent = INDENT};
    struct text text;
    text_clear(&text);
    text_add_format(&text, "%s:", label);
    text_pad(&text, LABEL_END - INDENT);
    flow_add(&flow, &text, 0);
    flow.indent = flow.column = LABEL_END + 1;
    output_text(" ");
    flow_words(&flow, tiles[0] == '\0' ? "none" : tiles);
    flow_end(&flow);
}

static void sets_out(const char *label, const nh_set *sets, size_t count) {
    struct text text;
    text_clear(&text);
    sheet_sets_add(&text, sets, count);
    shown_out(label, text.bytes);
}

/* What lies on the table. */
static void table_out(const struct sheet_table *table) {
    struct text text, name;
    sheet_player_name(table, &name);
    sets_out(name.bytes, table->sets, table->set_count);
    if (table->own_count > 0)
        sets_out("Your sets", table->own, table->own_count);
    if (table->other_count > 0)
        sets_out("Other sets", table->others, table->other_count);
    text_clear(&text);
    marked_tiles(&text, &table->discards, "", &plain, false);
    shown_out("Discards", text.bytes);
}

static void ask_reading_out(const struct sheet_hand *hand) {
    struct text text;
    table_out(&hand->table);
    label_add(&text, "Their patterns", "");
    text_add_format(&text, "  %s  %s", write_line, write_line);
    text_print(&text);
    label_add(&text, "Safest discard", "");
    text_add(&text, "  ______");
    text_print(&text);
}

static void sheet_hand(const struct sheet *sheet, const struct sheet_hand *hand) {
    hand_out(hand);
    if (sheet->asks == ASKS_READING)
        ask_reading_out(hand);
    else if (sheet->asks == ASKS_DISCARD)
        ask_discard();
    else
        ask_pass(sheet);
}

/* --------------------------------------------------------------- key --- */

static void key_head(const struct sheet *sheet) {
    struct text text;
    title_out("Answer key", sheet);
    sheet_seed(sheet, &text);
    if (sheet->asks == ASKS_READING) {
        text_add(&text, "Share: " SHEET_SHARE ". Danger: " SHEET_DANGER ". " SHEET_READING_MODEL
                        " [ ] on the table.");
        if (sheet_jokers(sheet))
            text_add(&text, " < > a joker stands for it.");
        words_out(text.bytes);
        return;
    }
    text_add(&text, sheet->asks == ASKS_DISCARD
                        ? "After: " SHEET_AFTER ". On average: " SHEET_DISCARD_AVERAGE
                          ". Useful tiles: " SHEET_USEFUL ". "
                        : "On average: tiles away from the closest pattern once new tiles have "
                          "come in, counted over all that may come. Closer: how often they bring "
                          "the hand closer than it was. ");
    text_add(&text, "Away: tiles that the hand still needs for a pattern.");
    words_out(text.bytes);
    marked_legend_out(&(struct marks_seen){.needed = true, .joked = sheet_jokers(sheet)}, &plain);
}

static void pass_out(const struct sheet_key *key, const nh_choice *choice) {
    struct text text;
    char figure[SHEET_FIGURE_SIZE];
    text_clear(&text);
    text_pad(&text, INDENT);
    marked_tiles(&text, &choice->pass, "", &plain, false);
    text_pad(&text, PASS_COLUMN);
    sheet_expected(key, choice, figure);
    text_add_right(&text, figure, EXPECTED_END);
    sheet_nearer(key, choice, figure);
    text_add_right(&text, figure, NEARER_END);
    text_print(&text);
}

static void passes_out(const struct sheet_key *key) {
    if (key->passing.rows == 0) {
        output_format("%*s%s\n", INDENT, "", sheet_no_pass(key));
        return;
    }
    output_format("%*s%-*s%*s%*s\n", INDENT, "", PASS_COLUMN - INDENT, "Best pass",
                  EXPECTED_END - PASS_COLUMN, "On average", NEARER_END - EXPECTED_END, "Closer");
    for (size_t i = 0; i < sheet_passes(key); i++)
        pass_out(key, &key->choices[i]);
    size_t more = sheet_as_good(key);
    if (more > 0)
        output_format("%*s%zu more %s just as good.\n", INDENT, "", more, more == 1 ? "is" : "are");
}

/* The passes, and why the first of them is the best. */
static void explained_out(const struct sheet *sheet, const struct sheet_key *key) {
    struct flow flow = {.indent = INDENT};
    struct text why;
    passes_out(key);
    sheet_why(sheet, key, &why);
    flow_words(&flow, why.bytes);
    flow_end(&flow);
}

static void discard_out(const struct sheet_key *key, const nh_discard_choice *choice) {
    struct flow flow = {.indent = USEFUL_COLUMN};
    struct text text;
    char figure[SHEET_FIGURE_SIZE] = "";
    text_clear(&text);
    text_pad(&text, INDENT);
    text_add(&text, nh_kind_notation(choice->kind));
    if (choice->away != NH_AWAY_NONE)
        snprintf(figure, sizeof figure, "%u", choice->away);
    text_add_right(&text, figure, AFTER_END);
    sheet_discard_expected(key, choice, figure);
    text_add_right(&text, figure, DISCARD_AVERAGE_END);
    text_pad(&text, USEFUL_COLUMN - 1);
    output_bytes(text.bytes, text.length);
    flow.column = text.width;
    text_clear(&text);
    text_add_format(&text, "%u%s", choice->useful_count, choice->useful_count > 0 ? ": " : "");
    useful_add(&text, &choice->useful, times_sign());
    flow_words(&flow, text.bytes);
    flow_end(&flow);
}

static void discards_out(const struct sheet_key *key) {
    if (sheet_discards(key) == 0) {
        output_format("%*s%s\n", INDENT, "", sheet_no_discard(key));
        return;
    }
    output_format("%*s%-*s%*s%*s%*sUseful tiles\n", INDENT, "", AFTER_END - 5 - INDENT,
                  "Best discard", 5, "After", DISCARD_AVERAGE_END - AFTER_END, "On average",
                  USEFUL_COLUMN - DISCARD_AVERAGE_END, "");
    for (size_t i = 0; i < sheet_discards(key); i++)
        discard_out(key, &key->discards[i]);
    size_t more = sheet_discards_as_good(key);
    if (more > 0)
        output_format("%*s%zu more %s just as good.\n", INDENT, "", more, more == 1 ? "is" : "are");
}

/* A figure that ends in column `end`, a pattern, and where it stands on the list. */
static void pattern_out(const nh_pattern *pattern, const char *figure, int end) {
    static const char concealed[] = ", concealed";
    int mark = pattern->concealed ? (int)sizeof concealed - 1 : 0;
    struct text text, place;
    text_clear(&text);
    text_add_right(&text, figure, end);
    text_pad(&text, end + 2);
    sheet_place(pattern, &place);
    text_add_cut(&text, pattern->name, strlen(pattern->name),
                 (place.width > 0 ? PLACE_COLUMN - 2 : LINE_WIDTH) - end - 2 - mark);
    text_add(&text, pattern->concealed ? concealed : "");
    if (place.width > 0)
        text_pad(&text, PLACE_COLUMN);
    text_add_cut(&text, place.bytes, place.length, LINE_WIDTH - text.width);
    text_print(&text);
}

static void target_out(const nh_list *list, const nh_ranked *row, const nh_layout *layout,
                       int indent, void (*winds_add)(struct text *text, const nh_ranked *row)) {
    struct flow flow = {.indent = indent};
    struct text text;
    text_clear(&text);
    marked_target(&text, list, row, layout, &plain, false);
    flow_words(&flow, text.bytes);
    text_clear(&text);
    winds_add(&text, row);
    if (text.length > 0)
        flow_add(&flow, &text, 2);
    flow_end(&flow);
}

static void patterns_out(const struct sheet *sheet, const struct sheet_key *key) {
    if (key->ranking.rows == 0) {
        output_format("%*s%s\n", INDENT, "", SHEET_NO_PATTERN);
        return;
    }
    output_format("%*sAway  %s\n", INDENT, "", SHEET_CLOSEST);
    for (size_t i = 0; i < key->ranking.rows; i++) {
        nh_pattern pattern = *nh_list_pattern(sheet->list, key->rows[i].pattern);
        char away[8];
        snprintf(away, sizeof away, "%d", key->rows[i].away);
        pattern_out(&pattern, away, AWAY_END);
        target_out(sheet->list, &key->rows[i], &key->layouts[i], NAME_COLUMN + 2, marked_winds);
    }
}

/* ------------------------------------------------------- the key's readings --- */

static void left_out(const struct sheet *sheet, const struct sheet_key *key) {
    output_format("%*s Share  Patterns left\n", INDENT, "");
    for (size_t i = 0; i < key->left; i++) {
        char share[PERCENT_SIZE];
        sheet_share(key, i, share);
        pattern_out(nh_list_pattern(sheet->list, key->rows[i].pattern), share, SHARE_END);
        if (nh_tiles_total(&key->rows[i].target) > 0)
            target_out(key->player.player[0].list, &key->rows[i], &key->layouts[i], SHARE_END + 4,
                       marked_their_winds);
    }
    if (key->more > 0)
        output_format("%*s%zu more pattern%s.\n", INDENT, "", key->more, plural(key->more));
}

/* "Danger: 3D 12.4%, 5B 4.1%, W 0%." */
static void dangers_out(const struct sheet_key *key) {
    struct flow flow = {.indent = INDENT};
    size_t own = sheet_own_dangers(key);
    struct text text;
    flow_words(&flow, "Danger:");
    for (size_t i = 0; i < own; i++) {
        const struct tile_danger *tile = &key->reading.tiles[i];
        char danger[PERCENT_SIZE];
        percent_text(tile->danger, tile->danger >= 1.0, danger);
        text_clear(&text);
        text_add_format(&text, "%s %s%s", nh_kind_notation(tile->kind), danger,
                        i + 1 < own ? "," : ".");
        flow_add(&flow, &text, 1);
    }
    flow_end(&flow);
}

static void indented_out(const char *words) {
    struct flow flow = {.indent = INDENT};
    flow_words(&flow, words);
    flow_end(&flow);
}

static void reading_out(const struct sheet *sheet, const struct sheet_hand *hand,
                        const struct sheet_key *key) {
    const char *none = sheet_no_reading(key);
    struct text text;
    if (key->reading.reading[0] != NULL) {
        sheet_player(hand, key, &text);
        indented_out(text.bytes);
    }
    if (none != NULL) {
        indented_out(none);
        return;
    }
    left_out(sheet, key);
    dangers_out(key);
    sheet_safest(key, &text);
    indented_out(text.bytes);
}

static void key_hand(const struct sheet *sheet, const struct sheet_hand *hand,
                     const struct sheet_key *key) {
    hand_out(hand);
    if (sheet->asks == ASKS_READING) {
        reading_out(sheet, hand, key);
        return;
    }
    if (sheet->asks == ASKS_DISCARD)
        discards_out(key);
    else
        explained_out(sheet, key);
    patterns_out(sheet, key);
}

const struct sheet_form sheet_text = {sheet_begin, sheet_head, sheet_hand, nothing, form_feed,
                                      key_head,    key_hand,   nothing,    nothing};
