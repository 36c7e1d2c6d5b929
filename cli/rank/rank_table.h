/* The table of a ranking, for people: a head, and two lines or more for each
 * pattern. */
#ifndef CLI_RANK_RANK_TABLE_H
#define CLI_RANK_RANK_TABLE_H

#include "io/style.h"
#include "patterns/marked.h"
#include "rank/rank_cells.h"
#include "rank/rank_task.h"

/* Columns, fitted to the rows that are shown. 0 where no row has anything to say. */
struct rank_table {
    const struct rank_answer *answer;
    size_t shown; /* rows */
    int name, place, points, worth, chance;
    int spare; /* column of the tiles that are not needed, where they fit beside the target */
    char chance_head[CHANCE_HEAD_SIZE];
    struct marks_seen marks;
    struct style style;
};

/* Makes columns for all rows of an answer, or, if they should fit a screen, for as
 * many as do when `around` lines stand around the table. A line for the marks is
 * not among these, nor one for patterns left out. */
void rank_table_fit(struct rank_table *table, const struct rank_answer *answer, int around);

void rank_table_out(const struct rank_table *table);

/* The line that explains the marks, if there are any. */
void rank_table_marks_out(const struct rank_table *table);

#endif
