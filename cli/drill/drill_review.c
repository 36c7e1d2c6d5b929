/* The review of a round just played, and the table of the session. */
#include "drill/drill_task.h"
#include "io/output.h"
#include "io/text.h"

#include <stdio.h>

static struct review_pass pass_of(const struct drill_pass *pass) {
    return (struct review_pass){.step = pass->step,
                                .charleston = pass->turn,
                                .mine = pass->mine,
                                .best = pass->figures.best,
                                .judged = pass->figures.judged,
                                .expected = pass->figures.expected,
                                .best_expected = pass->figures.best_expected,
                                .cost = pass->figures.cost};
}

static struct review_vote vote_of(const struct drill *drill, const struct drill_vote *vote) {
    return (struct review_vote){.charleston = vote->turn,
                                .agreed = vote->agree[drill->seat],
                                .expected = vote->figures.expected,
                                .stopping = vote->figures.stopping};
}

static struct review_aim aim_of(const struct drill *drill, const struct aim_figures *aim) {
    return (struct review_aim){.pattern = nh_list_pattern(drill->list, aim->pattern)->name,
                               .place = aim->place,
                               .away = aim->away,
                               .replace = aim->replace};
}

void review_round(const struct drill *drill, const struct drill_round *round) {
    struct review review = {.seconds = round->seconds,
                            .limit = (double)drill->limit,
                            .passes = round->passes,
                            .votes = round->votes,
                            .aims = round->aims,
                            .live = round->live};
    for (size_t i = 0; i < round->passes; i++)
        review.pass[i] = pass_of(&round->pass[i]);
    for (size_t i = 0; i < round->votes; i++)
        review.vote[i] = vote_of(drill, &round->vote[i]);
    for (size_t i = 0; i < round->aims; i++)
        review.aim[i] = aim_of(drill, &round->aim[i]);
    if (round->nearest.place > 0)
        review.nearest = aim_of(drill, &round->nearest);
    output_format("\nReview of round %u\n", round->number);
    review_print(&review);
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
        snprintf(mean, sizeof mean, "%.3f", cost / (double)judged);
    if (best != NULL)
        snprintf(aims, sizeof aims, "%5zu %5d %8d", best->place, best->away, best->replace);
    output_format("%5u %6s %6s  %6s  %6zu  %11s  %s\n", round->number, taken, limit,
                  round->seconds <= (double)drill->limit ? "yes" : "no", round->passes, mean, aims);
}
