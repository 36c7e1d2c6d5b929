/* The task lists: which lists are found by name, and which patterns a list has.
 * With --names alone, it serves scripts and the completion of shells. */
#include "io/flow.h"
#include "io/json.h"
#include "io/message.h"
#include "io/options.h"
#include "io/output.h"
#include "io/text.h"
#include "patterns/described.h"
#include "patterns/list_files.h"
#include "patterns/patterns_by_name.h"
#include "task.h"

#include <stdio.h>
#include <string.h>

struct catalogue_options {
    struct shared_options shared;
    const char *pattern;
    bool names;
};

enum { OPTION_NAMES = OPTION_OWN, OPTION_PATTERN };

static const struct option option_table[] = {
    {"list", required_argument, NULL, OPTION_LIST},
    {"names", no_argument, NULL, OPTION_NAMES},
    {"pattern", required_argument, NULL, OPTION_PATTERN},
    {"help", no_argument, NULL, 'h'},
    {NULL, 0, NULL, 0},
};

static int help(void) {
    output_text("nearhand lists [OPTION ...] [FILE|NAME]\n"
                "\n"
                "Tells which lists are found by name: those that come with the program, and\n"
                "your own in ~/.local/share/nearhand/lists. With a FILE or NAME, tells which\n"
                "patterns that list has, in printed order; with a PATTERN, all that the list\n"
                "says of it, and a hand of it.\n"
                "\n"
                "  --list FILE|NAME    the list, if it is not the word after lists\n"
                "  --pattern PATTERN   the patterns with that in their name; of club, if no list\n"
                "                      is told\n"
                "  --names             the names alone, one a line\n"
                "\n"
                "Example: nearhand lists club --pattern boathouse\n");
    return STATUS_ANSWERED;
}

static bool take(int option, const char *value, void *taken) {
    struct catalogue_options *options = taken;
    switch (option) {
    case OPTION_NAMES:
        options->names = true;
        return true;
    case OPTION_PATTERN:
        options->pattern = value;
        return true;
    default:
        return option_shared(option, value, &options->shared);
    }
}

static void line_out(const char *string) {
    struct text text;
    text_clear(&text);
    text_add(&text, string);
    text_print(&text);
}

/* A field of a table, in columns `from` to `to`. */
static void cell(struct text *text, const char *string, int from, int to) {
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
    cell(&text, name, 0, SIZE_END - 10);
    text_add_right(&text, size, SIZE_END);
    cell(&text, whole, TITLE_FROM, LINE_WIDTH);
    text_print(&text);
}

/* False for a list with mistakes, which have been told then. */
static bool list_told(const char *name) {
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
        else if (!list_told(names.name[i]))
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
    cell(&text, name, 0, PLACE_FROM - 2);
    cell(&text, place, PLACE_FROM, PLACE_TO);
    if (points[0] != '\0')
        text_add_right(&text, points, POINTS_END);
    text_print(&text);
}

static void pattern_out(const nh_pattern *pattern) {
    char points[JSON_DOUBLE_SIZE] = "";
    if (pattern->has_points)
        json_double_text(pattern->points, points);
    pattern_row(pattern->name, pattern->section, pattern->ref, points);
}

/* Which list it is, and what it says of itself. */
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
    output_text("\n");
    pattern_row("Pattern", "On the list", NULL, "Points");
}

static int patterns_out(const nh_list *list, const struct catalogue_options *options) {
    if (!options->names)
        head_out(list);
    for (size_t i = 0; i < nh_list_size(list); i++) {
        nh_pattern pattern = *nh_list_pattern(list, i);
        if (options->names)
            line_out(pattern.name);
        else
            pattern_out(&pattern);
    }
    return STATUS_ANSWERED;
}

static int describe(const nh_list *list, const struct catalogue_options *options) {
    static uint8_t chosen[NH_PATTERNS_MAX];
    nh_workspace *workspace;
    bool first = true;
    if (!patterns_choose(list, "--pattern", options->pattern, chosen))
        return STATUS_USAGE;
    if (nh_workspace_new(list, NULL, &workspace) != NH_OK) {
        complain("%s", nh_status_text(NH_ERROR_MEMORY));
        return STATUS_USAGE;
    }
    for (size_t i = 0; i < nh_list_size(list); i++) {
        if (chosen[i] == 0)
            continue;
        output_text(first || options->names ? "" : "\n");
        first = false;
        if (options->names)
            line_out(nh_list_pattern(list, i)->name);
        else
            described_out(list, workspace, i, 0);
    }
    nh_workspace_free(workspace);
    return STATUS_ANSWERED;
}

static int list_out(const struct catalogue_options *options) {
    nh_list *list = list_open(options->shared.list);
    if (list == NULL)
        return STATUS_USAGE;
    int status = options->pattern == NULL ? patterns_out(list, options) : describe(list, options);
    nh_list_free(list);
    return status;
}

int catalogue_run(int argc, char **argv) {
    struct catalogue_options options = {0};
    if (!options_read(argc, argv, option_table, take, &options) ||
        !option_list_word(argc, argv, &options.shared))
        return STATUS_USAGE;
    if (options.shared.help)
        return help();
    bool no_list = options.shared.list == NULL && options.pattern == NULL;
    return no_list ? lists_out(options.names) : list_out(&options);
}
