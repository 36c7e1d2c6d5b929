/* The answer of rank for people: a summary in one line, the table, and what is not
 * in it. */
#include "io/flow.h"
#include "io/output.h"
#include "io/style.h"
#include "io/text.h"
#include "numbers/double_text.h"
#include "patterns/marked.h"
#include "rank/rank_table.h"
#include "rank/rank_task.h"
#include "rank/section_table.h"

#include <string.h>

#define GAP 2

static void heading_out(const struct rank_answer *answer, const struct style *style) {
    const struct line *line = answer->line;
    struct text text;
    text_clear(&text);
    marked_tiles(&text, &answer->hand, style->bold, style, answer->question->unicode);
    if (line->label != NULL && line->label_length > 0) {
        text_pad(&text, text.width + GAP);
        text_add_cut(&text, line->label, line->label_length, LINE_WIDTH - text.width);
    }
    text_print(&text);
}

/* A hand is whole, or lacks the tile that makes it so, or has a replacement
 * tile for each kong. Any other size is shown, in case a tile was left out. */
static void size_text(const struct rank_answer *answer, struct text *text) {
    int tiles = nh_tiles_total(&answer->hand);
    int whole = nh_list_hand_size(answer->question->list);
    text_add_format(text, "%d tile%s", tiles, plural((size_t)tiles));
    if (tiles < whole - 1)
        text_add_format(text, " of %d", whole);
    if (tiles > whole)
        text_add_format(text, " (%d extra)", tiles - whole);
}

/* What the player has been waiting for: the pattern and its points. */
static void complete_text(const struct rank_answer *answer, size_t complete, struct text *text) {
    nh_pattern pattern = *nh_list_pattern(answer->question->list, answer->rows[0].pattern);
    struct text points, others;
    char number[DOUBLE_TEXT_SIZE];
    text_clear(&points);
    if (pattern.has_points) {
        double_text(pattern.points, number);
        text_add_format(&points, " (%s points)", number);
    }
    text_clear(&others);
    if (complete > 1)
        text_add_format(&others, " and %zu other%s", complete - 1, plural(complete - 1));
    text_add(text, "complete for ");
    text_add_cut(text, pattern.name, strlen(pattern.name),
                 LINE_WIDTH - text->width - points.width - others.width - 1);
    text_add(text, points.bytes);
    text_add(text, others.bytes);
}

static void nearest_text(const struct rank_answer *answer, struct text *text) {
    const nh_ranking *ranking = &answer->ranking;
    size_t complete = rank_complete(answer);
    size_t others = ranking->within_one - 1;
    if (ranking->live == 0)
        text_add(text, "no pattern is possible");
    else if (complete > 0)
        complete_text(answer, complete, text);
    else {
        text_add_format(text, "closest pattern %d away; ", ranking->nearest);
        if (others == 0)
            text_add(text, "no other within a tile of it");
        else
            text_add_format(text, "%zu other%s within a tile of it", others, plural(others));
    }
}

static void summary_out(const struct rank_answer *answer, const struct style *style) {
    struct text text;
    text_clear(&text);
    text_add_style(&text, style->bold);
    size_text(answer, &text);
    text_add(&text, ": ");
    nearest_text(answer, &text);
    text_add(&text, ".");
    text_add_style(&text, style->plain);
    text_print(&text);
}

static void name_add(const char *name, void *context) {
    struct text *names = context;
    if (names->length > 0)
        text_add(names, ", ");
    text_add(names, name);
}

/* Names that follow one another, in as many lines as it takes. */
struct named {
    struct flow flow;
    size_t left;
};

static void name_flow(const char *name, void *context) {
    struct named *named = context;
    struct text piece;
    text_clear(&piece);
    text_add_cut(&piece, name, strlen(name), LINE_WIDTH - GAP - 1);
    text_add(&piece, --named->left > 0 ? "," : "");
    flow_add(&named->flow, &piece, 1);
}

static void name_skip(const char *name, void *context) {
    (void)name;
    (void)context;
}

/* In one line, which may be cut, as long as rows are left out too. */
static void dead_out(const struct rank_answer *answer, enum rank_dead why, bool all_shown) {
    struct text names, text;
    size_t dead = rank_dead(answer, why, name_skip, NULL);
    if (dead == 0)
        return;
    text_clear(&text);
    text_add_format(&text, "%zu pattern%s %s: ", dead, dead == 1 ? " is" : "s are",
                    why == DEAD_BY_WINDS ? "ruled out by these winds" : "no longer possible");
    if (!all_shown) {
        text_clear(&names);
        rank_dead(answer, why, name_add, &names);
        text_add_cut(&text, names.bytes, names.length, LINE_WIDTH - text.width);
        text_print(&text);
        return;
    }
    struct named named = {{.indent = 0}, dead};
    flow_words(&named.flow, text.bytes);
    named.flow.indent = GAP;
    rank_dead(answer, why, name_flow, &named);
    flow_end(&named.flow);
}

static void more_out(const struct rank_answer *answer, size_t shown) {
    size_t more = answer->ranking.live - shown;
    if (more > 0)
        output_format("%zu more pattern%s; --top %zu shows all.\n", more, plural(more),
                      answer->ranking.live);
}

/* Lines of an answer beside the table and those that explain it. */
static int lines_around(const struct rank_answer *answer) {
    return 1 + answer->question->batch + (rank_dead(answer, DEAD_BY_TILES, name_skip, NULL) > 0) +
           (rank_dead(answer, DEAD_BY_WINDS, name_skip, NULL) > 0);
}

/* What stands above the table. */
static void above_out(const struct rank_answer *answer) {
    const struct style *style = &answer->question->style;
    if (answer->question->batch) {
        output_text("\n");
        heading_out(answer, style);
    }
    summary_out(answer, style);
}

static void dead_both_out(const struct rank_answer *answer, bool all_shown) {
    dead_out(answer, DEAD_BY_TILES, all_shown);
    dead_out(answer, DEAD_BY_WINDS, all_shown);
}

static void sections_text(const struct rank_answer *answer) {
    size_t more = answer->section_count - answer->sections_shown;
    above_out(answer);
    section_table_out(answer);
    if (more > 0)
        output_format("%zu more section%s; --top %zu shows all.\n", more, plural(more),
                      answer->section_count);
    dead_both_out(answer, more == 0 && !answer->question->fit);
}

static void patterns_text(const struct rank_answer *answer) {
    struct rank_table table;
    rank_table_fit(&table, answer, lines_around(answer));
    above_out(answer);
    rank_table_out(&table);
    more_out(answer, table.shown);
    dead_both_out(answer, table.shown == answer->ranking.live);
    rank_table_marks_out(&table);
}

void rank_text(const struct rank_answer *answer) {
    if (answer->question->by == BY_SECTION)
        sections_text(answer);
    else
        patterns_text(answer);
}
