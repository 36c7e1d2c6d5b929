/* The review of a round, and the table of the session. */
#include "drill/drill_task.h"
#include "io/flow.h"
#include "io/output.h"
#include "io/text.h"

#include <stdio.h>
#include <string.h>

/* Tiles to replace after the passes: common practice. */
#define GOOD_MOST 3
#define LONG_MOST 5

static void time_line(const struct drill *drill, const struct drill_round *round) {
    char taken[24];
    char limit[24];
    clock_text(round->seconds, taken);
    clock_text((double)drill->limit, limit);
    output_format("Time %s of %s: %s.\n", taken, limit,
                  round->seconds <= (double)drill->limit ? "within the limit" : "too long");
}

static void pass_line(const struct drill_pass *pass) {
    char tiles[NH_TILES_TEXT_SIZE];
    struct text line;
    text_clear(&line);
    text_add(&line, "  ");
    if (pass->turn > 0)
        text_add_format(&line, "%u ", pass->turn);
    text_add(&line, pass->step);
    text_pad(&line, 13);
    nh_tiles_format(&pass->mine, NH_STYLE_LETTERS, tiles, sizeof tiles);
    text_add(&line, tiles);
    text_pad(&line, 28);
    nh_tiles_format(&pass->figures.best, NH_STYLE_LETTERS, tiles, sizeof tiles);
    text_add(&line, tiles);
    text_pad(&line, 43);
    if (pass->figures.judged)
        text_add_format(&line, "%8.3f  %8.3f  %8.3f", pass->figures.expected,
                        pass->figures.best_expected, pass->figures.cost);
    else
        text_add(&line, "no pattern can be reached any more");
    text_print(&line);
}

static void vote_line(const struct drill *drill, const struct drill_vote *vote) {
    bool yes = vote->agree[drill->seat];
    bool better = vote->figures.expected < vote->figures.stopping;
    output_format("Charleston %u: %s was %s: to expect %.4f away with a best pass, %.0f without.\n",
                  vote->turn, yes ? "yes" : "no", yes == better ? "right" : "wrong",
                  vote->figures.expected, vote->figures.stopping);
}

static void add_pattern(struct text *line, const struct drill *drill, uint32_t pattern) {
    nh_pattern named = *nh_list_pattern(drill->list, pattern);
    text_add_cut(line, named.name, strlen(named.name), 40);
}

static void aim_line(const struct drill *drill, const struct drill_round *round,
                     const struct aim_figures *aim) {
    struct text line;
    text_clear(&line);
    text_add(&line, "You go for ");
    add_pattern(&line, drill, aim->pattern);
    if (aim->place == 0)
        text_add(&line, ": it can no longer be reached.");
    else
        text_add_format(&line, ": place %zu of %zu, %d away.", aim->place, round->live, aim->away);
    text_print(&line);
}

static void nearest_line(const struct drill *drill, const struct drill_round *round) {
    struct text line;
    const struct aim_figures *best = drill_best_aim(round);
    if (round->nearest.place == 0 || (best != NULL && best->place == 1))
        return;
    text_clear(&line);
    text_add(&line, "First is ");
    add_pattern(&line, drill, round->nearest.pattern);
    text_add_format(&line, ", %d away.", round->nearest.away);
    text_print(&line);
}

static void replace_line(const struct drill_round *round) {
    const struct aim_figures *best = drill_best_aim(round);
    if (best == NULL)
        return;
    output_format("Tiles to replace: %d, %s (three good, four or five long: common practice).\n",
                  best->replace,
                  best->replace <= GOOD_MOST   ? "good"
                  : best->replace <= LONG_MOST ? "long"
                                               : "very long");
}

void review_round(const struct drill *drill, const struct drill_round *round) {
    output_format("\nReview of round %u\n", round->number);
    time_line(drill, round);
    if (round->passes > 0)
        output_text("Passes, and how many tiles away to expect after each:\n"
                    "  Pass       Yours          Best              Yours      Best      Cost\n");
    for (size_t i = 0; i < round->passes; i++)
        pass_line(&round->pass[i]);
    for (size_t i = 0; i < round->votes; i++)
        vote_line(drill, &round->vote[i]);
    for (size_t i = 0; i < round->aims; i++)
        aim_line(drill, round, &round->aim[i]);
    nearest_line(drill, round);
    replace_line(round);
}

/* -------------------------------------------------------- the session --- */

void review_head(void) {
    output_text("\nSession\nRound   Time  Limit  Within  Passes  Cost a pass  Place  Away  "
                "Replace\n");
}

void review_row(const struct drill *drill, const struct drill_round *round) {
    char taken[24];
    char limit[24];
    char mean[24] = "-";
    char aims[64] = "    -     -        -";
    size_t judged;
    double cost = drill_cost(round, &judged);
    const struct aim_figures *best = drill_best_aim(round);
    clock_text(round->seconds, taken);
    clock_text((double)drill->limit, limit);
    if (judged > 0)
        snprintf(mean, sizeof mean, "%.4f", cost / (double)judged);
    if (best != NULL)
        snprintf(aims, sizeof aims, "%5zu %5d %8d", best->place, best->away, best->replace);
    output_format("%5u %6s %6s  %6s  %6zu  %11s  %s\n", round->number, taken, limit,
                  round->seconds <= (double)drill->limit ? "yes" : "no", round->passes, mean, aims);
}
