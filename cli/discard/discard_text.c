/* The answer of discard for people: the tile, what to expect then, and a row for each of
 * the best choices with the tiles that are useful after it and the patterns that it keeps
 * closest, none of the lines longer than LINE_WIDTH columns.
 *
 *   Discard W: 4 away; 3.604 on average with 3 more tiles.
 *   Place  Discard  After  On average   Costs  In 20 draws
 *       1  W            4       3.604                 2.8%  Boathouse
 *            15 useful tiles: 37Bx4 5Cx4 Ex2
 *            keeps Boathouse
 */
#include "discard/discard_task.h"
#include "io/flow.h"
#include "io/json.h"
#include "io/output.h"
#include "io/text.h"
#include "patterns/marked.h"
#include "patterns/useful.h"

#include <stdio.h>
#include <string.h>

#define GAP 2
#define KEEPS_SHOWN 4

static void bold_out(const struct discard_answer *answer, const struct text *text) {
    const struct style *style = &answer->question->style;
    output_text(style->bold);
    output_bytes(text->bytes, text->length);
    output_format("%s\n", style->plain);
}

/* ---------------------------------------------------------- the answer --- */

static void complete_out(const struct discard_answer *answer) {
    const nh_list *list = answer->question->list;
    struct flow flow = {.indent = 0};
    struct text text;
    text_clear(&text);
    text_add(&text, "Complete: nothing to discard.");
    bold_out(answer, &text);
    for (size_t i = 0; i < answer->completed_count; i++) {
        const nh_completed *row = &answer->completed[i];
        char number[JSON_DOUBLE_SIZE];
        text_clear(&text);
        text_pad(&text, GAP);
        text_add(&text, nh_list_pattern(list, row->pattern)->name);
        json_double_text(row->points, number);
        if (row->has_points)
            text_add_format(&text, ", %s point%s", number, strcmp(number, "1") == 0 ? "" : "s");
        if (row->prevailing != NH_WIND_UNKNOWN || row->seat != NH_WIND_UNKNOWN)
            text_add(&text, ", ");
        marked_winds(&text, &(nh_ranked){.prevailing = row->prevailing, .seat = row->seat});
        flow_add(&flow, &text, 0);
        flow_end(&flow);
    }
}

static void best_out(const struct discard_answer *answer) {
    const struct discard_choice *best = &answer->choices[0];
    struct text text;
    text_clear(&text);
    if (answer->count == 0)
        text_add(&text, "Nothing but jokers, which are never discarded.");
    else if (best->figures.away == NH_AWAY_NONE)
        text_add(&text, "Whatever you discard, no pattern is possible.");
    else if (answer->discarding.look == 0)
        text_add_format(&text, "Discard %s: %u away, and no more tiles to come.",
                        nh_kind_notation(best->figures.kind), best->figures.away);
    else
        text_add_format(&text, "Discard %s: %u away; %.3f on average with %u more tile%s.",
                        nh_kind_notation(best->figures.kind), best->figures.away,
                        discard_average(answer, best), answer->discarding.look,
                        plural(answer->discarding.look));
    bold_out(answer, &text);
}

/* ---------------------------------------------------------------- table --- */

/* Columns from the left; the pattern's name takes what is left of the line. */
enum { PLACE, DISCARD, AFTER, AVERAGE, COSTS, CHANCE, WORTH, COLUMNS };
static const int widths[COLUMNS] = {5, 7, 5, 10, 6, 12, 6};

static void row_text(const struct discard_answer *answer, struct text *text,
                     const char *cells[COLUMNS]) {
    int columns = answer->question->order == NH_DISCARD_WORTH ? COLUMNS : WORTH;
    int end = 0;
    text_clear(text);
    for (int i = 0; i < columns; i++) {
        end += widths[i] + (i > 0 ? GAP : 0);
        if (i == DISCARD) {
            text_pad(text, end - widths[i]);
            text_add(text, cells[i]);
        } else if (cells[i][0] != '\0')
            text_add_right(text, cells[i], end);
    }
    text_pad(text, end);
}

static void head_out(const struct discard_answer *answer) {
    const struct style *style = &answer->question->style;
    char chance[32];
    snprintf(chance, sizeof chance, "In %d draw%s", answer->question->draws,
             plural((size_t)answer->question->draws));
    const char *cells[COLUMNS] = {"Place", "Discard", "After", "On average",
                                  "Costs", chance,    "Worth"};
    struct text text;
    row_text(answer, &text, cells);
    output_text(style->dim);
    output_bytes(text.bytes, text.length);
    output_format("%s\n", style->plain);
}

static void cost_text(double cost, char *text, size_t size) {
    if (cost > 0 && cost < 0.001)
        snprintf(text, size, "<0.001");
    else if (cost > 0 || cost <= -0.0005)
        snprintf(text, size, "%.3f", cost);
    else
        text[0] = '\0';
}

static void figures_out(const struct discard_answer *answer, const struct discard_choice *choice,
                        size_t place) {
    const nh_discard_choice *figures = &choice->figures;
    char first[24], after[8] = "", average[32] = "none left", costs[32] = "", worth[32] = "";
    char chance[PERCENT_SIZE] = "";
    const char *name = "";
    struct text text;
    snprintf(first, sizeof first, "%zu", place);
    if (figures->away != NH_AWAY_NONE) {
        snprintf(after, sizeof after, "%u", figures->away);
        snprintf(average, sizeof average, "%.3f", discard_average(answer, choice));
        cost_text(discard_cost(answer, choice), costs, sizeof costs);
        percent_text(figures->chance,
                     nh_natural_compare(&figures->completing, &answer->discarding.chance_draws) ==
                         0,
                     chance);
        snprintf(worth, sizeof worth, "%.2f", discard_worth(answer, choice));
        name = nh_list_pattern(answer->question->list, figures->pattern)->name;
    }
    const char *cells[COLUMNS] = {
        first, nh_kind_notation(figures->kind), after, average, costs, chance, worth};
    row_text(answer, &text, cells);
    if (name[0] != '\0') {
        text_pad(&text, text.width + GAP);
        text_add_cut(&text, name, strlen(name), LINE_WIDTH - text.width);
    }
    text_print(&text);
}

/* --------------------------------------------------- what each choice keeps --- */

#define BELOW_INDENT 9

/* Tiles that bring the hand closer, with how many of each kind are unseen. */
static void useful_out(const nh_discard_choice *figures) {
    struct flow flow = {.indent = BELOW_INDENT};
    struct text text;
    text_clear(&text);
    text_add_format(&text, "%u useful tile%s%s", figures->useful_count,
                    plural(figures->useful_count), figures->useful_count > 0 ? ": " : "");
    useful_add(&text, &figures->useful, times_sign());
    flow_words(&flow, text.bytes);
    flow_end(&flow);
}

static void keeps_out(const struct discard_answer *answer, const struct discard_choice *choice) {
    const nh_list *list = answer->question->list;
    size_t shown = choice->keep_count > KEEPS_SHOWN + 1 ? KEEPS_SHOWN : choice->keep_count;
    struct flow flow = {.indent = BELOW_INDENT};
    struct text text;
    flow_words(&flow, "keeps");
    for (size_t i = 0; i < shown; i++) {
        const char *name = nh_list_pattern(list, choice->keeps[i])->name;
        text_clear(&text);
        text_add_cut(&text, name, strlen(name), LINE_WIDTH - BELOW_INDENT - 1);
        text_add(&text, i + 1 < choice->keep_count ? "," : "");
        flow_add(&flow, &text, 1);
    }
    if (shown < choice->keep_count) {
        text_clear(&text);
        text_add_format(&text, "%zu more", choice->keep_count - shown);
        flow_add(&flow, &text, 1);
    }
    flow_end(&flow);
}

static void choices_out(const struct discard_answer *answer) {
    size_t top = answer->question->top;
    size_t shown = answer->count < top ? answer->count : top;
    size_t more = answer->discarding.discards - shown;
    if (shown > 0)
        head_out(answer);
    for (size_t i = 0; i < shown; i++) {
        const struct discard_choice *choice = &answer->choices[i];
        figures_out(answer, choice, i + 1);
        if (choice->figures.away == NH_AWAY_NONE)
            continue;
        useful_out(&choice->figures);
        keeps_out(answer, choice);
    }
    if (more > 0)
        output_format("%zu other tile%s; --top %zu shows all.\n", more, plural(more),
                      answer->discarding.discards);
}

void discard_text(const struct discard_answer *answer) {
    if (answer->question->batch) {
        output_text("\n");
        marked_heading(&answer->hand, answer->line, &answer->question->style);
    }
    if (answer->discarding.complete) {
        complete_out(answer);
        return;
    }
    best_out(answer);
    if (answer->count > 0 && answer->choices[0].figures.away != NH_AWAY_NONE)
        choices_out(answer);
    exchanges_text(&answer->exchanges);
}
