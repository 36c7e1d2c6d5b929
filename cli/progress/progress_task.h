/* The task progress: what a history says of a player's practice. */
#ifndef CLI_PROGRESS_PROGRESS_TASK_H
#define CLI_PROGRESS_PROGRESS_TASK_H

#include "history/history_lines.h"
#include "progress/practice.h"

#include <stdbool.h>
#include <stddef.h>

/* progress_read.c: reads a history, and sums it up. Each line that is no record is
 * reported, as JSON or in words, and left out. False with a message. */
bool practice_read(struct practice *practice, struct history_lines *lines, bool as_json);

/* progress_text.c, progress_json.c: to standard output; the table shows the
 * last `shown` sessions. */
void practice_text(struct practice *practice, size_t shown, bool ascii);
void practice_json(struct practice *practice);

/* progress_bars.c: the same for the trend of each list and level. */
void practice_bars(struct practice *practice, bool ascii);

/* progress_rounds.c: all rounds of a history in a list, and the review of one of
 * them, numbered from 1, or of the last. Each returns the task's status. */
#define LAST_ROUND 0
int rounds_list(struct history_lines *lines);
int round_review(struct history_lines *lines, uint64_t number);

/* progress_task.c: says that there is no round. Returns the status for that. */
int no_rounds_yet(void);

/* progress_svg.c: a drawing on the output, and in a file. False with a message: the file
 * is as it was. */
bool practice_drawing(struct practice *practice);
bool practice_svg(struct practice *practice, const char *path);

#endif
