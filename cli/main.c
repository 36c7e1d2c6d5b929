/* The program nearhand: finds the task that its words name and runs it. */
#include "completion/offer.h"
#include "io/message.h"
#include "io/output.h"
#include "nearhand.h"
#include "options/spelling.h"
#include "options/task_words.h"
#include "task.h"

#include <stdbool.h>
#include <string.h>
#include <unistd.h>

static const struct task *const tasks[] = {
    &rank_task, &pass_task,  &discard_task, &check_task, &claim_task,    &read_task,   &audit_task,
    &deal_task, &lists_task, &sheet_task,   &drill_task, &progress_task, &survey_task, NULL,
};

static int print_help(void) {
    output_text("nearhand: how close a mahjong hand is to the patterns of a printed list\n"
                "\n"
                "  nearhand HAND                rank the patterns for a hand, closest first\n"
                "  nearhand TASK [OPTION ...]   do one of these tasks\n"
                "  nearhand help TASK           show the options of a task\n"
                "\n"
                "Tasks:\n");
    for (size_t i = 0; tasks[i] != NULL; i++)
        output_format("  %-8s  %s\n", tasks[i]->name, tasks[i]->summary);
    output_text("\n"
                "Write a hand as players do: 2468B four bams, 8C eight craks, 1D one dot; winds\n"
                "E S W N; dragons R G Wh (or 0 for white); F flower; J joker. Spaces and case do\n"
                "not matter. Example: nearhand 2468B 246C 33D EEW R Wh\n");
    return STATUS_ANSWERED;
}

static int print_version(void) {
    output_format("nearhand %s\n", NH_VERSION);
    if (strcmp(nh_version(), NH_VERSION) != 0)
        output_format("library %s\n", nh_version());
    return STATUS_ANSWERED;
}

/* A word with a rank, a space, a comma or a tile character in it is meant as a
 * hand even if it cannot be read: then the reader says what is wrong. */
static bool meant_as_hand(const char *word) {
    nh_tiles tiles;
    if (word[0] == '-' || nh_tiles_parse(NULL, word, strlen(word), &tiles, NULL) == NH_OK)
        return true;
    for (; *word != '\0'; word++)
        if ((unsigned char)*word >= 0x80 || strchr("0123456789 ,", *word) != NULL)
            return true;
    return false;
}

static const char *closest_task(const char *word) {
    struct spelling spelling = {.typed = word};
    for (size_t i = 0; tasks[i] != NULL; i++)
        spelling_try(&spelling, tasks[i]->name);
    return spelling.closest;
}

/* A word that should have named a task. */
static int explain_task(const char *word) {
    const char *closest = closest_task(word);
    if (closest == NULL)
        return misused("there is no task '%s'", word);
    return misused("there is no task '%s'; did you mean %s?", word, closest);
}

/* A word that could have been a task or a hand. */
static int explain_word(const char *word) {
    if (closest_task(word) != NULL)
        return explain_task(word);
    return misused("'%s' is neither a task nor a hand such as 2468B 246C 33D EEW R Wh", word);
}

/* The word at `at` names the task; it goes, and the other words are the task's. */
static int run_named(const struct task *task, int argc, char **argv, int at) {
    for (int i = at; i + 1 < argc; i++)
        argv[i] = argv[i + 1];
    return task_run(task, tasks, argc - 1, argv);
}

/* "help", "help TASK" or "help TASK all": the task gets the rest, as if the help
 * was asked of it. */
static int run_help(int argc, char **argv) {
    if (argc == 2 || strcmp(argv[2], "help") == 0)
        return print_help();
    const struct task *task = task_named(tasks, argv[2]);
    if (task == NULL)
        return explain_task(argv[2]);
    argv[2] = argv[1];
    return task_run(task, tasks, argc - 1, argv + 1);
}

static int dispatch(int argc, char **argv) {
    if (argc < 2)
        return isatty(STDIN_FILENO) ? print_help() : task_run(&rank_task, tasks, argc, argv);
    if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0)
        return print_help();
    if (strcmp(argv[1], "help") == 0)
        return run_help(argc, argv);
    if (strcmp(argv[1], "--version") == 0)
        return print_version();
    if (strcmp(argv[1], OFFER_OPTION) == 0)
        return offer_words(tasks, argc - 2, argv + 2);
    const char *unknown;
    int at = first_plain_word(tasks, argc, argv, &unknown);
    if (unknown != NULL)
        return explain_unknown_option(unknown, tasks);
    if (at < argc && strcmp(argv[at], "help") == 0)
        return run_help(argc - at + 1, argv + at - 1);
    const struct task *task = at < argc ? task_named(tasks, argv[at]) : NULL;
    if (task != NULL)
        return run_named(task, argc, argv, at);
    if (at < argc && !meant_as_hand(argv[at]))
        return explain_word(argv[at]);
    return task_run(&rank_task, tasks, argc, argv);
}

int main(int argc, char **argv) {
    output_start();
    return output_finish(dispatch(argc, argv));
}
