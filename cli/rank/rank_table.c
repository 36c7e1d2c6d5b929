/* The table of a ranking: two lines for each pattern, none longer than LINE_WIDTH
 * columns.
 *
 *   Away  Pattern           On the list     Points  In 20 draws
 *      2  Low Tide          Even numbers 3      25        31.4%
 *           2244(4)B | 66(66)C | EEW   don't need 18D R
 */
#include "rank/rank_table.h"
#include "io/flow.h"
#include "io/output.h"
#include "io/text.h"
#include "numbers/double_text.h"
#include "patterns/marked.h"

#include <stdio.h>
#include <string.h>

#define AWAY_WIDTH 4
#define GAP 2
#define NAME_INDENT (AWAY_WIDTH + GAP)
#define TILES_INDENT (NAME_INDENT + 2)
#define CONCEALED ", concealed"
#define PLACE_LEAST 16

/* ------------------------------------------------------------- cells --- */

/* Empty unless the ranking is by worth. */
static void worth_cell(const nh_ranked *row, const struct rank_table *table,
                       char text[WORTH_SIZE]) {
    text[0] = '\0';
    if (table->answer->question->order == NH_ORDER_WORTH)
        worth_text(table->answer, row, text);
}

/* Where the pattern stands on the printed list, in at most `columns`. What
 * finds it there is the ref, so the section is cut first. */
static void place_text(const nh_pattern *pattern, int columns, struct text *text) {
    text_clear(text);
    int ref = pattern->ref == NULL ? 0 : text_width(pattern->ref);
    if (pattern->section != NULL && ref + 1 < columns)
        text_add_cut(text, pattern->section, strlen(pattern->section),
                     ref > 0 ? columns - ref - 1 : columns);
    if (ref == 0)
        return;
    if (text->width > 0)
        text_add(text, " ");
    text_add_cut(text, pattern->ref, strlen(pattern->ref), columns - text->width);
}

static void target_text(const nh_ranked *row, const struct rank_table *table, struct text *text) {
    text_clear(text);
    const nh_layout *groups = &table->answer->layouts[row - table->answer->rows];
    marked_target(text, table->answer->question->list, row, groups, &table->style,
                  table->answer->question->unicode);
}

static void spare_text(const nh_ranked *row, const struct rank_table *table, struct text *text) {
    text_clear(text);
    if (nh_tiles_total(&row->spare) == 0)
        return;
    text_add(text, "don't need ");
    marked_tiles(text, &row->spare, table->style.dim, &table->style,
                 table->answer->question->unicode);
}

/* ------------------------------------------------------------ columns --- */

/* What a row wants. */
struct widths {
    int name, place, points, worth, chance, target, spare, presumed;
    struct marks_seen marks;
};

static void measure_row(const struct rank_table *table, const nh_ranked *row,
                        struct widths *widths) {
    const nh_pattern *pattern = nh_list_pattern(table->answer->question->list, row->pattern);
    struct text text;
    char points[DOUBLE_TEXT_SIZE], worth[WORTH_SIZE], chance[PERCENT_SIZE];
    widths->name = text_width(pattern->name) + (pattern->concealed ? text_width(CONCEALED) : 0);
    place_text(pattern, LINE_WIDTH, &text);
    widths->place = text.width;
    points_text(pattern, points);
    widths->points = text_width(points);
    worth_cell(row, table, worth);
    widths->worth = text_width(worth);
    chance_text(table->answer, row, chance);
    widths->chance = text_width(chance);
    target_text(row, table, &text);
    widths->target = text.width;
    spare_text(row, table, &text);
    widths->spare = text.width;
    text_clear(&text);
    marked_winds(&text, row);
    widths->presumed = text.width;
    widths->marks = (struct marks_seen){.needed = false};
    marked_note(&widths->marks, table->answer->question->list, row,
                &table->answer->layouts[row - table->answer->rows]);
}

static void begin_table(struct rank_table *table, const struct rank_answer *answer) {
    const struct rank_question *question = answer->question;
    *table = (struct rank_table){.answer = answer, .style = question->style};
    chance_head(question, table->chance_head);
}

static void widen_table(struct rank_table *table, const struct widths *widths) {
    table->shown++;
    table->name = longer(table->name, widths->name);
    table->place = longer(table->place, widths->place);
    table->points = longer(table->points, widths->points);
    table->worth = longer(table->worth, widths->worth);
    table->chance = longer(table->chance, widths->chance);
    if (TILES_INDENT + widths->target + GAP + widths->spare <= LINE_WIDTH)
        table->spare = longer(table->spare, TILES_INDENT + widths->target + GAP);
    table->marks.needed = table->marks.needed || widths->marks.needed;
    table->marks.joked = table->marks.joked || widths->marks.joked;
    table->marks.shown = table->marks.shown || widths->marks.shown;
}

/* Names get what they want, as far as the place on the list keeps enough to be
 * known by. */
static void narrow_table(struct rank_table *table) {
    int room = LINE_WIDTH - AWAY_WIDTH - GAP - GAP - table->chance;
    if (table->points > 0)
        room -= GAP + table->points;
    if (table->worth > 0)
        room -= GAP + table->worth;
    if (table->place > 0) {
        room -= GAP;
        table->place = table->place + table->name <= room ? table->place
                                                          : longer(PLACE_LEAST, room - table->name);
        table->place = table->place > room / 2 ? room / 2 : table->place;
    }
    if (table->name > room - table->place)
        table->name = room - table->place;
}

static void end_table(struct rank_table *table) {
    table->name = longer(table->name, text_width("Pattern"));
    table->chance = longer(table->chance, text_width(table->chance_head));
    if (table->place > 0)
        table->place = longer(table->place, text_width("On the list"));
    if (table->points > 0)
        table->points = longer(table->points, text_width("Points"));
    if (table->worth > 0)
        table->worth = longer(table->worth, text_width("Worth"));
    narrow_table(table);
}

/* ------------------------------------------------------ fit to a screen --- */

/* Adds a piece to a line as flow_add does, and its line if it begins one. */
static void count_piece(int width, int gap, int *column, int *lines) {
    if (width == 0)
        return;
    bool fits = *column + gap + width <= LINE_WIDTH;
    *lines += !fits;
    *column = (fits ? *column + gap : TILES_INDENT) + width;
}

static int lines_of_row(const struct rank_table *table, const struct widths *widths) {
    int lines = 2, column = TILES_INDENT + widths->target;
    count_piece(widths->spare, longer(GAP, table->spare - column), &column, &lines);
    count_piece(widths->presumed, GAP, &column, &lines);
    return lines;
}

/* Makes columns for `shown` rows; false if they do not fit. */
static bool fits_screen(struct rank_table *table, const struct rank_answer *answer,
                        const struct widths *widths, size_t shown, int around) {
    begin_table(table, answer);
    for (size_t i = 0; i < shown; i++)
        widen_table(table, &widths[i]);
    end_table(table);
    int lines = around + 1; /* the head */
    lines += table->marks.needed || table->marks.joked || table->marks.shown;
    lines += shown < answer->ranking.live;
    for (size_t i = 0; i < shown; i++)
        lines += lines_of_row(table, &widths[i]);
    return lines <= SCREEN_LINES;
}

void rank_table_fit(struct rank_table *table, const struct rank_answer *answer, int around) {
    struct widths widths[TOP_TEXT];
    size_t rows = answer->ranking.rows;
    bool fit = answer->question->fit && rows <= TOP_TEXT;
    begin_table(table, answer);
    for (size_t i = 0; i < rows; i++) {
        struct widths *row = &widths[fit ? i : 0];
        measure_row(table, &answer->rows[i], row);
        widen_table(table, row);
    }
    end_table(table);
    for (size_t shown = rows; fit && shown > 0; shown--)
        if (fits_screen(table, answer, widths, shown, around))
            return;
}

/* -------------------------------------------------------------- rows --- */

/* Columns from the left: away, name, place, points, worth, chance. */
static void begin_row(struct text *text, const char *away) {
    text_clear(text);
    text_add_right(text, away, AWAY_WIDTH);
    text_pad(text, NAME_INDENT);
}

static void end_row(struct text *text, const struct rank_table *table, const char *place,
                    const char *points, const char *worth, const char *chance) {
    int end = NAME_INDENT + table->name;
    if (table->place > 0) {
        text_pad(text, end + GAP);
        text_add_cut(text, place, strlen(place), table->place);
        end += GAP + table->place;
    }
    if (table->points > 0) {
        end += GAP + table->points;
        text_add_right(text, points, end);
    }
    if (table->worth > 0) {
        end += GAP + table->worth;
        text_add_right(text, worth, end);
    }
    text_add_right(text, chance, end + GAP + table->chance);
}

static void head_out(const struct rank_table *table) {
    struct text text;
    begin_row(&text, "Away");
    text_add(&text, "Pattern");
    end_row(&text, table, "On the list", "Points", "Worth", table->chance_head);
    output_text(table->style.dim);
    output_bytes(text.bytes, text.length);
    output_format("%s\n", table->style.plain);
}

static void pattern_out(const struct rank_table *table, const nh_pattern *pattern,
                        const nh_ranked *row) {
    struct text text, place;
    char away[8], points[DOUBLE_TEXT_SIZE], worth[WORTH_SIZE], chance[PERCENT_SIZE];
    snprintf(away, sizeof away, "%d", row->away);
    points_text(pattern, points);
    worth_cell(row, table, worth);
    chance_text(table->answer, row, chance);
    place_text(pattern, table->place, &place);
    begin_row(&text, away);
    int concealed = pattern->concealed ? text_width(CONCEALED) : 0;
    text_add_style(&text, table->style.bold);
    text_add_cut(&text, pattern->name, strlen(pattern->name), table->name - concealed);
    text_add_style(&text, table->style.plain);
    if (pattern->concealed)
        text_add(&text, CONCEALED);
    end_row(&text, table, place.bytes, points, worth, chance);
    text_print(&text);
}

static void tiles_out(const struct rank_table *table, const nh_ranked *row) {
    struct flow flow = {.indent = TILES_INDENT};
    struct text text;
    target_text(row, table, &text);
    flow_add(&flow, &text, 0);
    spare_text(row, table, &text);
    if (text.length > 0)
        flow_add(&flow, &text, longer(GAP, table->spare - flow.column));
    text_clear(&text);
    marked_winds(&text, row);
    if (text.length > 0)
        flow_add(&flow, &text, GAP);
    flow_end(&flow);
}

void rank_table_out(const struct rank_table *table) {
    const struct rank_answer *answer = table->answer;
    if (table->shown > 0)
        head_out(table);
    for (size_t i = 0; i < table->shown; i++) {
        const nh_ranked *row = &answer->rows[i];
        pattern_out(table, nh_list_pattern(answer->question->list, row->pattern), row);
        tiles_out(table, row);
    }
}

void rank_table_marks_out(const struct rank_table *table) {
    marked_legend_out(&table->marks, &table->style);
}
