/* The answer of discard for people: the tile, what to expect then, and a row for each of
 * the best choices with the tiles that are useful after it and the patterns that it keeps
 * closest, none of the lines longer than LINE_WIDTH columns.
 *
 *   Discard W: 4 away; 3.604 on average with 3 more tiles.
 *   Place  Discard  After  On average   Costs  In 20 draws
 *       1  W            4       3.604                 2.8%  Boathouse
 *            15 useful tiles: 37Bx4 5Cx4 Ex2
 *            keeps Boathouse
 *
 * Where players are read, the table has the danger of each tile, and a line names the
 * safest:
 *
 *   Safest R: danger 0.90%, not 5.0%; 4 away, costs 0.084.
 *   EEE 444D on the table, 7 tiles hidden: 3 of 63 patterns left.
 */
#include "discard/discard_task.h"
#include "io/flow.h"
#include "io/output.h"
#include "io/text.h"
#include "numbers/double_text.h"
#include "patterns/marked.h"
#include "patterns/useful.h"
#include "players/player_shown.h"

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
        char number[DOUBLE_TEXT_SIZE];
        text_clear(&text);
        text_pad(&text, GAP);
        text_add(&text, nh_list_pattern(list, row->pattern)->name);
        double_text(row->points, number);
        if (row->has_points)
            text_add_format(&text, ", %s point%s", number, strcmp(number, "1") == 0 ? "" : "s");
        if (row->prevailing != NH_WIND_UNKNOWN || row->seat != NH_WIND_UNKNOWN)
            text_add(&text, ", ");
        marked_winds(&text, &(nh_ranked){.prevailing = row->prevailing, .seat = row->seat});
        flow_add(&flow, &text, 0);
        flow_end(&flow);
    }
}

/* A joker from the table that wins, or brings the hand closer, comes before any discard. */
static void exchange_out(const struct discard_answer *answer) {
    struct text text;
    text_clear(&text);
    exchange_first_text(&text, &answer->exchanges);
    if (text.length > 0)
        bold_out(answer, &text);
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

/* -------------------------------------------------------------- players --- */

static void sentence_out(const char *sentence) {
    struct flow flow = {.indent = 0};
    flow_words(&flow, sentence);
    flow_end(&flow);
}

static void danger_text(double danger, char *text) {
    percent_text(danger, danger >= 1.0, text);
}

/* What the safest choice costs, where it is not the first. */
static void cost_add(struct text *text, const struct discard_answer *answer,
                     const struct discard_choice *safest) {
    double cost = discard_cost(answer, safest);
    if (safest->figures.away == NH_AWAY_NONE) {
        text_add(text, "; no pattern is possible then.");
        return;
    }
    text_add_format(text, "; %u away", safest->figures.away);
    if (cost >= 0.0005)
        text_add_format(text, ", costs %.3f.", cost);
    else if (cost <= -0.0005)
        text_add_format(text, ", %.3f fewer on average.", -cost);
    else
        text_add(text, ", costs nothing.");
}

/* "Safest R: danger 0.90%, not 5.0%; 4 away, costs 0.084." */
static void safest_out(const struct discard_answer *answer) {
    const struct discard_choice *best = &answer->choices[0];
    const struct discard_choice *safest = &answer->choices[answer->safest];
    char least[PERCENT_SIZE], first[PERCENT_SIZE];
    struct text text;
    text_clear(&text);
    danger_text(safest->danger, least);
    danger_text(best->danger, first);
    if (best->figures.away == NH_AWAY_NONE)
        text_add_format(&text, "Safest %s: danger %s.", nh_kind_notation(safest->figures.kind),
                        least);
    else if (safest == best)
        text_add_format(&text, "It is also the safest: danger %s.", least);
    else {
        text_add_format(&text, "Safest %s: danger %s, not %s",
                        nh_kind_notation(safest->figures.kind), least, first);
        cost_add(&text, answer, safest);
    }
    bold_out(answer, &text);
}

/* Whether there are dangers to show: not where nobody can be completed, which may only mean
 * that what is known of them is wrong. */
static bool dangers_shown(const struct discard_answer *answer) {
    return discard_dangers_known(answer) && players_reading_ready(&answer->players);
}

static void players_out(const struct discard_answer *answer) {
    const struct other_players *players = &answer->question->players;
    if (!discard_dangers_known(answer))
        sentence_out(PLAYERS_TOO_MUCH);
    else if (dangers_shown(answer) && answer->count > 0)
        safest_out(answer);
    for (size_t i = 0; i < players->count; i++) {
        struct text text;
        text_clear(&text);
        player_add(&text, players, &answer->players, i, players->count > 1);
        sentence_out(text.bytes);
    }
}

static void model_out(const struct discard_answer *answer) {
    if (!dangers_shown(answer) || answer->count == 0)
        return;
    sentence_out(PLAYERS_MODEL);
    if (answer->question->players.count > 1)
        sentence_out(PLAYERS_MODEL_SEVERAL);
}

/* ---------------------------------------------------------------- table --- */

/* Columns from the left; the pattern's name takes what is left of the line. */
enum { PLACE, DISCARD, AFTER, AVERAGE, COSTS, DANGER, CHANCE, WORTH, COLUMNS };
static const int widths[COLUMNS] = {5, 7, 5, 10, 6, 6, 12, 6};

static bool column_shown(const struct discard_answer *answer, int column) {
    return column == DANGER  ? dangers_shown(answer)
           : column == WORTH ? answer->question->order == NH_DISCARD_WORTH
                             : true;
}

static void row_text(const struct discard_answer *answer, struct text *text,
                     const char *cells[COLUMNS]) {
    int end = 0;
    text_clear(text);
    for (int i = 0; i < COLUMNS; i++) {
        if (!column_shown(answer, i))
            continue;
        end += widths[i] + (i > 0 ? GAP : 0);
        if (i == DISCARD) {
            text_pad(text, end - widths[i]);
            text_add(text, cells[i]);
        } else if (cells[i][0] != '\0')
            text_add_right(text, cells[i], end);
    }
}

static void head_out(const struct discard_answer *answer) {
    const struct style *style = &answer->question->style;
    char chance[32];
    snprintf(chance, sizeof chance, "In %d draw%s", answer->question->draws,
             plural((size_t)answer->question->draws));
    const char *cells[COLUMNS] = {"Place", "Discard", "After", "On average",
                                  "Costs", "Danger",  chance,  "Worth"};
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
    char chance[PERCENT_SIZE] = "", danger[PERCENT_SIZE];
    const char *name = "";
    struct text text;
    danger_text(choice->danger, danger);
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
        first, nh_kind_notation(figures->kind), after, average, costs, danger, chance, worth};
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

static void choice_out(const struct discard_answer *answer, size_t index) {
    const struct discard_choice *choice = &answer->choices[index];
    figures_out(answer, choice, index + 1);
    if (choice->figures.away == NH_AWAY_NONE)
        return;
    useful_out(&choice->figures);
    keeps_out(answer, choice);
}

/* The choices by their place, and the safest in any case. */
static void choices_out(const struct discard_answer *answer) {
    size_t shown = discard_shown(answer), all = answer->discarding.discards;
    bool safest =
        dangers_shown(answer) && answer->safest >= shown && answer->safest < answer->count;
    if (shown > 0 || safest)
        head_out(answer);
    for (size_t i = 0; i < shown; i++)
        choice_out(answer, i);
    if (safest)
        choice_out(answer, answer->safest);
    size_t more = all - shown - (safest ? 1 : 0);
    if (more > 0)
        output_format("%zu other tile%s; --top %zu shows all.\n", more, plural(more), all);
}

void discard_text(const struct discard_answer *answer) {
    bool reads = discard_reads(answer);
    if (answer->question->batch) {
        output_text("\n");
        marked_heading(&answer->hand, answer->line, &answer->question->style);
    }
    if (answer->discarding.complete) {
        complete_out(answer);
        return;
    }
    exchange_out(answer);
    best_out(answer);
    if (reads)
        players_out(answer);
    if (answer->count > 0 && (reads || answer->choices[0].figures.away != NH_AWAY_NONE))
        choices_out(answer);
    exchanges_text(&answer->exchanges);
    if (reads)
        model_out(answer);
}
