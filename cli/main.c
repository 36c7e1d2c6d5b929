/* The program nearhand: finds the task that the first word names and hands the
 * other words to it. */
#include "io/message.h"
#include "io/output.h"
#include "nearhand.h"
#include "task.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

static const struct task tasks[] = {
    {"rank", "the patterns a hand is nearest to: what to keep, what to let go", rank_run},
    {"pass", "which tiles to pass, and what another pass would cost", pass_run},
    {"audit", "the figures of a list: targets, ways and odds of every pattern", audit_run},
    {"deal", "hands dealt at random, which can be had again", deal_run},
    {"lists", "the lists that are found by name, or the patterns of one", catalogue_run},
    {"sheet", "practice sheets to print, with an answer key", sheet_run},
    {"drill", "passing and choosing a pattern against the clock, with a review", drill_run},
    {"progress", "how the rounds of drill went, over time", progress_run},
};
#define TASKS (sizeof tasks / sizeof *tasks)

static int help(void) {
    output_text("nearhand: how far a mahjong hand is from each pattern of a printed list\n"
                "\n"
                "  nearhand HAND                rank the patterns for a hand, nearest first\n"
                "  nearhand TASK [OPTION ...]   do one of the tasks\n"
                "\n"
                "Tasks:\n");
    for (size_t i = 0; i < TASKS; i++)
        output_format("  %-8s  %s\n", tasks[i].name, tasks[i].summary);
    output_text("\n"
                "A hand is written as players write it: ranks, then the letter of their suit\n"
                "(2468B four bams, 8C eight craks, 1D one dot); winds E S W N; dragons R G Wh,\n"
                "the white one also as 0; F flower; J joker. Spaces and case do not matter.\n"
                "\n"
                "Examples:\n"
                "  nearhand 2468B 246C 33D EEW R Wh\n"
                "  nearhand rank --list traditional 123B 456C 78899D EE\n"
                "\n"
                "nearhand TASK --help tells the options of a task; --version tells the version.\n");
    return STATUS_ANSWERED;
}

static int version(void) {
    output_format("nearhand %s\n", NH_VERSION);
    if (strcmp(nh_version(), NH_VERSION) != 0)
        output_format("library %s\n", nh_version());
    return STATUS_ANSWERED;
}

/* A word with a rank, a space, a comma or a tile character in it is meant as a
 * hand even where it cannot be read: then the reader tells what is wrong. */
static bool meant_as_hand(const char *word) {
    nh_tiles tiles;
    if (nh_tiles_parse(NULL, word, strlen(word), &tiles, NULL) == NH_OK)
        return true;
    for (; *word != '\0'; word++)
        if ((unsigned char)*word >= 0x80 || strchr("0123456789 ,", *word) != NULL)
            return true;
    return false;
}

static int unknown(const char *word) {
    char names[256] = "";
    for (size_t i = 0; i < TASKS; i++)
        snprintf(names + strlen(names), sizeof names - strlen(names), "%s%s", i == 0 ? "" : ", ",
                 tasks[i].name);
    complain("'%s' is neither a task (%s) nor a hand", word, names);
    return STATUS_USAGE;
}

static int run(const struct task *task, int argc, char **argv) {
    char name[64];
    snprintf(name, sizeof name, "nearhand %s", task->name);
    argv[0] = name;
    complain_as(name);
    return task->run(argc, argv);
}

static int dispatch(int argc, char **argv) {
    if (argc < 2)
        return isatty(STDIN_FILENO) ? help() : run(&tasks[0], argc, argv);
    const char *word = argv[1];
    if (strcmp(word, "--help") == 0 || strcmp(word, "-h") == 0 || strcmp(word, "help") == 0)
        return help();
    if (strcmp(word, "--version") == 0)
        return version();
    for (size_t i = 0; i < TASKS; i++)
        if (strcmp(word, tasks[i].name) == 0)
            return run(&tasks[i], argc - 1, argv + 1);
    if (word[0] == '-' || meant_as_hand(word))
        return run(&tasks[0], argc, argv);
    return unknown(word);
}

int main(int argc, char **argv) {
    output_start();
    return output_finish(dispatch(argc, argv));
}
