/* The words of a command, read by the table of the task that they are for.
 * `tasks` are all tasks; the last one is NULL. */
#ifndef CLI_OPTIONS_TASK_WORDS_H
#define CLI_OPTIONS_TASK_WORDS_H

#include "task.h"

const struct task *task_named(const struct task *const *tasks,
                              const char *name); /* NULL for none */

/* Reads the words after argv[0], then runs the task or prints its help.
 * Returns the status to exit with. */
int task_run(const struct task *task, const struct task *const *tasks, int argc, char **argv);

/* The option that a word such as "--name" or "--name=value" means in `task`, or,
 * for NULL, in any; NULL for none. The beginning of a name serves too. */
const struct option_row *option_meant(const struct task *const *tasks, const struct task *task,
                                      const char *word);

/* The place of the first word from argv[1] on that is neither an option of any
 * task nor the value of one; `argc` where there is none. `unknown` is the first
 * option before it that no task has, or NULL. */
int first_plain_word(const struct task *const *tasks, int argc, char *const *argv,
                     const char **unknown);

/* Says that no task has an option, and what may have been meant. Returns
 * STATUS_USAGE. */
int explain_unknown_option(const char *word, const struct task *const *tasks);

#endif
