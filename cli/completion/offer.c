/* What a shell offers for a command line that is still being typed: tasks,
 * options, and values, which may come out of the list that the line names. */
#define _POSIX_C_SOURCE 200809L
#include "completion/offer.h"
#include "io/message.h"
#include "io/output.h"
#include "nearhand.h"
#include "options/option_row.h"
#include "patterns/list_files.h"
#include "patterns/sections.h"

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

/* The command line as far as it is typed. */
struct typing {
    const struct task *const *tasks;
    const struct task *task; /* NULL as long as none is named */
    char **words;            /* words[0] is the program */
    int count, place;        /* place: of the word being typed */
    int plain;               /* of the first word that is no option or value of one */
};

/* --------------------------------------------------------- offering --- */

/* A name that no line can hold is left out. */
static bool is_typeable(const char *word) {
    for (; *word != '\0'; word++)
        if ((unsigned char)*word < 0x20 || *word == 0x7F)
            return false;
    return true;
}

/* Offers a word if it begins with what is typed, in either case. */
static void offer(const struct typing *typing, const char *word, const char *meaning) {
    const char *typed = typing->words[typing->place];
    if (is_typeable(word) && strncasecmp(word, typed, strlen(typed)) == 0)
        output_format("%s\t%s\n", word, is_typeable(meaning) ? meaning : "");
}

static void offer_tasks(const struct typing *typing) {
    for (size_t i = 0; typing->tasks[i] != NULL; i++)
        offer(typing, typing->tasks[i]->name, typing->tasks[i]->summary);
}

static void offer_options(const struct typing *typing) {
    const struct task *task = typing->task != NULL ? typing->task : &rank_task;
    char name[64];
    for (const struct option_row *row = task->rows; row->name != NULL; row++) {
        snprintf(name, sizeof name, "--%s", row->name);
        offer(typing, name, row->text);
    }
    offer(typing, "--help", "shows how the task works");
    if (typing->place == 1)
        offer(typing, "--version", "shows the version");
}

/* ---------------------------------------------------------- values --- */

static void offer_lists(const struct typing *typing) {
    static struct list_names names;
    list_names_find(&names);
    for (int i = 0; i < names.count; i++)
        offer(typing, names.name[i], "a list");
    output_text("\tLIST\n");
}

/* The shell leaves a ~ as it is typed. */
static nh_list *open_offered_list(const char *word) {
    char path[PATH_MAX];
    const char *home = getenv("HOME");
    if (word == NULL || word[0] != '~' || word[1] != '/' || home == NULL)
        return list_open(word);
    snprintf(path, sizeof path, "%s%s", home, word + 1);
    return list_open(path);
}

/* The list that the line names. */
static nh_list *list_in_use(const struct typing *typing) {
    const char *list = NULL;
    for (int i = 1; i < typing->count; i++) {
        if (strncmp(typing->words[i], "--list=", 7) == 0)
            list = typing->words[i] + 7;
        else if (strcmp(typing->words[i], "--list") == 0 && i + 1 < typing->count)
            list = typing->words[++i];
        else if (i == typing->plain + 1 && i != typing->place && typing->words[i][0] != '-' &&
                 typing->task != NULL && typing->task->word != NULL &&
                 strcmp(typing->task->word, WORD_LIST) == 0)
            list = typing->words[i];
    }
    return open_offered_list(list);
}

static void offer_patterns(const struct typing *typing) {
    nh_list *list = list_in_use(typing);
    for (size_t i = 0; list != NULL && i < nh_list_size(list); i++) {
        const nh_pattern *pattern = nh_list_pattern(list, i);
        offer(typing, pattern->name, pattern->section != NULL ? pattern->section : "");
    }
    nh_list_free(list);
}

static void offer_sections(const struct typing *typing) {
    nh_list *list = list_in_use(typing);
    for (size_t i = 0; list != NULL && i < nh_list_size(list); i++)
        if (section_opens(list, i))
            offer(typing, nh_list_pattern(list, i)->section, "a section");
    nh_list_free(list);
}

static void offer_winds(const struct typing *typing) {
    for (int seat = 0; seat < NH_SEATS; seat++)
        offer(typing, nh_kind_notation(NH_EAST + seat), nh_wind_name(nh_seat_wind(seat)));
}

static void offer_values(const struct typing *typing, const struct option_row *row) {
    if (row->choices != NULL)
        for (int i = 0; row->choices[i] != NULL; i++)
            offer(typing, row->choices[i], "");
    else if (row->kind == OPTION_WIND)
        offer_winds(typing);
    else if (strcmp(row->word, "FILE|NAME") == 0)
        offer_lists(typing);
    else if (strcmp(row->word, "FILE") == 0)
        output_text("\tFILE\n");
    else if (strcmp(row->word, "PATTERN") == 0)
        offer_patterns(typing);
    else if (strcmp(row->word, "SECTION") == 0)
        offer_sections(typing);
}

/* ------------------------------------------------------- what is typed --- */

/* The option whose value is being typed; NULL for none. */
static const struct option_row *option_before(const struct typing *typing) {
    const char *before = typing->words[typing->place - 1];
    if (typing->place == 1 || strchr(before, '=') != NULL)
        return NULL;
    const struct option_row *row = option_meant(typing->tasks, typing->task, before);
    return row != NULL && row->word != NULL ? row : NULL;
}

static void offer_for(const struct typing *typing) {
    const struct option_row *row = option_before(typing);
    bool asks_help = typing->plain < typing->place && typing->task == NULL &&
                     strcmp(typing->words[typing->plain], "help") == 0;
    if (row != NULL)
        offer_values(typing, row);
    else if (typing->words[typing->place][0] == '-')
        offer_options(typing);
    else if (typing->plain >= typing->place || (asks_help && typing->place == typing->plain + 1))
        offer_tasks(typing);
    else if (typing->task != NULL && typing->task->word != NULL &&
             strcmp(typing->task->word, WORD_LIST) == 0)
        offer_lists(typing);
}

int offer_words(const struct task *const *tasks, int argc, char **argv) {
    char *end;
    long place = argc < 2 ? -1 : strtol(argv[0], &end, 10);
    const char *unknown;
    if (place < 0 || place >= argc - 1 || *end != '\0') {
        complain(OFFER_OPTION " PLACE WORD ... is for completion in shells");
        return STATUS_USAGE;
    }
    /* argv[0], the place, stands where the program's name would. */
    struct typing typing = {.tasks = tasks, .words = argv, .count = argc, .place = (int)place + 1};
    typing.plain = first_plain_word(tasks, argc, argv, &unknown);
    if (typing.plain < typing.place)
        typing.task = task_named(tasks, argv[typing.plain]);
    offer_for(&typing);
    return STATUS_ANSWERED;
}
