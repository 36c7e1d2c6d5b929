/* The task lists: which lists are found by name, and which patterns a list has.
 * With --names alone, it serves scripts and the completion of shells. */
#include "json.h"
#include "lists.h"
#include "message.h"
#include "options.h"
#include "output.h"
#include "task.h"
#include "text.h"

#include <stdio.h>
#include <string.h>

struct catalogue_options {
    struct shared_options shared;
    bool names;
};

enum { OPTION_NAMES = OPTION_OWN };

static const struct option option_table[] = {
    {"list", required_argument, NULL, OPTION_LIST},
    {"names", no_argument, NULL, OPTION_NAMES},
    {"help", no_argument, NULL, 'h'},
    {NULL, 0, NULL, 0},
};

static int help(void) {
    output_text("nearhand lists [OPTION ...] [FILE|NAME]\n"
                "\n"
                "Tells which lists are found by name: those that come with the program, and\n"
                "your own in ~/.local/share/nearhand/lists. With a FILE or NAME, tells which\n"
                "patterns that list has, in printed order.\n"
                "\n"
                "  --list FILE|NAME    the list, if it is not the word after lists\n"
                "  --names             the names alone, one a line\n"
                "\n"
                "Example: nearhand lists jokers\n");
    return STATUS_ANSWERED;
}

static bool take(int option, const char *value, void *taken) {
    struct catalogue_options *options = taken;
    if (option != OPTION_NAMES)
        return option_shared(option, value, &options->shared);
    options->names = true;
    return true;
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

static int patterns_out(const struct catalogue_options *options) {
    nh_list *list = list_open(options->shared.list);
    if (list == NULL)
        return STATUS_USAGE;
    if (!options->names)
        pattern_row("Pattern", "On the list", NULL, "Points");
    for (size_t i = 0; i < nh_list_size(list); i++) {
        nh_pattern pattern = nh_list_pattern(list, i);
        if (options->names)
            line_out(pattern.name);
        else
            pattern_out(&pattern);
    }
    nh_list_free(list);
    return STATUS_ANSWERED;
}

int catalogue_run(int argc, char **argv) {
    struct catalogue_options options = {0};
    if (!options_read(argc, argv, option_table, take, &options) ||
        !option_list_word(argc, argv, &options.shared))
        return STATUS_USAGE;
    if (options.shared.help)
        return help();
    return options.shared.list == NULL ? lists_out(options.names) : patterns_out(&options);
}
