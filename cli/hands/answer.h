/* Having hands answered: the words of the command, or lines of input. Returns
 * the status to exit with. */
#ifndef CLI_HANDS_ANSWER_H
#define CLI_HANDS_ANSWER_H

#include "hands/pipeline.h"
#include "io/options.h"

/* The words are one hand. */
int answer_words(const struct batch_work *work, int count, char *const *words);

/* Each line of the files is one, or of standard input where there are none.
 * What was done is told at the end where `summary` wants it, or a person looks
 * on. */
int answer_input(const struct batch_work *work, const struct texts *files, unsigned jobs,
                 bool summary);

/* One thread for each processor. */
long jobs_if_not_told(void);

#endif
