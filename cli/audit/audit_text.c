/* The audit for people: what the list is, a table of its patterns, and what is
 * odd about them, in lines of at most LINE_WIDTH columns. */
#include "audit/audit_task.h"
#include "io/flow.h"
#include "io/output.h"
#include "io/style.h"
#include "io/text.h"
#include "patterns/sections.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define GAP 2
#define INDENT 2
#define NAME_LEAST 20 /* below that the figures go on lines of their own */

/* ----------------------------------------------------------- figures --- */

#define FIGURE_SIZE 96

/* Digits in threes: 1,234,567. A fraction stays as it is. */
static void with_commas(const char *digits, char *figure) {
    size_t whole = strcspn(digits, ".");
    for (size_t i = 0; i < whole; i++) {
        if (i > 0 && (whole - i) % 3 == 0)
            *figure++ = ',';
        *figure++ = digits[i];
    }
    snprintf(figure, 8, "%s", digits + whole);
}

static void natural_figure(const nh_natural *number, char *figure) {
    char digits[NH_NATURAL_TEXT_SIZE];
    nh_natural_format(number, digits, sizeof digits);
    with_commas(digits, figure);
}

#define EXACT_MOST 1e15 /* a double holds every whole number below */
#define ROUNDED_DIGITS 6

/* "x" of "one hand in x", or a dash for a pattern that is never dealt. */
static void odds_figure(double dealt, char *figure) {
    char digits[FIGURE_SIZE / 2];
    if (dealt <= 0) {
        snprintf(figure, FIGURE_SIZE, "-");
        return;
    }
    double odds = 1 / dealt;
    snprintf(digits, sizeof digits, "%.*f", odds < 9.95 ? 1 : 0, odds);
    if (odds >= EXACT_MOST) {
        char rounded[32];
        snprintf(rounded, sizeof rounded, "%.*e", ROUNDED_DIGITS - 1, odds);
        snprintf(digits, sizeof digits, "%.0f", strtod(rounded, NULL));
        memset(digits + ROUNDED_DIGITS, '0', strlen(digits) - ROUNDED_DIGITS);
    }
    with_commas(digits, figure);
}

struct figures {
    char targets[FIGURE_SIZE], ways[FIGURE_SIZE], odds[FIGURE_SIZE];
};

static void figures_of(const struct figure *figure, struct figures *figures) {
    if (!figure->known) {
        *figures = (struct figures){"?", "?", "?"};
        return;
    }
    natural_figure(&figure->count.targets, figures->targets);
    natural_figure(&figure->count.ways, figures->ways);
    odds_figure(figure->count.dealt, figures->odds);
}

/* ---------------------------------------------------------- the table --- */

static const struct figures heads = {"Targets", "Ways", "Dealt 1 in"};

struct table {
    int indent; /* before names, where there are sections */
    int name, targets, ways, odds;
    bool stacked; /* the figures are too long to stand beside the names */
    struct style style;
};

static void widen_column(int *width, const char *text) {
    int wanted = text_width(text);
    if (wanted > *width)
        *width = wanted;
}

static void widen_figures(struct table *table, const struct figures *figures) {
    widen_column(&table->targets, figures->targets);
    widen_column(&table->ways, figures->ways);
    widen_column(&table->odds, figures->odds);
}

static void lay_out(struct table *table, const struct audit *audit) {
    memset(table, 0, sizeof *table);
    table->style = style_of_output();
    widen_figures(table, &heads);
    widen_column(&table->name, "Pattern");
    for (size_t i = 0; i < audit->size; i++) {
        nh_pattern pattern = *nh_list_pattern(audit->list, i);
        struct figures figures;
        figures_of(&audit->figures[i], &figures);
        widen_figures(table, &figures);
        widen_column(&table->name, pattern.name);
        if (pattern.section != NULL)
            table->indent = INDENT;
    }
    int room = LINE_WIDTH - table->indent - 3 * GAP - table->targets - table->ways - table->odds;
    table->stacked = room < NAME_LEAST && room < table->name;
    if (table->name > room && !table->stacked)
        table->name = room;
}

static void row_text(const struct table *table, const char *name, const struct figures *figures,
                     struct text *text) {
    int end = table->indent + table->name;
    text_clear(text);
    text_pad(text, table->indent);
    text_add_cut(text, name, strlen(name), table->name);
    text_add_right(text, figures->targets, end += GAP + table->targets);
    text_add_right(text, figures->ways, end += GAP + table->ways);
    text_add_right(text, figures->odds, end + GAP + table->odds);
}

static void figure_flow(struct flow *flow, const char *label, const char *figure) {
    struct text piece;
    text_clear(&piece);
    text_add_format(&piece, "%s %s", label, figure);
    flow_add(flow, &piece, GAP);
}

static void stacked_out(const struct table *table, const char *name,
                        const struct figures *figures) {
    struct text text;
    text_clear(&text);
    text_pad(&text, table->indent);
    text_add_cut(&text, name, strlen(name), LINE_WIDTH - table->indent);
    text_print(&text);
    struct flow flow = {.indent = table->indent + INDENT};
    figure_flow(&flow, "targets", figures->targets);
    figure_flow(&flow, "ways", figures->ways);
    figure_flow(&flow, "dealt 1 in", figures->odds);
    flow_end(&flow);
}

static void head_out(const struct table *table) {
    if (table->stacked)
        return;
    struct text text;
    row_text(table, "Pattern", &heads, &text);
    output_format("%s%s%s\n", table->style.dim, text.bytes, table->style.plain);
}

static void section_out(const struct table *table, const char *section, const char *before) {
    if (section == NULL && before == NULL)
        return;
    if (section != NULL && before != NULL && strcmp(section, before) == 0)
        return;
    if (section == NULL)
        section = "(no section)";
    struct text text;
    text_clear(&text);
    text_add_style(&text, table->style.bold);
    text_add_cut(&text, section, strlen(section), LINE_WIDTH);
    text_add_style(&text, table->style.plain);
    text_print(&text);
}

static void table_out(const struct audit *audit) {
    struct table table;
    lay_out(&table, audit);
    head_out(&table);
    const char *before = NULL;
    for (size_t i = 0; i < audit->size; i++) {
        nh_pattern pattern = *nh_list_pattern(audit->list, i);
        struct figures figures;
        struct text text;
        figures_of(&audit->figures[i], &figures);
        section_out(&table, pattern.section, before);
        before = pattern.section;
        if (table.stacked) {
            stacked_out(&table, pattern.name, &figures);
            continue;
        }
        row_text(&table, pattern.name, &figures, &text);
        text_print(&text);
    }
}

/* ------------------------------------------------------ before, after --- */

static size_t count_sections(const struct audit *audit) {
    size_t sections = 0;
    for (size_t i = 0; i < audit->size; i++)
        sections += section_opens(audit->list, i);
    return sections;
}

static void title_out(const struct audit *audit) {
    const char *edition = nh_list_edition(audit->list);
    struct text text, title;
    text_clear(&title);
    text_add(&title, nh_list_title(audit->list));
    if (edition != NULL) {
        text_add(&title, ", ");
        text_add(&title, edition);
    }
    text_clear(&text);
    text_add_cut(&text, title.bytes, title.length, LINE_WIDTH);
    text_print(&text);
}

static void totals_out(const struct audit *audit) {
    const nh_tiles *set = nh_list_set(audit->list);
    size_t sections = count_sections(audit);
    size_t warnings = audit->warnings.count;
    output_format("%zu pattern%s", audit->size, plural(audit->size));
    if (sections > 0)
        output_format(" in %zu section%s", sections, plural(sections));
    output_format("; hands of %d from %d tiles", nh_list_hand_size(audit->list),
                  nh_tiles_total(set));
    if (warnings > 0)
        output_format("; %zu warning%s", warnings, plural(warnings));
    output_text(".\n\n");
}

static void warnings_out(const struct audit *audit) {
    if (audit->warnings.count > 0)
        output_text("\n");
    for (size_t i = 0; i < audit->warnings.count; i++) {
        struct flow flow = {.indent = 0};
        flow_words(&flow, "Warning:");
        flow.indent = INDENT;
        flow_words(&flow, audit->warnings.text[i]);
        flow_end(&flow);
    }
}

static bool is_any(const nh_natural *number) {
    static const nh_natural none = {{0}};
    return nh_natural_compare(number, &none) != 0;
}

/* Not a mistake, but worth knowing: only jokers complete these targets. */
static void jokers_out(const struct audit *audit) {
    size_t left = 0;
    for (size_t i = 0; i < audit->size; i++)
        left += is_any(&audit->figures[i].count.joker_only);
    if (left == 0)
        return;
    struct flow flow = {.indent = 0};
    output_text("\n");
    flow_words(&flow, "Targets that only jokers complete:");
    flow.indent = INDENT;
    for (size_t i = 0; i < audit->size; i++) {
        const nh_figures *count = &audit->figures[i].count;
        if (!is_any(&count->joker_only))
            continue;
        char figure[FIGURE_SIZE] = "all";
        if (nh_natural_compare(&count->joker_only, &count->targets) != 0)
            natural_figure(&count->joker_only, figure);
        struct text text;
        text_clear(&text);
        text_add_format(&text, "\"%s\" %s%s", nh_list_pattern(audit->list, i)->name, figure,
                        --left > 0 ? "," : "");
        flow_words(&flow, text.bytes);
    }
    flow_end(&flow);
}

void audit_text(const struct audit *audit) {
    title_out(audit);
    totals_out(audit);
    table_out(audit);
    warnings_out(audit);
    jokers_out(audit);
}
