/* The answer of check for people: whether the hand is complete, and for what; or what
 * is wrong with it, and what it comes closest to.
 *
 *   Complete: 14 tiles, Boathouse, 15 points.
 *   Boathouse (Charts 10.6), 15 points
 *       234B | 678B | 456C | EEE | 33D
 */
#include "check/check_task.h"
#include "io/flow.h"
#include "io/output.h"
#include "patterns/marked.h"
#include "patterns/row_text.h"

#include <stdio.h>
#include <string.h>

#define GAP 2
#define CLOSEST_SHOWN 3

static void heading_out(const struct check_answer *answer) {
    const struct check_question *question = answer->question;
    const struct line *line = answer->line;
    struct text text;
    text_clear(&text);
    marked_tiles(&text, &answer->hand, question->style.bold, &question->style, question->unicode);
    if (line->label != NULL && line->label_length > 0) {
        text_pad(&text, text.width + GAP);
        text_add_cut(&text, line->label, line->label_length, LINE_WIDTH - text.width);
    }
    text_print(&text);
}

/* ------------------------------------------------------------- summary --- */

/* "11 tiles and 1 set", with how many are wrong. */
static void check_size_text(const struct check_answer *answer, struct text *text) {
    int tiles = nh_tiles_total(&answer->hand), wrong = tiles - answer->whole;
    size_t sets;
    nh_list_sets(answer->question->list, &sets);
    text_add_format(text, "%d tile%s", tiles, plural((size_t)tiles));
    if (sets > 0)
        text_add_format(text, " and %zu set%s", sets, plural(sets));
    if (wrong != 0)
        text_add_format(text, ", %d too %s", wrong > 0 ? wrong : -wrong,
                        wrong > 0 ? "many" : "few");
}

static void summary_out(const struct check_answer *answer) {
    const struct style *style = &answer->question->style;
    struct text text;
    text_clear(&text);
    text_add_style(&text, style->bold);
    text_add(&text, answer->complete ? "Complete: " : "Not complete: ");
    check_size_text(answer, &text);
    if (answer->complete && answer->row_count > 1)
        text_add_format(&text, "; %zu patterns", answer->row_count);
    if (answer->nearest == NH_AWAY_NONE)
        text_add(&text, "; no pattern is possible");
    else if (answer->nearest > 0)
        text_add_format(&text, "; closest pattern %d away", answer->nearest);
    text_add(&text, ".");
    text_add_style(&text, style->plain);
    text_print(&text);
}

/* Why sets on the table spoil the hand. */
static void without_sets_out(const struct check_answer *answer) {
    static const char concealed[] = " is concealed: no set may be on the table.";
    static const char otherwise[] = " has these tiles, but not these sets.";
    for (size_t i = 0; i < answer->without_count && i < CLOSEST_SHOWN; i++) {
        const nh_completed *row = &answer->without_sets[i];
        const nh_pattern *about =
            nh_list_variant(answer->question->list, row->pattern, row->variant);
        const char *reason = about->concealed ? concealed : otherwise;
        struct text text;
        text_clear(&text);
        text_add_cut(&text, about->name, strlen(about->name), LINE_WIDTH - text_width(reason));
        text_add(&text, reason);
        text_print(&text);
    }
}

static void kong_out(const struct check_answer *answer) {
    const struct kong_in_the_way *kong = &answer->kong;
    char reason[80];
    struct text text;
    if (!kong->found)
        return;
    const nh_pattern *about =
        nh_list_variant(answer->question->list, kong->row.pattern, kong->row.variant);
    snprintf(reason, sizeof reason, " needs a pung of %s: a claimed kong does not count as one.",
             nh_kind_notation(kong->kind));
    text_clear(&text);
    text_add_cut(&text, about->name, strlen(about->name), LINE_WIDTH - text_width(reason));
    text_add(&text, reason);
    text_print(&text);
}

static void legend_out(const struct check_answer *answer, size_t shown) {
    struct marks_seen seen = {.needed = false};
    for (size_t i = 0; i < shown; i++)
        marked_note(&seen, answer->question->list, &answer->rows[i].ranked,
                    &answer->rows[i].layout);
    marked_legend_out(&seen, &answer->question->style);
}

void check_text(const struct check_answer *answer) {
    size_t shown = answer->row_count;
    if (!answer->complete && shown > CLOSEST_SHOWN)
        shown = CLOSEST_SHOWN;
    if (answer->question->batch) {
        output_text("\n");
        heading_out(answer);
    }
    summary_out(answer);
    without_sets_out(answer);
    kong_out(answer);
    for (size_t i = 0; i < shown; i++)
        row_text_out(answer->question->list, &answer->rows[i].ranked, &answer->rows[i].about,
                     &answer->rows[i].layout, &answer->question->style, answer->question->unicode);
    if (shown < answer->row_count)
        output_format("%zu more pattern%s as close.\n", answer->row_count - shown,
                      plural(answer->row_count - shown));
    legend_out(answer, shown);
}
