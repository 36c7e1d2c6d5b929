/* Lines of input answered by several threads, some lines at a time, and written
 * in the order of the input. The number of lines in flight is bounded, so
 * any input takes the same memory. */
#ifndef CLI_HANDS_PIPELINE_H
#define CLI_HANDS_PIPELINE_H

#include "hands/hand_meter.h"
#include "io/input.h"

#include <stdbool.h>

#define BATCH_JOBS_MAX 1024u

/* How lines are answered. */
struct batch_work {
    /* What one thread needs for itself; NULL when memory is short. */
    void *(*begin)(const void *context);
    /* Writes the answer by output.h; false for a line that cannot be read. */
    bool (*answer)(void *worker, const struct line *line);
    void (*end)(void *worker);
    const void *context;
    /* Answers begin with an empty line, to stand apart; the first one loses it. */
    bool apart;
    /* Whether the answer to the last line was cancelled by a stop, so that nothing of it was
     * written; NULL: it never is. */
    bool (*cancelled)(const void *worker);
};

enum batch_result {
    BATCH_DONE,    /* or ended early, because nobody reads the output */
    BATCH_STOPPED, /* by a signal */
    BATCH_FAILED,  /* the source could not be read: input_source, input->error */
    BATCH_MEMORY
};

/* Answers all lines of the input in up to `jobs` threads, this one among them.
 * Helper threads start only when the input fills more than one block. The sums of
 * `meter` are those of the lines that were written. */
enum batch_result batch_run(struct input *input, const struct batch_work *work, unsigned jobs,
                            struct hand_meter *meter);

#endif
