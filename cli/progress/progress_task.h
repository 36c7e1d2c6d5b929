/* The task progress: what a history says of a player's practice. */
#ifndef CLI_PROGRESS_PROGRESS_TASK_H
#define CLI_PROGRESS_PROGRESS_TASK_H

#include "progress/practice.h"

#include <stdbool.h>
#include <stddef.h>

enum practice_result { PRACTICE_READ, PRACTICE_MISSING, PRACTICE_FAILED };

/* progress_read.c: reads a history. Each line that is no record is reported, as
 * JSON or in words, and left out. PRACTICE_FAILED comes with a message. */
enum practice_result practice_read(struct practice *practice, const char *path, bool as_json);

/* progress_text.c, progress_json.c: to standard output; the table shows the
 * last `shown` sessions. */
void practice_text(const struct practice *practice, size_t shown, bool ascii);
void practice_json(const struct practice *practice);

/* progress_bars.c: the same for the trend of each list and level. */
void practice_bars(const struct practice *practice, bool ascii);

/* progress_svg.c: a drawing for a file; false with a message. */
bool practice_svg(const struct practice *practice, const char *path);

#endif
