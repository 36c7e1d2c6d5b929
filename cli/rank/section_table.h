/* The table of sections, for people: a head, and a line for each section. */
#ifndef CLI_RANK_SECTION_TABLE_H
#define CLI_RANK_SECTION_TABLE_H

#include "rank/rank_task.h"

void section_table_out(const struct rank_answer *answer);

#endif
