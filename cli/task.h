/* The tasks of the program, and the statuses it exits with. */
#ifndef CLI_TASK_H
#define CLI_TASK_H

enum {
    STATUS_ANSWERED = 0, /* every hand was answered */
    STATUS_UNREAD = 1,   /* some hand could not be read */
    STATUS_USAGE = 2,    /* wrong usage, or a list or file that cannot be read */
    STATUS_OUTPUT = 3,   /* the output could not be written in full */
    STATUS_STOPPED = 130 /* stopped by a signal; what was written are whole lines */
};

/* A task gets its own words: argv[0] is "nearhand TASK", which heads its
 * messages. It returns one of the statuses above; failures of the output are
 * seen to by main. */
struct task {
    const char *name;
    const char *summary;
    int (*run)(int argc, char **argv);
};

int rank_run(int argc, char **argv);
int audit_run(int argc, char **argv);
int pass_run(int argc, char **argv);
int deal_run(int argc, char **argv);
int catalogue_run(int argc, char **argv);
int sheet_run(int argc, char **argv);
int drill_run(int argc, char **argv);
int progress_run(int argc, char **argv);

#endif
