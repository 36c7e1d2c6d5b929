/* Cells that the tables of a ranking have in common. */
#include "rank/rank_cells.h"
#include "numbers/double_text.h"

#include <math.h>
#include <stdio.h>

void points_text(const nh_pattern *pattern, char text[DOUBLE_TEXT_SIZE]) {
    text[0] = '\0';
    if (pattern->has_points)
        double_text(pattern->points, text);
}

void chance_text(const struct rank_answer *answer, const nh_ranked *row, char text[PERCENT_SIZE]) {
    percent_text(row->chance, nh_natural_compare(&row->completing, &answer->ranking.draws) == 0,
                 text);
}

void worth_text(const struct rank_answer *answer, const nh_ranked *row, char text[WORTH_SIZE]) {
    double worth = rank_worth(answer, row), size = fabs(worth);
    text[0] = '\0';
    if (!nh_list_pattern(answer->question->list, row->pattern)->has_points)
        return;
    if (size == 0)
        snprintf(text, WORTH_SIZE, "0");
    else if (size < 0.00095)
        snprintf(text, WORTH_SIZE, worth < 0 ? ">-0.001" : "<0.001");
    else if (size < 1e9)
        snprintf(text, WORTH_SIZE, "%.*f", size < 0.0095 ? 3 : 2, worth);
    else
        snprintf(text, WORTH_SIZE, "%.3g", worth);
}

void chance_head(const struct rank_question *question, char text[CHANCE_HEAD_SIZE]) {
    snprintf(text, CHANCE_HEAD_SIZE, "In %d draw%s", question->draws,
             plural((size_t)question->draws));
}
