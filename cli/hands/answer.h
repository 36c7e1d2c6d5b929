/* Answers the hands of a task: the words of the command, or lines of input. Each
 * function returns the status to exit with. */
#ifndef CLI_HANDS_ANSWER_H
#define CLI_HANDS_ANSWER_H

#include "hands/pipeline.h"
#include "options/option_tiles.h"

/* The words are one hand. */
int answer_words(const struct batch_work *work, int count, char *const *words);

/* Tells a person at the keyboard what to type, if hands are read from there. Returns
 * whether they are. */
bool hands_prompt(const struct input *input);

/* Each line of the files is one, or of standard input if there are none. `jobs`
 * is the number of threads, 0 for one a processor. A summary follows at the end
 * if `summary` asks for it or a person is watching. */
int answer_input(const struct batch_work *work, const struct texts *files, unsigned jobs,
                 bool summary);

#endif
