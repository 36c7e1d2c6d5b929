/* The help of a task, printed from its table: the usage, what the task does, its
 * options and an example. cli/man/make turns it into a manual page. */
#include "options/task_help.h"
#include "io/flow.h"
#include "io/output.h"
#include "options/option_row.h"

#include <string.h>

#define TERM_INDENT 2
#define MEANING_COLUMN 22 /* of what an option or a term means */

/* A term in its column and the meaning beside it. */
static void print_term(const char *term, size_t length, const char *meaning) {
    struct flow flow = {.indent = TERM_INDENT};
    struct text text;
    text_clear(&text);
    text_add_bytes(&text, term, length);
    text_pad(&text, MEANING_COLUMN - TERM_INDENT - 1);
    flow_add(&flow, &text, 0);
    flow.indent = MEANING_COLUMN;
    flow_words(&flow, meaning);
    flow_end(&flow);
}

static void print_paragraph(const char *words) {
    struct flow flow = {.indent = 0};
    flow_words(&flow, words);
    flow_end(&flow);
}

/* A line of `about`; an empty line goes before it, except between two terms. */
static void print_about_line(const char *line, size_t length, bool *in_terms) {
    struct text text;
    const char *tab = memchr(line, '\t', length);
    text_clear(&text);
    output_text(tab != NULL && *in_terms ? "" : "\n");
    if (tab == NULL) {
        text_add_bytes(&text, line, length);
        print_paragraph(text.bytes);
    } else {
        text_add_bytes(&text, tab + 1, length - (size_t)(tab - line) - 1);
        print_term(line, (size_t)(tab - line), text.bytes);
    }
    *in_terms = tab != NULL;
}

static void print_about(const char *about) {
    bool in_terms = false;
    while (*about != '\0') {
        size_t length = strcspn(about, "\n");
        print_about_line(about, length, &in_terms);
        about += length + (about[length] == '\n');
    }
}

static void print_option(const struct option_row *row) {
    struct text text;
    text_clear(&text);
    text_add_format(&text, "--%s", row->name);
    if (row->word != NULL)
        text_add_format(&text, " %s", row->word);
    print_term(text.bytes, text.length, row->text);
}

/* The names of the options that are left out, and how to see them. */
static void print_rest(const struct task *task) {
    struct flow flow = {.indent = 0};
    struct text text;
    bool any = false;
    for (const struct option_row *row = task->rows; row->name != NULL; row++) {
        if (!row->seldom)
            continue;
        flow_words(&flow, any ? "" : "More:");
        any = true;
        text_clear(&text);
        text_add_format(&text, "--%s", row->name);
        flow_add(&flow, &text, 1);
    }
    if (!any)
        return;
    text_clear(&text);
    text_add_format(&text, "(nearhand help %s all)", task->name);
    flow_add(&flow, &text, 2);
    flow_end(&flow);
}

void task_help(const struct task *task, bool all) {
    output_format("nearhand %s [OPTION ...]", task->name);
    if (task->word != NULL)
        output_format(" [%s]", task->word);
    output_text("\n");
    print_about(task->about);
    output_text("\n");
    for (const struct option_row *row = task->rows; row->name != NULL; row++)
        if (all || !row->seldom)
            print_option(row);
    if (!all)
        print_rest(task);
    output_format("\nExample: %s\n", task->example);
}
