/* The table of sections, for people: a head, and a line for each section, none longer
 * than LINE_WIDTH columns.
 *
 *   Away  Section       Near its best  Pattern             Points  In 20 draws
 *      2  Even numbers         3 of 9  Low Tide                25        31.4%
 *
 * Near its best are patterns of the section at most a tile further away than the one shown.
 */
#include "rank/section_table.h"
#include "io/flow.h"
#include "io/output.h"
#include "numbers/double_text.h"
#include "rank/rank_cells.h"

#include <stdio.h>
#include <string.h>

#define AWAY_WIDTH 4
#define GAP 2
#define NAME_INDENT (AWAY_WIDTH + GAP)
#define WITHIN_HEAD "Near its best"
#define PATTERN_LEAST 16
#define NO_SECTION "(none)"

/* Widths of the columns; 0 where no row has anything to say. */
struct columns {
    int section, within, pattern, points, worth, chance;
};

struct cells {
    const char *away, *section, *within, *pattern, *points, *worth, *chance;
};

/* What the cells of a row are kept in. */
struct cell_room {
    char away[8], within[48], points[DOUBLE_TEXT_SIZE], worth[WORTH_SIZE], chance[PERCENT_SIZE];
};

static int shorter(int a, int b) {
    return a < b ? a : b;
}

static struct cells cells_of(const struct rank_answer *answer, const struct rank_section *section,
                             struct cell_room *room) {
    const nh_pattern *pattern = nh_list_pattern(answer->question->list, section->best->pattern);
    snprintf(room->away, sizeof room->away, "%d", section->best->away);
    snprintf(room->within, sizeof room->within, "%zu of %zu", section->within_one,
             section->patterns);
    points_text(pattern, room->points);
    room->worth[0] = '\0';
    if (answer->question->order == NH_ORDER_WORTH)
        worth_text(answer, section->best, room->worth);
    chance_text(answer, section->best, room->chance);
    return (struct cells){room->away,   section->name != NULL ? section->name : NO_SECTION,
                          room->within, pattern->name,
                          room->points, room->worth,
                          room->chance};
}

static void widen(struct columns *columns, const struct cells *cells) {
    columns->section = longer(columns->section, text_width(cells->section));
    columns->within = longer(columns->within, text_width(cells->within));
    columns->pattern = longer(columns->pattern, text_width(cells->pattern));
    columns->points = longer(columns->points, text_width(cells->points));
    columns->worth = longer(columns->worth, text_width(cells->worth));
    columns->chance = longer(columns->chance, text_width(cells->chance));
}

/* Patterns are cut before sections, but stay long enough to be known by. */
static void narrow(struct columns *columns) {
    int room = LINE_WIDTH - NAME_INDENT - GAP - columns->within - GAP - GAP - columns->chance;
    room -= columns->points > 0 ? GAP + columns->points : 0;
    room -= columns->worth > 0 ? GAP + columns->worth : 0;
    if (columns->section + columns->pattern <= room)
        return;
    int least = shorter(columns->pattern, longer(PATTERN_LEAST, room / 2));
    columns->pattern = longer(room - columns->section, least);
    columns->section = room - columns->pattern;
}

static struct columns fit_columns(const struct rank_answer *answer, const struct cells *head) {
    struct columns columns = {0};
    for (size_t i = 0; i < answer->sections_shown; i++) {
        struct cell_room room;
        struct cells cells = cells_of(answer, &answer->sections[i], &room);
        widen(&columns, &cells);
    }
    struct cells shown = *head;
    shown.points = columns.points > 0 ? head->points : "";
    shown.worth = columns.worth > 0 ? head->worth : "";
    widen(&columns, &shown);
    narrow(&columns);
    return columns;
}

static void add_figure(struct text *text, const char *figure, int width, int *end) {
    if (width == 0)
        return;
    *end += GAP + width;
    text_add_right(text, figure, *end);
}

/* `style` is NULL for none. */
static void row_text(const struct columns *columns, const struct cells *cells,
                     const struct style *style, struct text *text) {
    int end = NAME_INDENT + columns->section;
    text_clear(text);
    text_add_right(text, cells->away, AWAY_WIDTH);
    text_pad(text, NAME_INDENT);
    text_add_style(text, style != NULL ? style->bold : "");
    text_add_cut(text, cells->section, strlen(cells->section), columns->section);
    text_add_style(text, style != NULL ? style->plain : "");
    add_figure(text, cells->within, columns->within, &end);
    text_pad(text, end + GAP);
    text_add_cut(text, cells->pattern, strlen(cells->pattern), columns->pattern);
    end += GAP + columns->pattern;
    add_figure(text, cells->points, columns->points, &end);
    add_figure(text, cells->worth, columns->worth, &end);
    add_figure(text, cells->chance, columns->chance, &end);
}

void section_table_out(const struct rank_answer *answer) {
    const struct style *style = &answer->question->style;
    char chance[CHANCE_HEAD_SIZE];
    struct cells head = {"Away", "Section", WITHIN_HEAD, "Pattern", "Points", "Worth", chance};
    struct text text;
    if (answer->sections_shown == 0)
        return;
    chance_head(answer->question, chance);
    struct columns columns = fit_columns(answer, &head);
    row_text(&columns, &head, NULL, &text);
    output_text(style->dim);
    output_bytes(text.bytes, text.length);
    output_format("%s\n", style->plain);
    for (size_t i = 0; i < answer->sections_shown; i++) {
        struct cell_room room;
        struct cells cells = cells_of(answer, &answer->sections[i], &room);
        row_text(&columns, &cells, style, &text);
        text_print(&text);
    }
}
