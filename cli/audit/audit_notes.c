/* What an audit says below its table. */
#include "audit/audit_notes.h"
#include "audit/accepted.h"
#include "audit/audit_pairs.h"
#include "audit/figure_text.h"
#include "io/flow.h"
#include "io/output.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define INDENT 2

void layout_text(struct text *text, const nh_tiles *target, const nh_layout *layout) {
    char tiles[NH_TILES_TEXT_SIZE];
    if (layout->groups == 0) {
        nh_tiles_format(target, NH_STYLE_LETTERS, tiles, sizeof tiles);
        text_add(text, tiles);
    }
    for (unsigned i = 0; i < layout->groups; i++) {
        nh_tiles group;
        nh_layout_group(layout, i, &group);
        nh_tiles_format(&group, NH_STYLE_LETTERS, tiles, sizeof tiles);
        text_add(text, i > 0 ? " | " : "");
        text_add(text, tiles);
    }
}

/* ------------------------------------------------------------- the line --- */

/* Points to a tenth, without a zero behind the point. */
static void tenths_text(double points, char text[32]) {
    snprintf(text, 32, "%.1f", points);
    size_t length = strlen(text);
    if (strcmp(text + length - 2, ".0") == 0)
        text[length - 2] = '\0';
}

static bool is_marked(const struct audit *audit, size_t pattern) {
    return audit->figures[pattern].points.far != 0 &&
           !nh_list_accepts(audit->list, pattern, "points");
}

static void line_note(const struct audit *audit) {
    char digits[FIGURE_SIZE], odds[FIGURE_SIZE], points[32], doubling[32];
    struct text text;
    bool marked = false;
    if (!audit->line.drawn)
        return;
    for (size_t i = 0; i < audit->size; i++)
        marked = marked || is_marked(audit, i);
    snprintf(digits, sizeof digits, "%.0f", audit->line.odds);
    with_commas(digits, odds);
    tenths_text(audit->line.points, points);
    tenths_text(fabs(audit->line.doubling), doubling);
    text_clear(&text);
    text_add_format(&text,
                    "Points by odds: %s for a pattern dealt 1 in %s, %s %s each time one is "
                    "twice as rare.%s",
                    points, odds, doubling, audit->line.doubling < 0 ? "fewer" : "more",
                    marked ? " + marks points far above that line, - far below." : "");
    struct flow flow = {.indent = 0};
    output_text("\n");
    flow_words(&flow, text.bytes);
    flow_end(&flow);
}

/* ------------------------------------------------------------- warnings --- */

static bool count_arisen(void *context, size_t pattern, const char *warning, bool arose) {
    (void)pattern;
    (void)warning;
    *(size_t *)context += arose;
    return true;
}

size_t count_accepted(const struct audit *audit) {
    size_t count = 0;
    for (size_t i = 0; i < audit->size && !audit->rest; i++)
        accepted_each(audit, i, count_arisen, &count);
    return count;
}

static void warnings_note(const struct audit *audit) {
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

/* Not a mistake, but worth knowing: only jokers complete these targets. */
static void jokers_note(const struct audit *audit) {
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

/* ------------------------------------------------------------ shared ways --- */

/* Others that a pattern's line names; the JSON has all. */
#define SHARED_SHOWN 4

/* The share of pattern `a` that the other of the two has, below nothing for another
 * pattern's. */
static double part_of(const struct shared_ways *shared, size_t a) {
    return shared->a == a ? shared->overlap.of_a : shared->b == a ? shared->overlap.of_b : -1;
}

static bool is_noted(const struct audit *audit, const struct shared_ways *shared, size_t a) {
    return part_of(shared, a) >= SHARE_LEAST &&
           !nh_list_accepts(audit->list, shared->a, "overlap") &&
           !nh_list_accepts(audit->list, shared->b, "overlap");
}

/* Whether the pair at `i` comes before that at `j` in the line of a pattern. */
static bool comes_before(const struct audit *audit, size_t a, size_t i, size_t j) {
    double x = part_of(&audit->shared[i], a), y = part_of(&audit->shared[j], a);
    return x > y || (x >= y && i < j);
}

/* The pair that comes next after `last` in the line of a pattern, or the number of pairs. */
static size_t next_shared(const struct audit *audit, size_t a, size_t last) {
    size_t best = audit->shared_count;
    for (size_t i = 0; i < audit->shared_count; i++)
        if (is_noted(audit, &audit->shared[i], a) &&
            (last == audit->shared_count || comes_before(audit, a, last, i)) &&
            (best == audit->shared_count || comes_before(audit, a, i, best)))
            best = i;
    return best;
}

static void shared_line(const struct audit *audit, size_t a, size_t all) {
    struct flow flow = {.indent = 0};
    struct text text;
    text_clear(&text);
    text_add_format(&text, "\"%s\":", nh_list_pattern(audit->list, a)->name);
    flow.indent = INDENT;
    flow_words(&flow, text.bytes);
    flow.indent = 2 * INDENT;
    size_t at = audit->shared_count;
    for (size_t n = 0; n < all && n < SHARED_SHOWN; n++) {
        at = next_shared(audit, a, at);
        const struct shared_ways *shared = &audit->shared[at];
        size_t other = shared->a == a ? shared->b : shared->a;
        char percent[PERCENT_SIZE];
        double share = part_of(shared, a);
        percent_text(share, share >= 1, percent);
        text_clear(&text);
        text_add_format(&text, "%s \"%s\"%s", percent, nh_list_pattern(audit->list, other)->name,
                        n + 1 < all ? "," : "");
        flow_words(&flow, text.bytes);
    }
    if (all > SHARED_SHOWN) {
        text_clear(&text);
        text_add_format(&text, "and %zu more", all - SHARED_SHOWN);
        flow_words(&flow, text.bytes);
    }
    flow_end(&flow);
}

static void shared_note(const struct audit *audit) {
    bool begun = false;
    for (size_t a = 0; a < audit->size; a++) {
        size_t all = 0;
        for (size_t i = 0; i < audit->shared_count; i++)
            all += is_noted(audit, &audit->shared[i], a);
        if (all == 0)
            continue;
        if (!begun)
            output_text("\nThe share of a pattern's ways that another has too:\n");
        begun = true;
        shared_line(audit, a, all);
    }
}

void audit_notes(const struct audit *audit) {
    line_note(audit);
    warnings_note(audit);
    shared_note(audit);
    jokers_note(audit);
}
