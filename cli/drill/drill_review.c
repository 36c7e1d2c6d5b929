/* The review of a round just played, and the table of the session. */
#include "drill/drill.h"
#include "io/output.h"
#include "io/text.h"
#include "patterns/marked.h"

#include <stdio.h>

static struct review_why why_of(const struct drill *drill, const struct why_figures *why) {
    const char *pattern =
        why->has_pattern ? nh_list_pattern(drill->list, why->pattern)->name : NULL;
    return (struct review_why){.known = why->known,
                               .pattern = pattern,
                               .tiles = why->tiles,
                               .away = why->away,
                               .best_away = why->best_away,
                               .nearer = why->nearer,
                               .best_nearer = why->best_nearer};
}

static struct review_pass reviewed_pass(const struct drill *drill, const struct drill_pass *pass) {
    return (struct review_pass){.step = pass->step,
                                .charleston = pass->turn,
                                .mine = pass->mine,
                                .best = pass->figures.best,
                                .judged = pass->figures.judged,
                                .expected = pass->figures.expected,
                                .best_expected = pass->figures.best_expected,
                                .cost = pass->figures.cost,
                                .unseen = pass->unseen,
                                .why = why_of(drill, &pass->figures.why)};
}

static struct review_vote vote_of(const struct drill *drill, const struct drill_vote *vote) {
    struct review_vote review = {.charleston = vote->turn,
                                 .agreed = vote->agree[drill->seat],
                                 .expected = vote->figures.expected,
                                 .stopping = vote->figures.stopping,
                                 .courtesies = vote->figures.courtesies};
    for (size_t i = 0; i < review.courtesies; i++)
        review.courtesy[i] = vote->figures.courtesy[i];
    return review;
}

/* `shown` holds the target as text for as long as the review needs it. */
static struct review_aim reviewed_aim(const struct drill *drill, const struct aim_figures *aim,
                                      struct text *shown) {
    const struct style plain = {false, "", "", "", ""};
    text_clear(shown);
    if (aim->place > 0)
        marked_target(shown, drill->list, &aim->row, &aim->layout, &plain, false);
    return (struct review_aim){.pattern = nh_list_pattern(drill->list, aim->pattern)->name,
                               .place = aim->place,
                               .away = aim->away,
                               .replace = aim->replace,
                               .shown = aim->place > 0 ? shown->bytes : NULL,
                               .need = aim->row.need,
                               .spare = aim->row.spare};
}

/* Before the review, which is shown again from the history. */
static void winds_line(const struct drill_round *round) {
    size_t by_winds = round->reach.by_winds;
    if (by_winds > 0)
        output_format("%zu pattern%s ruled out by these winds.\n", by_winds,
                      by_winds == 1 ? " is" : "s are");
}

void review_round(const struct drill *drill, const struct drill_round *round) {
    struct text shown[REVIEW_AIMS_MAX + 1];
    struct review review = {.seconds = round->seconds,
                            .limit = (double)drill->limit,
                            .own_set = drill->own != NULL,
                            .apart = round->apart,
                            .passes = round->passes,
                            .votes = round->votes,
                            .aims = round->aims,
                            .live = round->reach.live};
    review.play = round->game.play;
    for (size_t i = 0; i < round->passes; i++)
        review.pass[i] = reviewed_pass(drill, &round->pass[i]);
    for (size_t i = 0; i < round->votes; i++)
        review.vote[i] = vote_of(drill, &round->vote[i]);
    for (size_t i = 0; i < round->aims; i++)
        review.aim[i] = reviewed_aim(drill, &round->aim[i], &shown[i]);
    if (round->nearest.place > 0)
        review.nearest = reviewed_aim(drill, &round->nearest, &shown[REVIEW_AIMS_MAX]);
    output_text("\n");
    winds_line(round);
    output_format("Review of round %u\n", round->number);
    review_print(&review);
}

/* -------------------------------------------------------- the session --- */

void review_head(void) {
    output_text("\nSession\nRound   Time  Limit  Within  Passes  Average cost  Place  Away  "
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
        snprintf(mean, sizeof mean, "%.3f", cost / (double)judged);
    if (best != NULL)
        snprintf(aims, sizeof aims, "%5zu %5d %8d", best->place, best->away, best->replace);
    output_format("%5u %6s %6s  %6s  %6zu  %12s  %s\n", round->number, taken, limit,
                  round->seconds <= (double)drill->limit ? "yes" : "no", round->passes, mean, aims);
}
