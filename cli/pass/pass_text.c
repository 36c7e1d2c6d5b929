/* The answer of pass for people: the pass and what to expect of it, the
 * patterns that stay nearest, then what other passes cost, none of the lines
 * longer than LINE_WIDTH columns.
 *
 *   Pass R W Wh: 4 away after the pass; 3.634 on average with 3 new tiles.
 *   Now 4 away; the chance of getting closer is 34.5%.
 *   Closest after the pass   Loses
 *     Low Tide               nothing
 *           2244(4)B 66(66)C EEW       don't need 18D R
 *   Place  Pass    After  On average  Closer   Costs
 *       1  R W Wh      4       3.634   34.5%
 */
#include "io/flow.h"
#include "io/json.h"
#include "io/output.h"
#include "io/text.h"
#include "pass/pass_task.h"
#include "patterns/marked.h"

#include <stdio.h>
#include <string.h>

#define GAP 2
#define PLACE_WIDTH 5
#define NAME_INDENT 2
#define TILES_INDENT 8
#define LOSES_WIDTH 8
#define NEAREST_HEAD "Closest after the pass"

static void bold_out(const struct pass_answer *answer, const struct text *text) {
    const struct style *style = &answer->question->style;
    output_text(style->bold);
    output_bytes(text->bytes, text->length);
    output_format("%s\n", style->plain);
}

static void head_out(const struct pass_answer *answer, const struct text *text) {
    const struct style *style = &answer->question->style;
    output_text(style->dim);
    output_bytes(text->bytes, text->length);
    output_format("%s\n", style->plain);
}

static void pass_add(struct text *text, const nh_tiles *pass) {
    char tiles[NH_TILES_TEXT_SIZE];
    nh_tiles_format(pass, NH_STYLE_LETTERS, tiles, sizeof tiles);
    text_add(text, tiles[0] == '\0' ? "nothing" : tiles);
}

/* ---------------------------------------------------------- the answer --- */

static void remaining_add(struct text *text, const struct walk *walk) {
    if (walk->left == 0) {
        text_add(text, "it is the last.");
        return;
    }
    text_add_format(text, "%u pass%s", walk->left, walk->left == 1 ? " remains" : "es remain");
    if (!walk_optional(walk) && walk->left_optional == walk->left)
        text_add(text, ", in an optional round");
    else if (!walk_optional(walk) && walk->left_optional > 0)
        text_add_format(text, ", %u of them in an optional round", walk->left_optional);
    text_add(text, ".");
}

static void walk_out(const struct walk *walk, unsigned tiles) {
    struct flow flow = {.indent = 0};
    struct text text;
    text_clear(&text);
    if (walk_in_courtesy(walk))
        text_add(&text, "All rounds are over: the courtesy exchange.");
    else {
        text_add_format(&text, "Round %u%s, pass %u of %u: %s; ", walk->step.round,
                        walk_optional(walk) ? " (optional)" : "", walk->step.pass, walk->passes,
                        nh_direction_name(walk->step.direction));
        remaining_add(&text, walk);
    }
    if (walk_blind(walk))
        text_add_format(&text,
                        " In place of your own tiles you may hand on up to %u of those that "
                        "come in, unseen.",
                        tiles);
    flow_words(&flow, text.bytes);
    flow_end(&flow);
}

/* "W R Wh: ", or in a line by itself with what goes on unseen. */
static void best_pass_add(const struct pass_answer *answer, size_t count, struct text *text) {
    size_t tiles = nh_list_charleston(answer->question->list)->tiles;
    text_add(text, "Pass ");
    pass_add(text, &answer->choices[0].choice.pass);
    if (!walk_blind(&answer->question->walk) || count >= tiles) {
        text_add(text, ": ");
        return;
    }
    text_add_format(text, " of your own and hand on %zu unseen.", tiles - count);
    bold_out(answer, text);
    text_clear(text);
}

static void best_out(const struct pass_answer *answer) {
    const struct pass_choice *best = &answer->choices[0];
    struct text text;
    size_t count = (size_t)nh_tiles_total(&best->choice.pass);
    text_clear(&text);
    best_pass_add(answer, count, &text);
    if (count == 0)
        text_add_format(&text, "%u away.", best->choice.away);
    else
        text_add_format(&text, "%u away after the pass; %.3f on average with %zu new tile%s.",
                        best->choice.away, (double)best->choice.expected / (double)best->draws,
                        count, plural(count));
    bold_out(answer, &text);
    char nearer[PERCENT_SIZE];
    if (answer->away == 0)
        return;
    percent_text((double)best->choice.nearer / (double)best->draws,
                 best->choice.nearer == best->draws, nearer);
    if (count > 0)
        output_format("Now %u away with %d tiles; the chance of getting closer is %s.\n",
                      answer->away, nh_tiles_total(&answer->hand), nearer);
    else
        output_format("Now %u away with %d tiles.\n", answer->away, nh_tiles_total(&answer->hand));
}

static void dead_out(const struct pass_answer *answer) {
    struct text text;
    text_clear(&text);
    text_add(&text, "Whatever you pass, no pattern is possible.");
    bold_out(answer, &text);
}

static bool pass_completes(const struct pass_answer *answer, size_t pattern) {
    const uint8_t *chosen = answer->question->chosen;
    return answer->before[pattern] == 0 && (chosen == NULL || chosen[pattern] != 0);
}

/* A hand that is complete before play. */
static void complete_out(const struct pass_answer *answer) {
    const nh_list *list = answer->question->list;
    struct flow flow = {.indent = 0};
    struct text text;
    size_t patterns = 0;
    if (answer->away != 0)
        return;
    text_clear(&text);
    text_add_format(&text, "These %d tiles are complete:", nh_tiles_total(&answer->hand));
    flow_words(&flow, text.bytes);
    for (size_t i = 0; i < nh_list_size(list); i++)
        patterns += pass_completes(answer, i);
    for (size_t i = 0, more = patterns; i < nh_list_size(list); i++) {
        const char *plain = nh_list_pattern(list, i)->name;
        if (!pass_completes(answer, i))
            continue;
        text_clear(&text);
        text_add(&text, more == 1 && patterns > 1 ? "and " : "");
        text_add_cut(&text, plain, strlen(plain), LINE_WIDTH - text.width - 1);
        more--;
        text_add(&text, more == 0 ? "." : more > 1 ? "," : "");
        flow_add(&flow, &text, 1);
    }
    flow_end(&flow);
}

/* ------------------------------------------------------- another round --- */

static double average(const struct pass_choice *choice) {
    return (double)choice->choice.expected / (double)choice->draws;
}

/* From how many tiles in the courtesy on stopping is as good as one more pass;
 * answer->stops for none. */
static unsigned stop_from(const struct pass_answer *answer) {
    unsigned theirs = 0;
    while (theirs < answer->stops &&
           pass_compare_expected(&answer->choices[0], &answer->stopping[theirs]) < 0)
        theirs++;
    return theirs;
}

static void verdict_out(const struct pass_answer *answer) {
    unsigned round = answer->question->walk.step.round, from = stop_from(answer);
    struct text text;
    text_clear(&text);
    if (from == 0)
        text_add_format(&text, "Stop before round %u.", round);
    else if (from == answer->stops)
        text_add_format(&text, "Go on with round %u.", round);
    else
        text_add_format(
            &text, "Go on with round %u; stopping costs nothing if the player across wants %u%s.",
            round, from, from + 1 < answer->stops ? " or more" : "");
    bold_out(answer, &text);
}

/* What the verdict rests on. */
static void agree_out(const struct pass_answer *answer) {
    struct flow flow = {.indent = 2};
    struct text text;
    if (answer->stops == 0)
        return;
    verdict_out(answer);
    text_clear(&text);
    text_add_format(&text,
                    "One more pass leaves %.3f away on average; what comes after it is not "
                    "counted. Stopping leaves %u",
                    average(&answer->choices[0]), answer->away);
    for (unsigned theirs = 1; theirs < answer->stops; theirs++)
        text_add_format(&text,
                        theirs == 1 ? "; with the courtesy %.3f if the player across wants %u"
                                    : ", %.3f if %u",
                        average(&answer->stopping[theirs]), theirs);
    text_add(&text, ".");
    flow_words(&flow, text.bytes);
    flow_end(&flow);
}

/* ------------------------------------------------------- what is kept --- */

static int name_width(const struct pass_answer *answer) {
    int most = LINE_WIDTH - NAME_INDENT - GAP - LOSES_WIDTH;
    int width = text_width(NEAREST_HEAD) - NAME_INDENT;
    for (size_t i = 0; i < answer->target_count; i++) {
        uint32_t pattern = answer->targets[i].pattern;
        int name = text_width(nh_list_pattern(answer->question->list, pattern)->name);
        width = name > width ? name : width;
    }
    return width < most ? width : most;
}

static void target_out(const struct pass_answer *answer, size_t index) {
    const nh_ranked *row = &answer->targets[index];
    const struct style *style = &answer->question->style;
    struct flow flow = {.indent = TILES_INDENT};
    struct text text;
    text_clear(&text);
    marked_target(&text, answer->question->list, row, &answer->layouts[index], style, false);
    flow_add(&flow, &text, 0);
    if (nh_tiles_total(&row->spare) > 0) {
        text_clear(&text);
        text_add(&text, "don't need ");
        marked_tiles(&text, &row->spare, style->dim, style, false);
        flow_add(&flow, &text, GAP);
    }
    flow_end(&flow);
}

static void kept_row_out(const struct pass_answer *answer, size_t index, int width) {
    const nh_ranked *row = &answer->targets[index];
    const struct style *style = &answer->question->style;
    nh_pattern pattern = *nh_list_pattern(answer->question->list, row->pattern);
    int loses = row->away - answer->before[row->pattern];
    struct text text;
    text_clear(&text);
    text_pad(&text, NAME_INDENT);
    text_add_style(&text, style->bold);
    text_add_cut(&text, pattern.name, strlen(pattern.name), width);
    text_add_style(&text, style->plain);
    text_pad(&text, NAME_INDENT + width + GAP);
    if (loses == 0)
        text_add(&text, "nothing");
    else
        text_add_format(&text, "%d tile%s", loses, plural((size_t)loses));
    text_print(&text);
    target_out(answer, index);
}

static void legend_out(const struct pass_answer *answer) {
    struct marks_seen seen = {.needed = false};
    for (size_t i = 0; i < answer->target_count; i++)
        marked_note(&seen, answer->question->list, &answer->targets[i], &answer->layouts[i]);
    marked_legend_out(&seen, &answer->question->style);
}

static void more_kept_out(const struct pass_answer *answer) {
    size_t all = answer->choices[0].keep_count, more = all - answer->target_count;
    if (more > 0)
        output_format("  %zu more %s just as close.\n", more, more == 1 ? "is" : "are");
    if (all > 1 && answer->whole == 0)
        output_format("Each of these %zu patterns loses at least one tile.\n", all);
    else if (answer->whole > 0 && answer->whole < all)
        output_format("%zu of these %zu patterns lose%s nothing.\n", answer->whole, all,
                      answer->whole == 1 ? "s" : "");
}

static void kept_out(const struct pass_answer *answer) {
    if (answer->target_count == 0)
        return;
    int width = name_width(answer);
    struct text text;
    text_clear(&text);
    text_add(&text, NEAREST_HEAD);
    text_pad(&text, NAME_INDENT + width + GAP);
    text_add(&text, "Loses");
    head_out(answer, &text);
    for (size_t i = 0; i < answer->target_count; i++)
        kept_row_out(answer, i, width);
    more_kept_out(answer);
    legend_out(answer);
}

/* ---------------------------------------------------- what others cost --- */

/* Widths of the columns after the place, from the left. */
enum { PASS_WIDTH = 9, AFTER_WIDTH = 5, AVERAGE_WIDTH = 10, NEARER_WIDTH = 6, COSTS_WIDTH = 6 };

static void row_text(struct text *text, const char *cells[6]) {
    static const int widths[] = {PLACE_WIDTH,   PASS_WIDTH,   AFTER_WIDTH,
                                 AVERAGE_WIDTH, NEARER_WIDTH, COSTS_WIDTH};
    int end = 0;
    text_clear(text);
    for (int i = 0; i < 6; i++) {
        end += widths[i] + (i > 0 ? GAP : 0);
        if (i == 1) {
            text_pad(text, end - widths[i]);
            text_add(text, cells[i]);
        } else if (cells[i][0] != '\0')
            text_add_right(text, cells[i], end);
    }
}

static void table_head_out(const struct pass_answer *answer, const char *first,
                           const char *second) {
    const char *cells[] = {first, second, "After", "On average", "Closer", "Costs"};
    struct text text;
    row_text(&text, cells);
    head_out(answer, &text);
}

static void pass_cost_text(const struct pass_choice *choice, const struct pass_choice *best,
                           char *text, size_t size) {
    struct fraction cost = pass_cost(choice, best);
    double tiles = (double)cost.part / (double)cost.whole;
    if (cost.part == 0)
        text[0] = '\0';
    else if (tiles < 0.001)
        snprintf(text, size, "<0.001");
    else
        snprintf(text, size, "%.3f", tiles);
}

static void choice_out(const struct pass_answer *answer, const struct pass_choice *choice,
                       size_t number) {
    char first[24], after[8] = "", average[32] = "none left", nearer[PERCENT_SIZE], costs[32] = "";
    struct text pass, text;
    snprintf(first, sizeof first, "%zu", number);
    text_clear(&pass);
    pass_add(&pass, &choice->choice.pass);
    percent_text((double)choice->choice.nearer / (double)choice->draws,
                 choice->choice.nearer == choice->draws, nearer);
    if (!pass_is_dead(choice)) {
        snprintf(after, sizeof after, "%u", choice->choice.away);
        snprintf(average, sizeof average, "%.3f",
                 (double)choice->choice.expected / (double)choice->draws);
        pass_cost_text(choice, &answer->choices[0], costs, sizeof costs);
    }
    const char *cells[] = {first, pass.bytes, after, average, nearer, costs};
    row_text(&text, cells);
    if (choice == answer->mine) {
        text_pad(&text, PLACE_WIDTH + PASS_WIDTH + AFTER_WIDTH + AVERAGE_WIDTH + NEARER_WIDTH +
                            COSTS_WIDTH + 6 * GAP);
        text_add(&text, "yours");
    }
    text_print(&text);
}

static bool as_good(const struct pass_choice *choice, const struct pass_choice *better) {
    if (pass_is_dead(choice) || pass_is_dead(better))
        return pass_is_dead(choice) == pass_is_dead(better);
    return pass_cost(choice, better).part == 0;
}

static void choices_out(const struct pass_answer *answer) {
    bool mine_below = answer->mine != NULL && answer->mine_at >= answer->shown;
    size_t more = answer->passes - answer->shown - mine_below, place = 1;
    if (answer->shown > 0 || mine_below)
        table_head_out(answer, "Place", "Pass");
    for (size_t i = 0; i < answer->shown; i++) {
        if (i > 0 && !as_good(&answer->choices[i], &answer->choices[i - 1]))
            place = i + 1;
        choice_out(answer, &answer->choices[i], place);
    }
    if (mine_below)
        choice_out(answer, answer->mine, answer->place);
    if (more > 0)
        output_format("%zu more pass%s; --top %zu shows all.\n", more, more == 1 ? "" : "es",
                      answer->passes);
}

/* The pass that ends closest by the estimates; NULL if no course of any has a target left. */
static const struct pass_choice *closest_ahead(const struct pass_answer *answer) {
    const struct pass_choice *closest = NULL;
    for (size_t i = 0; i < answer->shown; i++) {
        const struct pass_choice *choice = &answer->choices[i];
        if (choice->ahead.courses > 0 &&
            (closest == NULL ||
             pass_estimate(&choice->ahead).away < pass_estimate(&closest->ahead).away))
            closest = choice;
    }
    return closest;
}

/* A row of the estimates; `closest` is the pass whose estimate is the least, NULL if there is
 * nothing to compare. */
static void estimate_out(const struct pass_choice *choice, const struct pass_choice *closest) {
    struct estimate estimate = pass_estimate(&choice->ahead);
    struct text text;
    text_clear(&text);
    text_pad(&text, PLACE_WIDTH + GAP);
    pass_add(&text, &choice->choice.pass);
    text_pad(&text, PLACE_WIDTH + PASS_WIDTH + 2 * GAP);
    bool ends = choice->ahead.courses > 0;
    if (ends)
        text_add_format(&text, "%.3f, standard error %.3f", estimate.away, estimate.error);
    else
        text_add(&text, "none left");
    if (choice == closest)
        text_add(&text, "; closest");
    else if (ends && closest != NULL && pass_may_be_as_close(choice, closest))
        text_add(&text, "; perhaps as close");
    text_print(&text);
}

/* Estimates, apart from the exact figures. */
static void ahead_out(const struct pass_answer *answer) {
    if (answer->question->ahead == 0 || answer->shown == 0)
        return;
    unsigned further = answer->question->further;
    output_format("Estimated after %u more pass%s, each the best, by %ld simulations:\n", further,
                  further == 1 ? "" : "es", answer->question->ahead);
    const struct pass_choice *closest = answer->shown > 1 ? closest_ahead(answer) : NULL;
    for (size_t i = 0; i < answer->shown; i++)
        estimate_out(&answer->choices[i], closest);
}

static void counts_out(const struct pass_answer *answer) {
    if (answer->question->most == answer->question->least)
        return;
    table_head_out(answer, walk_blind(&answer->question->walk) ? "Own" : "Tiles", "Best pass");
    for (unsigned i = 0; i < answer->counts; i++) {
        unsigned count = answer->question->least + i;
        choice_out(answer, &answer->choices[answer->first_of[count]], count);
    }
}

/* ------------------------------------------------------ the player's own --- */

static void mine_kept_out(const struct pass_answer *answer) {
    const nh_list *list = answer->question->list;
    const struct pass_choice *mine = answer->mine;
    struct flow flow = {.indent = 0};
    char words[64];
    snprintf(words, sizeof words, "Closest after it, %u away:", mine->choice.away);
    flow_words(&flow, words);
    flow.indent = NAME_INDENT;
    for (size_t i = 0; i < mine->keep_count; i++) {
        struct text name;
        const char *plain = nh_list_pattern(list, answer->kept[mine->keeps + i])->name;
        text_clear(&name);
        text_add_cut(&name, plain, strlen(plain), LINE_WIDTH - NAME_INDENT - 1);
        text_add(&name, i + 1 < mine->keep_count ? "," : ".");
        flow_add(&flow, &name, 1);
    }
    flow_end(&flow);
}

static void mine_out(const struct pass_answer *answer) {
    const struct pass_choice *mine = answer->mine;
    struct text text;
    char costs[32];
    text_clear(&text);
    text_add(&text, "Your pass ");
    pass_add(&text, &mine->choice.pass);
    if (pass_is_dead(mine)) {
        text_add(&text, " leaves no pattern possible.");
        bold_out(answer, &text);
        return;
    }
    pass_cost_text(mine, &answer->choices[0], costs, sizeof costs);
    if (costs[0] == '\0')
        text_add_format(&text, ": none of %zu is better.", answer->passes);
    else
        text_add_format(&text, " is %zu%s of %zu and costs %s tiles on average.", answer->place,
                        ordinal_ending(answer->place), answer->passes, costs);
    bold_out(answer, &text);
    mine_kept_out(answer);
}

void pass_text(const struct pass_answer *answer) {
    if (answer->question->batch) {
        output_text("\n");
        marked_heading(&answer->hand, answer->line, &answer->question->style);
    }
    if (answer->question->walk.on)
        walk_out(&answer->question->walk, nh_list_charleston(answer->question->list)->tiles);
    if (pass_is_dead(&answer->choices[0])) {
        dead_out(answer);
        return;
    }
    complete_out(answer);
    best_out(answer);
    agree_out(answer);
    kept_out(answer);
    counts_out(answer);
    choices_out(answer);
    ahead_out(answer);
    if (answer->mine != NULL)
        mine_out(answer);
}
