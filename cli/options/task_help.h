/* The help of a task, printed from its table. */
#ifndef CLI_OPTIONS_TASK_HELP_H
#define CLI_OPTIONS_TASK_HELP_H

#include "task.h"

#include <stdbool.h>

/* On one screen; or, with `all`, the seldom options too. */
void task_help(const struct task *task, bool all);

#endif
