/* The audit for people: what the list is, a table of its patterns, and what is
 * odd about them, in lines of at most LINE_WIDTH columns. */
#include "audit/audit_notes.h"
#include "audit/figure_text.h"
#include "audit/list_audit.h"
#include "io/flow.h"
#include "io/output.h"
#include "io/style.h"
#include "io/text.h"
#include "numbers/double_text.h"
#include "patterns/sections.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define GAP 2
#define INDENT 2
#define NAME_LEAST 16 /* below that the figures go on lines of their own */

/* ----------------------------------------------------------- figures --- */

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
    char points[FIGURE_SIZE], targets[FIGURE_SIZE], ways[FIGURE_SIZE], odds[FIGURE_SIZE];
};

/* The points, with a mark where they are far from the line. */
static void points_figure(const struct audit *audit, size_t pattern, char *figure) {
    const nh_pattern *about = nh_list_pattern(audit->list, pattern);
    int far = audit->figures[pattern].points.far;
    bool marked = far != 0 && !nh_list_accepts(audit->list, pattern, "points");
    if (!about->has_points)
        return;
    char points[DOUBLE_TEXT_SIZE];
    double_text(about->points, points);
    snprintf(figure, FIGURE_SIZE, "%s%s", points, !marked ? " " : far > 0 ? "+" : "-");
}

static void figures_of(const struct audit *audit, size_t pattern, struct figures *figures) {
    const struct figure *figure = &audit->figures[pattern];
    bool dealt_known = audit->jokers ? figure->dealt_known : figure->known;
    *figures = (struct figures){"", "?", "?", "?"};
    points_figure(audit, pattern, figures->points);
    if (figure->known) {
        natural_figure(&figure->count.targets, figures->targets);
        natural_figure(&figure->count.ways, figures->ways);
    }
    if (dealt_known)
        odds_figure(chance_dealt(audit, pattern), figures->odds);
}

/* ---------------------------------------------------------- the table --- */

static const struct figures heads = {"Points ", "Targets", "Ways", "Dealt 1 in"};

struct table {
    int indent;                            /* before names, where there are sections */
    int name, points, targets, ways, odds; /* no points where no pattern has any */
    bool stacked;                          /* the figures are too long to stand beside the names */
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

/* Rows of the rest of a list are those that something is left of. */
static bool has_row(const struct audit *audit, size_t pattern) {
    const struct figure *figure = &audit->figures[pattern];
    return !audit->rest || !figure->known || is_any(&figure->count.targets);
}

static void lay_out(struct table *table, const struct audit *audit) {
    memset(table, 0, sizeof *table);
    table->style = style_of_output();
    widen_figures(table, &heads);
    widen_column(&table->name, "Pattern");
    for (size_t i = 0; i < audit->size; i++) {
        nh_pattern pattern = *nh_list_pattern(audit->list, i);
        struct figures figures;
        figures_of(audit, i, &figures);
        widen_figures(table, &figures);
        widen_column(&table->name, pattern.name);
        if (pattern.has_points)
            widen_column(&table->points, heads.points);
        widen_column(&table->points, figures.points);
        if (pattern.section != NULL)
            table->indent = INDENT;
    }
    int gaps = table->points > 0 ? 4 * GAP : 3 * GAP;
    int room = LINE_WIDTH - table->indent - gaps - table->points - table->targets - table->ways -
               table->odds;
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
    if (table->points > 0 && figures->points[0] != '\0')
        text_add_right(text, figures->points, end + GAP + table->points);
    if (table->points > 0)
        end += GAP + table->points;
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
    if (figures->points[0] != '\0')
        figure_flow(&flow, "points", figures->points);
    figure_flow(&flow, "targets", figures->targets);
    figure_flow(&flow, "ways", figures->ways);
    figure_flow(&flow, "dealt 1 in", figures->odds);
    flow_end(&flow);
}

/* A hand of each variant, in its groups; the variant is named where there are several. */
static void samples_out(const struct table *table, const struct audit *audit, size_t pattern) {
    size_t variants = nh_audit_variants(audit->list, pattern);
    for (size_t v = 0; v < variants && audit->figures[pattern].samples != NULL; v++) {
        const struct sample *sample = &audit->figures[pattern].samples[v];
        struct text text;
        if (nh_tiles_total(&sample->target) == 0)
            continue;
        text_clear(&text);
        text_pad(&text, table->indent + INDENT);
        if (variants > 1)
            text_add_format(&text, "%zu: ", v + 1);
        layout_text(&text, &sample->target, &sample->layout);
        text_print(&text);
    }
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
        if (!has_row(audit, i))
            continue;
        figures_of(audit, i, &figures);
        section_out(&table, pattern.section, before);
        before = pattern.section;
        if (table.stacked) {
            stacked_out(&table, pattern.name, &figures);
        } else {
            row_text(&table, pattern.name, &figures, &text);
            text_print(&text);
        }
        samples_out(&table, audit, i);
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
    size_t warnings = audit->warnings.count, accepted = count_accepted(audit), rows = 0;
    for (size_t i = 0; i < audit->size; i++)
        rows += has_row(audit, i);
    if (audit->rest)
        output_format("%zu of ", rows);
    output_format("%zu pattern%s", audit->size, plural(audit->size));
    if (sections > 0)
        output_format(" in %zu section%s", sections, plural(sections));
    output_format("; hands of %d from %d tiles%s", nh_list_hand_size(audit->list),
                  nh_tiles_total(set), audit->rest ? " that are left" : "");
    if (warnings > 0)
        output_format("; %zu warning%s", warnings, plural(warnings));
    if (accepted > 0)
        output_format("; %zu accepted", accepted);
    output_text(".\n\n");
}

void audit_text(const struct audit *audit) {
    title_out(audit);
    totals_out(audit);
    table_out(audit);
    audit_notes(audit);
}
