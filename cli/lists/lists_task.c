/* The task lists: which lists are found by name, and which patterns a list has. */
#include "io/flow.h"
#include "io/message.h"
#include "io/output.h"
#include "io/text.h"
#include "numbers/double_text.h"
#include "options/option_row.h"
#include "options/option_tiles.h"
#include "patterns/described.h"
#include "patterns/list_files.h"
#include "patterns/list_sets.h"
#include "patterns/patterns_by_name.h"
#include "task.h"
#include "words/rules_words.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct lists_options {
    const char *list, *pattern;
    struct texts exposed;
    bool names;
};

static const struct option_row rows[] = {
    LIST_ROW(struct lists_options),
    {"pattern", "PATTERN", "patterns with this in their name; of club if no list is named",
     SETS_TEXT(struct lists_options, pattern)},
    {"exposed", "SETS", "only patterns that go with these sets on the table: 444D EEEJ",
     ADDS_TEXT(struct lists_options, exposed)},
    {"names", NULL, "only the names, one a line", SETS_FLAG(struct lists_options, names)},
    {0},
};

static void line_out(const char *string) {
    struct text text;
    text_clear(&text);
    text_add(&text, string);
    text_print(&text);
}

/* A field of a table, in columns `from` to `to`. */
static void add_cell(struct text *text, const char *string, int from, int to) {
    if (string[0] == '\0')
        return;
    text_pad(text, from);
    text_add_cut(text, string, strlen(string), to - from);
}

/* ---------------------------------------------------- lists by name --- */

enum { SIZE_END = 30, TITLE_FROM = SIZE_END + 2 };

static void list_row(const char *name, const char *size, const char *title, const char *edition) {
    struct text text;
    char whole[2 * NH_TEXT_MAX + 8];
    snprintf(whole, sizeof whole, "%s%s%s", title, edition == NULL ? "" : ", ",
             edition == NULL ? "" : edition);
    text_clear(&text);
    add_cell(&text, name, 0, SIZE_END - 10);
    text_add_right(&text, size, SIZE_END);
    add_cell(&text, whole, TITLE_FROM, LINE_WIDTH);
    text_print(&text);
}

/* False for a list with mistakes, which are then on standard error. */
static bool list_line_out(const char *name) {
    char size[32];
    nh_list *list = list_open(name);
    if (list == NULL)
        return false;
    snprintf(size, sizeof size, "%zu", nh_list_size(list));
    list_row(name, size, nh_list_title(list), nh_list_edition(list));
    nh_list_free(list);
    return true;
}

static int lists_out(bool names_alone) {
    static struct list_names names;
    int status = STATUS_ANSWERED;
    list_names_find(&names);
    if (!names_alone)
        list_row("Name", "Patterns", "Title", NULL);
    for (int i = 0; i < names.count; i++) {
        if (names_alone)
            line_out(names.name[i]);
        else if (!list_line_out(names.name[i]))
            status = STATUS_USAGE;
    }
    return status;
}

/* ------------------------------------------------- patterns of a list --- */

enum { PLACE_FROM = 42, PLACE_TO = 70, POINTS_END = 80 };

static void pattern_row(const char *name, const char *section, const char *ref,
                        const char *points) {
    struct text text;
    char place[2 * NH_TEXT_MAX + 8];
    snprintf(place, sizeof place, "%s%s%s", section == NULL ? "" : section,
             section == NULL || ref == NULL ? "" : " ", ref == NULL ? "" : ref);
    text_clear(&text);
    add_cell(&text, name, 0, PLACE_FROM - 2);
    add_cell(&text, place, PLACE_FROM, PLACE_TO);
    if (points[0] != '\0')
        text_add_right(&text, points, POINTS_END);
    text_print(&text);
}

static void pattern_out(const nh_pattern *pattern) {
    char points[DOUBLE_TEXT_SIZE] = "";
    if (pattern->has_points)
        double_text(pattern->points, points);
    pattern_row(pattern->name, pattern->section, pattern->ref, points);
}

/* The title of the list, its note and its rules. */
static void head_out(const nh_list *list) {
    struct flow flow = {.indent = 0};
    struct text title;
    text_clear(&title);
    text_add(&title, nh_list_title(list));
    if (nh_list_edition(list) != NULL) {
        text_add(&title, ", ");
        text_add(&title, nh_list_edition(list));
    }
    flow_words(&flow, title.bytes);
    flow_end(&flow);
    if (nh_list_note(list) != NULL)
        flow_words(&flow, nh_list_note(list));
    flow_end(&flow);
    rules_words_out(list);
    output_text("\n");
    pattern_row("Pattern", "On the list", NULL, "Points");
}

/* Patterns that can be made, of a list with sets on the table. */
struct possible {
    uint8_t pattern[NH_PATTERNS_MAX];
    size_t count;
};

static bool find_possible(const nh_list *list, struct possible *possible) {
    return sets_possible(list, possible->pattern, &possible->count) == NH_OK || short_of_memory();
}

static int patterns_out(const nh_list *list, const struct possible *possible,
                        const struct lists_options *options) {
    if (!options->names)
        head_out(list);
    for (size_t i = 0; i < nh_list_size(list); i++) {
        nh_pattern pattern = *nh_list_pattern(list, i);
        if (possible->pattern[i] == 0)
            continue;
        if (options->names)
            line_out(pattern.name);
        else
            pattern_out(&pattern);
    }
    if (options->exposed.count > 0 && !options->names)
        output_format("\n%zu of %zu patterns go with these sets.\n", possible->count,
                      nh_list_size(list));
    return STATUS_ANSWERED;
}

static int describe_patterns(const nh_list *list, const struct lists_options *options) {
    static uint8_t chosen[NH_PATTERNS_MAX];
    bool first = true;
    if (!patterns_choose(list, "--pattern", options->pattern, chosen))
        return STATUS_USAGE;
    for (size_t i = 0; i < nh_list_size(list); i++) {
        if (chosen[i] == 0)
            continue;
        output_text(first || options->names ? "" : "\n");
        first = false;
        if (options->names)
            line_out(nh_list_pattern(list, i)->name);
        else
            described_out(list, i, 0);
    }
    return STATUS_ANSWERED;
}

static int list_out(const struct lists_options *options) {
    static struct possible possible;
    nh_list *whole = list_open(options->list), *list = NULL;
    int status = STATUS_USAGE;
    if (whole != NULL &&
        list_take_sets(whole, options->exposed.text, options->exposed.count, &list) &&
        find_possible(list, &possible))
        status = options->pattern == NULL ? patterns_out(list, &possible, options)
                                          : describe_patterns(list, options);
    if (list != whole)
        nh_list_free(list);
    nh_list_free(whole);
    return status;
}

static int run(void *given, int count, char *const *words) {
    const struct lists_options *options = given;
    (void)count;
    (void)words;
    if (options->pattern != NULL && options->exposed.count > 0)
        return misused("give --pattern or --exposed, not both");
    bool no_list = options->list == NULL && options->pattern == NULL && options->exposed.count == 0;
    return no_list ? lists_out(options->names) : list_out(options);
}

/* ------------------------------------------------------ words too many --- */

/* Whether a word is a list, as far as that can be told without opening it. */
static bool names_list(const char *word) {
    static struct list_names names;
    list_names_find(&names);
    for (int i = 0; i < names.count; i++)
        if (strcmp(names.name[i], word) == 0)
            return true;
    return strchr(word, '/') != NULL || strstr(word, ".json") != NULL;
}

/* "club Twin Lights": the pattern was meant. */
static bool hint_at_pattern(const void *given, int count, char *const *words) {
    static uint8_t chosen[NH_PATTERNS_MAX];
    const struct lists_options *options = given;
    bool named = options->list == NULL && names_list(words[0]);
    nh_list *list = list_open(named ? words[0] : options->list);
    char *pattern = join_words(count - named, words + named);
    bool found = list != NULL && pattern != NULL && patterns_find(list, pattern, chosen) > 0;
    if (found)
        misused("to see a pattern, write --pattern \"%s\"", pattern);
    free(pattern);
    nh_list_free(list);
    return found || list == NULL;
}

const struct task lists_task = {
    .name = "lists",
    .summary = "the lists you can name, or the patterns of one",
    .word = WORD_LIST,
    .about =
        "Shows the lists that --list finds by name: those that come with the program, and your own "
        "in ~/.local/share/nearhand/lists. With a FILE or NAME it shows the rules of that "
        "list and its patterns in printed order; with a PATTERN, what it is in words, with a hand "
        "for each of its "
        "variants and alternatives.",
    .rows = rows,
    .example = "nearhand lists club --pattern boathouse",
    .defaults = &(const struct lists_options){0},
    .size = sizeof(struct lists_options),
    .run = run,
    .explain_words = hint_at_pattern,
};
