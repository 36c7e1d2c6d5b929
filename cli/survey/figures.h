/* Figures that follow from the counts of a survey. */
#ifndef CLI_SURVEY_FIGURES_H
#define CLI_SURVEY_FIGURES_H

#include "survey/counts.h"

/* A share, and the interval of 95 % in which the true one lies (Wilson). */
struct share {
    double of, low, high;
};

struct share share_of(uint64_t part, uint64_t whole);

/* What a pattern pays, and what it would have to pay to bring as much as the others. */
struct pay {
    bool has_paid;    /* false for a pattern without points */
    double paid;      /* points for a win: the average of its wins, or what the list says */
    double per_100;   /* points that it brought in 100 games */
    bool has_fair;    /* false for a pattern that was never won, or a list without points */
    double fair;      /* points for one win that would make all patterns bring the same */
    double low, high; /* likewise, at the ends of the interval of its wins */
    int off;          /* -1: it pays too little, 1: too much, more than a third beyond
                         what chance explains; else 0 */
};

struct pay pay_of(const struct counts *counts, size_t pattern);

/* Points that the wins of a pattern bring together when all patterns bring the same: as
 * many as those that were won brought on average. 0 without points. */
double fair_points_together(const struct counts *counts);

/* The patterns by their wins, most first, then as printed; to be freed. NULL with a message
 * when memory is short. */
size_t *patterns_by_wins(const struct counts *counts);

#endif
