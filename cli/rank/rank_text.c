/* The answer of rank for people: a summary in one line, then two lines for
 * each pattern, none longer than LINE_WIDTH columns.
 *
 *   Away  Pattern           On the list     Points  In 20 draws
 *      2  Low Tide          Even numbers 3      25        31.4%
 *           2244(4)B 66(66)C EEW       don't need 18D R
 */
#include "io/flow.h"
#include "io/json.h"
#include "io/output.h"
#include "io/style.h"
#include "io/text.h"
#include "patterns/marked.h"
#include "rank/rank_task.h"

#include <stdio.h>
#include <string.h>

#define AWAY_WIDTH 4
#define GAP 2
#define NAME_INDENT (AWAY_WIDTH + GAP)
#define TILES_INDENT (NAME_INDENT + 2)
#define CONCEALED ", concealed"
#define PLACE_LEAST 16

/* Columns of the table, fitted to the rows that are shown. 0 where no row has
 * anything to say. */
struct layout {
    const nh_ranked *rows;   /* that are shown */
    const nh_layout *groups; /* of their targets */
    int name, place, points, chance;
    int spare; /* column of the tiles that are not needed, where they fit beside the target */
    char chance_head[32];
    nh_natural draws;   /* a chance is certain when all of them complete it */
    bool needed, joked; /* marks that occur */
    struct style style;
    bool unicode;
};

static int longer(int a, int b) {
    return a > b ? a : b;
}

/* ------------------------------------------------------------- cells --- */

static void points_text(const nh_pattern *pattern, char *text) {
    text[0] = '\0';
    if (pattern->has_points)
        json_double_text(pattern->points, text);
}

static void chance_text(const nh_ranked *row, const struct layout *layout, char *text) {
    percent_text(row->chance, nh_natural_compare(&row->completing, &layout->draws) == 0, text);
}

/* Where the pattern stands on the printed list, in at most `columns`. What
 * finds it there is the ref, so the section is cut first. */
static void place_text(const nh_pattern *pattern, int columns, struct text *text) {
    text_clear(text);
    int ref = pattern->ref == NULL ? 0 : text_width(pattern->ref);
    if (pattern->section != NULL && ref + 1 < columns)
        text_add_cut(text, pattern->section, strlen(pattern->section),
                     ref > 0 ? columns - ref - 1 : columns);
    if (ref == 0)
        return;
    if (text->width > 0)
        text_add(text, " ");
    text_add_cut(text, pattern->ref, strlen(pattern->ref), columns - text->width);
}

static void target_text(const nh_ranked *row, const struct layout *layout, struct text *text) {
    text_clear(text);
    const nh_layout *groups = &layout->groups[row - layout->rows];
    marked_target(text, row, groups, &layout->style, layout->unicode);
}

static void spare_text(const nh_ranked *row, const struct layout *layout, struct text *text) {
    text_clear(text);
    if (nh_tiles_total(&row->spare) == 0)
        return;
    text_add(text, "don't need ");
    marked_tiles(text, &row->spare, layout->style.dim, &layout->style, layout->unicode);
}

/* ------------------------------------------------------------ layout --- */

static void widen_layout(struct layout *layout, const nh_pattern *pattern, const nh_ranked *row) {
    struct text text;
    char points[JSON_DOUBLE_SIZE];
    char chance[PERCENT_SIZE];
    int name = text_width(pattern->name) + (pattern->concealed ? text_width(CONCEALED) : 0);
    layout->name = longer(layout->name, name);
    place_text(pattern, LINE_WIDTH, &text);
    layout->place = longer(layout->place, text.width);
    points_text(pattern, points);
    layout->points = longer(layout->points, text_width(points));
    chance_text(row, layout, chance);
    layout->chance = longer(layout->chance, text_width(chance));
    target_text(row, layout, &text);
    int target = text.width;
    spare_text(row, layout, &text);
    if (TILES_INDENT + target + GAP + text.width <= LINE_WIDTH)
        layout->spare = longer(layout->spare, TILES_INDENT + target + GAP);
    layout->needed = layout->needed || row->away > 0;
    layout->joked = layout->joked || nh_tiles_total(&row->joked) > 0;
}

/* Names get what they want, as far as the place on the list keeps enough to be
 * known by. */
static void narrow(struct layout *layout) {
    int room = LINE_WIDTH - AWAY_WIDTH - GAP - GAP - layout->chance;
    if (layout->points > 0)
        room -= GAP + layout->points;
    if (layout->place > 0) {
        room -= GAP;
        layout->place = layout->place + layout->name <= room
                            ? layout->place
                            : longer(PLACE_LEAST, room - layout->name);
        layout->place = layout->place > room / 2 ? room / 2 : layout->place;
    }
    if (layout->name > room - layout->place)
        layout->name = room - layout->place;
}

static void lay_out(struct layout *layout, const struct rank_answer *answer, size_t shown) {
    const struct rank_question *question = answer->question;
    memset(layout, 0, sizeof *layout);
    layout->rows = answer->rows;
    layout->groups = answer->layouts;
    layout->style = question->style;
    layout->unicode = question->unicode;
    layout->draws = answer->ranking.draws;
    snprintf(layout->chance_head, sizeof layout->chance_head, "In %d draw%s", question->draws,
             question->draws == 1 ? "" : "s");
    for (size_t i = 0; i < shown; i++) {
        nh_pattern pattern = *nh_list_pattern(question->list, answer->rows[i].pattern);
        widen_layout(layout, &pattern, &answer->rows[i]);
    }
    layout->name = longer(layout->name, text_width("Pattern"));
    layout->chance = longer(layout->chance, text_width(layout->chance_head));
    if (layout->place > 0)
        layout->place = longer(layout->place, text_width("On the list"));
    if (layout->points > 0)
        layout->points = longer(layout->points, text_width("Points"));
    narrow(layout);
}

/* -------------------------------------------------------------- rows --- */

/* Columns from the left: away, name, place, points, chance. */
static void begin_row(struct text *text, const char *away) {
    text_clear(text);
    text_add_right(text, away, AWAY_WIDTH);
    text_pad(text, NAME_INDENT);
}

static void end_row(struct text *text, const struct layout *layout, const char *place,
                    const char *points, const char *chance) {
    int end = NAME_INDENT + layout->name;
    if (layout->place > 0) {
        text_pad(text, end + GAP);
        text_add_cut(text, place, strlen(place), layout->place);
        end += GAP + layout->place;
    }
    if (layout->points > 0) {
        end += GAP + layout->points;
        text_add_right(text, points, end);
    }
    text_add_right(text, chance, end + GAP + layout->chance);
}

static void head_out(const struct layout *layout) {
    struct text text;
    begin_row(&text, "Away");
    text_add(&text, "Pattern");
    end_row(&text, layout, "On the list", "Points", layout->chance_head);
    output_text(layout->style.dim);
    output_bytes(text.bytes, text.length);
    output_format("%s\n", layout->style.plain);
}

static void pattern_out(const struct layout *layout, const nh_pattern *pattern,
                        const nh_ranked *row) {
    struct text text, place;
    char away[8], points[JSON_DOUBLE_SIZE], chance[PERCENT_SIZE];
    snprintf(away, sizeof away, "%d", row->away);
    points_text(pattern, points);
    chance_text(row, layout, chance);
    place_text(pattern, layout->place, &place);
    begin_row(&text, away);
    int concealed = pattern->concealed ? text_width(CONCEALED) : 0;
    text_add_style(&text, layout->style.bold);
    text_add_cut(&text, pattern->name, strlen(pattern->name), layout->name - concealed);
    text_add_style(&text, layout->style.plain);
    if (pattern->concealed)
        text_add(&text, CONCEALED);
    end_row(&text, layout, place.bytes, points, chance);
    text_print(&text);
}

/* The winds that the target assumes, if the player gave none. */
static void presumed_text(const nh_ranked *row, struct text *text) {
    text_clear(text);
    if (row->prevailing != NH_WIND_UNKNOWN)
        text_add_format(text, "if %s is prevailing", nh_wind_name(row->prevailing));
    if (row->seat != NH_WIND_UNKNOWN)
        text_add_format(text, "%s you are %s", text->width > 0 ? " and" : "if",
                        nh_wind_name(row->seat));
}

static void tiles_flow(const struct layout *layout, const nh_ranked *row, struct flow *flow) {
    struct text text;
    flow->indent = TILES_INDENT;
    target_text(row, layout, &text);
    flow_add(flow, &text, 0);
    spare_text(row, layout, &text);
    if (text.length > 0)
        flow_add(flow, &text, longer(GAP, layout->spare - flow->column));
    presumed_text(row, &text);
    if (text.length > 0)
        flow_add(flow, &text, GAP);
    flow_end(flow);
}

static void row_out(const struct layout *layout, const nh_list *list, const nh_ranked *row) {
    struct flow flow = {0};
    pattern_out(layout, nh_list_pattern(list, row->pattern), row);
    tiles_flow(layout, row, &flow);
}

/* ----------------------------------------------------- before, after --- */

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
    char number[JSON_DOUBLE_SIZE];
    points_text(&pattern, number);
    text_clear(&points);
    if (pattern.has_points)
        text_add_format(&points, " (%s points)", number);
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

static void legend_out(const struct layout *layout) {
    struct text text;
    text_clear(&text);
    marked_legend(&text, layout->needed, layout->joked, &layout->style);
    if (text.length > 0)
        text_print(&text);
}

/* How many rows fit a screen with all that stands around them. */
static size_t rows_that_fit(const struct rank_answer *answer, const struct layout *layout) {
    const nh_ranking *ranking = &answer->ranking;
    int lines = 2 + answer->question->batch; /* summary, head, and the hand */
    lines += layout->needed || layout->joked;
    lines += rank_dead(answer, DEAD_BY_TILES, name_skip, NULL) > 0;
    lines += rank_dead(answer, DEAD_BY_WINDS, name_skip, NULL) > 0;
    size_t rows = 0;
    for (; rows < ranking->rows; rows++) {
        struct flow flow = {.silent = true};
        tiles_flow(layout, &answer->rows[rows], &flow);
        lines += 1 + flow.lines;
        bool more = rows + 1 < ranking->live;
        if (lines + more > SCREEN_LINES)
            break;
    }
    return rows;
}

void rank_text(const struct rank_answer *answer) {
    size_t shown = answer->ranking.rows;
    struct layout layout;
    lay_out(&layout, answer, shown);
    if (answer->question->fit) {
        shown = rows_that_fit(answer, &layout);
        lay_out(&layout, answer, shown);
    }
    if (answer->question->batch) {
        output_text("\n");
        heading_out(answer, &layout.style);
    }
    summary_out(answer, &layout.style);
    if (shown > 0)
        head_out(&layout);
    for (size_t i = 0; i < shown; i++)
        row_out(&layout, answer->question->list, &answer->rows[i]);
    more_out(answer, shown);
    dead_out(answer, DEAD_BY_TILES, shown == answer->ranking.live);
    dead_out(answer, DEAD_BY_WINDS, shown == answer->ranking.live);
    legend_out(&layout);
}
