/* The words of a command, read by the table of the task that they are for. */
#include "options/task_words.h"
#include "io/message.h"
#include "io/text.h"
#include "options/option_row.h"
#include "options/option_value.h"
#include "options/spelling.h"
#include "options/task_help.h"

#include <getopt.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define NAME_SIZE 64 /* of an option as typed, and of "nearhand TASK" */

const struct task *task_named(const struct task *const *tasks, const char *name) {
    for (size_t i = 0; tasks[i] != NULL; i++)
        if (strcmp(tasks[i]->name, name) == 0)
            return tasks[i];
    return NULL;
}

/* ----------------------------------------------------- wrong options --- */

/* The name in "--name=value", or in "-name". */
static void name_of_word(const char *word, char name[NAME_SIZE]) {
    word += strspn(word, "-");
    size_t length = strcspn(word, "=");
    snprintf(name, NAME_SIZE, "%.*s", (int)(length < NAME_SIZE ? length : NAME_SIZE - 1), word);
}

static const struct option_row *row_named(const struct task *task, const char *name) {
    for (const struct option_row *row = task->rows; row->name != NULL; row++)
        if (strcmp(row->name, name) == 0)
            return row;
    return NULL;
}

/* Rows whose names begin so, into a text: "--seat, --section or --seen". */
static size_t list_beginning(const struct task *task, const char *name, struct text *text) {
    size_t count = 0, left = 0;
    for (const struct option_row *row = task->rows; row->name != NULL; row++)
        left += strncmp(row->name, name, strlen(name)) == 0;
    text_clear(text);
    for (const struct option_row *row = task->rows; row->name != NULL; row++) {
        if (strncmp(row->name, name, strlen(name)) != 0)
            continue;
        left--;
        text_add_format(text, "%s--%s", count == 0 ? "" : left == 0 ? " or " : ", ", row->name);
        count++;
    }
    return count;
}

static void try_rows(struct spelling *spelling, const struct task *task) {
    for (const struct option_row *row = task->rows; row->name != NULL; row++)
        spelling_try(spelling, row->name);
    spelling_try(spelling, "help");
}

/* Says what may have been meant by an option that `task` does not have, or, for
 * NULL, no task. */
static int explain_option(const char *word, const struct task *task,
                          const struct task *const *tasks) {
    char name[NAME_SIZE];
    struct spelling spelling = {.typed = name};
    name_of_word(word, name);
    int length = (int)strcspn(word, "=");
    if (task != NULL && row_named(task, name) != NULL)
        return misused("write --%s, with two dashes", name);
    for (size_t i = 0; tasks[i] != NULL; i++)
        if (task != NULL && row_named(tasks[i], name) != NULL)
            return misused("there is no option --%s here; nearhand %s has it", name,
                           tasks[i]->name);
    for (size_t i = 0; tasks[i] != NULL; i++)
        if (task == NULL || task == tasks[i])
            try_rows(&spelling, tasks[i]);
    if (spelling.closest != NULL)
        return misused("there is no option %.*s; did you mean --%s?", length, word,
                       spelling.closest);
    return misused("there is no option %.*s", length, word);
}

/* ------------------------------------------------------------ reading --- */

/* What getopt_long returns for row i is FIRST_ROW + i. */
enum { FIRST_ROW = 256, ROWS_MOST = 64 };

struct reading {
    const struct task *task;
    const struct task *const *tasks;
    void *options;
    bool help;
};

static void fill_table(const struct task *task, struct option table[ROWS_MOST + 2]) {
    int count = 0;
    for (; count < ROWS_MOST && task->rows[count].name != NULL; count++) {
        const struct option_row *row = &task->rows[count];
        table[count] =
            (struct option){row->name, row->word == NULL ? no_argument : required_argument, NULL,
                            FIRST_ROW + count};
    }
    table[count++] = (struct option){"help", no_argument, NULL, 'h'};
    table[count] = (struct option){NULL, 0, NULL, 0};
}

/* Whether a word is letters behind one dash, `letter` among them before the last. */
static bool goes_on_behind(const char *word, int letter) {
    const char *found = word[0] == '-' && word[1] != '-' ? strchr(word + 1, letter) : NULL;
    return found != NULL && found[1] != '\0';
}

/* The word that getopt_long found fault with. It goes on within a word of
 * several letters. */
static const char *faulty_word(int argc, char **argv) {
    const char *next = optind < argc ? argv[optind] : "";
    bool letter = optopt > 0 && optopt < FIRST_ROW;
    return letter && goes_on_behind(next, optopt) ? next : argv[optind - 1];
}

static bool refuse_option(const struct reading *reading, int argc, char **argv) {
    const char *word = faulty_word(argc, argv);
    char name[NAME_SIZE];
    struct text names;
    name_of_word(word, name);
    if (optopt >= FIRST_ROW || (optopt == 'h' && word[1] == '-'))
        misused("--%s takes no value, so leave out what follows the =", name);
    else if (word[1] == '-' && list_beginning(reading->task, name, &names) > 1)
        misused("--%s could be %s", name, names.bytes);
    else
        explain_option(word, reading->task, reading->tasks);
    return false;
}

static bool read_options(struct reading *reading, int argc, char **argv) {
    struct option table[ROWS_MOST + 2];
    fill_table(reading->task, table);
    opterr = 0;
    int found;
    while ((found = getopt_long(argc, argv, ":h", table, NULL)) != -1) {
        if (found == 'h')
            reading->help = true;
        else if (found == '?')
            return refuse_option(reading, argc, argv);
        else if (found == ':') {
            const struct option_row *row = &reading->task->rows[optopt - FIRST_ROW];
            misused("--%s needs a value: --%s %s", row->name, row->name, row->word);
            return false;
        } else if (!option_store(&reading->task->rows[found - FIRST_ROW], optarg, reading->options))
            return false;
    }
    return true;
}

/* ------------------------------------------------ the words beside them --- */

static bool asks_for_help(int count, char *const *words) {
    return count > 0 && strcmp(words[0], "help") == 0 &&
           (count == 1 || (count == 2 && strcmp(words[1], "all") == 0));
}

/* The word that stands for --list. */
static bool take_list_word(const struct reading *reading, int count, char *const *words) {
    const struct option_row *row = row_named(reading->task, "list");
    const char *const *list = (const void *)((const char *)reading->options + row->place);
    if (count > 1 || (count == 1 && *list != NULL)) {
        const struct task *task = reading->task;
        if (task->explain_words == NULL || !task->explain_words(reading->options, count, words))
            misused("one list at a time: leave out '%s'", words[count - 1]);
        return false;
    }
    return count == 0 || option_store(row, words[0], reading->options);
}

static bool check_words(const struct reading *reading, int count, char *const *words) {
    const char *word = reading->task->word;
    if (word == NULL && count > 0)
        misused("%s takes options only, not '%s'", reading->task->name, words[0]);
    else if (word != NULL && strcmp(word, WORD_LIST) == 0)
        return take_list_word(reading, count, words);
    else
        return true;
    return false;
}

static int run_words(struct reading *reading, int argc, char **argv) {
    if (!read_options(reading, argc, argv))
        return STATUS_USAGE;
    int count = argc - optind;
    char *const *words = argv + optind;
    if (reading->help || asks_for_help(count, words)) {
        task_help(reading->task, asks_for_help(count, words) && count == 2);
        return STATUS_ANSWERED;
    }
    if (!check_words(reading, count, words))
        return STATUS_USAGE;
    return reading->task->run(reading->options, count, words);
}

int task_run(const struct task *task, const struct task *const *tasks, int argc, char **argv) {
    char name[NAME_SIZE];
    struct reading reading = {.task = task, .tasks = tasks, .options = malloc(task->size)};
    snprintf(name, sizeof name, "nearhand %s", task->name);
    complain_as(name);
    if (reading.options == NULL) {
        short_of_memory();
        return STATUS_USAGE;
    }
    memcpy(reading.options, task->defaults, task->size);
    int status = run_words(&reading, argc, argv);
    options_free(task->rows, reading.options);
    free(reading.options);
    complain_as("nearhand");
    return status;
}

/* --------------------------------------------- options before the task --- */

const struct option_row *option_meant(const struct task *const *tasks, const struct task *task,
                                      const char *word) {
    char name[NAME_SIZE];
    const struct option_row *begun = NULL;
    if (strncmp(word, "--", 2) != 0)
        return NULL;
    name_of_word(word, name);
    for (size_t i = 0; tasks[i] != NULL; i++) {
        if (task != NULL && task != tasks[i])
            continue;
        const struct option_row *row = row_named(tasks[i], name);
        if (row != NULL)
            return row;
        for (row = tasks[i]->rows; row->name != NULL; row++)
            if (begun == NULL && strncmp(row->name, name, strlen(name)) == 0)
                begun = row;
    }
    return begun;
}

static bool is_help(const char *word) {
    return strcmp(word, "-h") == 0 || strcmp(word, "--help") == 0;
}

/* Whether some task has the option that a word means without a value. */
static bool is_flag_somewhere(const struct task *const *tasks, const char *word) {
    for (size_t i = 0; tasks[i] != NULL; i++) {
        const struct option_row *row = option_meant(tasks, tasks[i], word);
        if (row != NULL && row->word == NULL)
            return true;
    }
    return false;
}

/* Whether the word after an option is its value. The name of a task is not, if the
 * option has no value in some task. */
static bool takes_next(const struct task *const *tasks, const struct option_row *row,
                       const char *word, const char *next) {
    return row != NULL && row->word != NULL && strchr(word, '=') == NULL &&
           (next == NULL || task_named(tasks, next) == NULL || !is_flag_somewhere(tasks, word));
}

int first_plain_word(const struct task *const *tasks, int argc, char *const *argv,
                     const char **unknown) {
    int at = 1;
    *unknown = NULL;
    while (at < argc && argv[at][0] == '-' && argv[at][1] != '\0' && strcmp(argv[at], "--") != 0) {
        const char *word = argv[at++];
        const struct option_row *row = option_meant(tasks, NULL, word);
        if (row == NULL && *unknown == NULL && !is_help(word))
            *unknown = word;
        at += takes_next(tasks, row, word, at < argc ? argv[at] : NULL);
    }
    return at < argc ? at : argc;
}

int explain_unknown_option(const char *word, const struct task *const *tasks) {
    return explain_option(word, NULL, tasks);
}
