/* Cells that the tables of a ranking have in common. */
#ifndef CLI_RANK_RANK_CELLS_H
#define CLI_RANK_RANK_CELLS_H

#include "io/text.h"
#include "numbers/double_text.h"
#include "rank/rank_task.h"

/* Of two widths. */
static inline int longer(int a, int b) {
    return a > b ? a : b;
}

/* Each is empty where there is nothing to say. */
void points_text(const nh_pattern *pattern, char text[DOUBLE_TEXT_SIZE]);
void chance_text(const struct rank_answer *answer, const nh_ranked *row, char text[PERCENT_SIZE]);

/* Points times chance, of a pattern with points. Rounding never makes it look like
 * none. */
#define WORTH_SIZE 32
void worth_text(const struct rank_answer *answer, const nh_ranked *row, char text[WORTH_SIZE]);

/* "In 20 draws". */
#define CHANCE_HEAD_SIZE 32
void chance_head(const struct rank_question *question, char text[CHANCE_HEAD_SIZE]);

#endif
