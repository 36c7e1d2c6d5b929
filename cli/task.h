/* The tasks of the program, and the statuses it exits with. */
#ifndef CLI_TASK_H
#define CLI_TASK_H

#include <stdbool.h>
#include <stddef.h>

enum {
    STATUS_ANSWERED = 0, /* every hand was answered */
    STATUS_UNREAD = 1,   /* some hand could not be read */
    STATUS_USAGE = 2,    /* wrong usage, or a list or file that cannot be read */
    STATUS_OUTPUT = 3,   /* the output could not be written in full */
    STATUS_STOPPED = 130 /* stopped by a signal; what was written are whole lines */
};

struct option_row; /* options/option_row.h */

/* A task: what its help and manual page say, its options, and what does it. */
struct task {
    const char *name;
    const char *summary; /* what it shows, in a line */
    const char *word;    /* what may stand beside the options: one of WORD_..., or NULL */
    /* Paragraphs, a line each. A line with a tab in it is a term and its
     * meaning. */
    const char *about;
    const struct option_row *rows; /* the last one has no name */
    const char *example;
    const void *defaults; /* the struct that the rows fill, as it starts */
    size_t size;          /* of it */
    /* Gets that struct and the words beside the options. Returns one of the
     * statuses above; main reports output that failed. */
    int (*run)(void *options, int count, char *const *words);
    /* NULL, or gets words of which only one may stand for --list, and says what was meant
     * by them. False where it cannot tell. */
    bool (*explain_words)(const void *options, int count, char *const *words);
};

#define WORD_HAND "HAND"      /* the words together are one hand */
#define WORD_LIST "FILE|NAME" /* one word, which stands for --list */
#define WORD_FILES "FILE ..." /* files; the task takes the words */

extern const struct task rank_task, pass_task, discard_task, check_task, claim_task, read_task,
    audit_task, deal_task, lists_task, sheet_task, drill_task, progress_task, survey_task;

#endif
