/* What a shell offers for a command line that is still being typed. */
#ifndef CLI_COMPLETION_OFFER_H
#define CLI_COMPLETION_OFFER_H

#include "options/task_words.h"

/* For the completion scripts, so the help does not show it:
 *
 *     nearhand --offer PLACE WORD ...
 *
 * WORDs are those after the program's name, without their quotes, --name=value
 * as two; PLACE says which of them is being typed, from 0. Each line is a word
 * to offer, a tab and what it means. A line that begins with the tab asks the
 * shell for the names of files: "FILE" for any, "LIST" for *.json. */
#define OFFER_OPTION "--offer"

int offer_words(const struct task *const *tasks, int argc, char **argv);

#endif
