/* A pattern, described. */
#include "patterns/described.h"
#include "io/flow.h"
#include "io/json.h"
#include "io/output.h"
#include "io/text.h"

#include <stdio.h>
#include <string.h>

static void place_add(struct text *text, const nh_pattern *pattern) {
    if (pattern->section == NULL && pattern->ref == NULL)
        return;
    text_add(text, " (");
    if (pattern->section != NULL)
        text_add(text, pattern->section);
    if (pattern->section != NULL && pattern->ref != NULL)
        text_add(text, " ");
    if (pattern->ref != NULL)
        text_add(text, pattern->ref);
    text_add(text, ")");
}

static void points_add(struct text *text, const nh_pattern *pattern) {
    char points[JSON_DOUBLE_SIZE];
    if (!pattern->has_points)
        return;
    json_double_text(pattern->points, points);
    text_add_format(text, ", %s point%s", points, strcmp(points, "1") == 0 ? "" : "s");
}

static void line_out(const char *text, int indent) {
    struct flow flow = {.indent = indent};
    flow_words(&flow, text);
    flow_end(&flow);
}

/* For an empty hand the likeliest target is one of the easiest. */
static void hand_out(nh_workspace *workspace, size_t pattern, int indent) {
    char tiles[NH_TILES_TEXT_SIZE];
    uint8_t chosen[NH_PATTERNS_MAX] = {0};
    const nh_tiles none = {{0}};
    nh_ranking ranking;
    nh_ranked row;
    struct text text;
    chosen[pattern] = 1;
    nh_rank_question question = NH_RANK_QUESTION;
    question.chosen = chosen;
    if (nh_rank(workspace, &none, &question, &row, 1, &ranking, NULL) != NH_OK || ranking.rows == 0)
        return;
    nh_tiles_format(&row.target, NH_STYLE_LETTERS, tiles, sizeof tiles);
    text_clear(&text);
    text_add_format(&text, "for example %s", tiles);
    line_out(text.bytes, indent);
}

void pattern_heading_out(const nh_pattern *pattern, int indent) {
    struct text text;
    text_clear(&text);
    text_add(&text, pattern->name);
    place_add(&text, pattern);
    points_add(&text, pattern);
    if (pattern->concealed)
        text_add(&text, ", concealed");
    line_out(text.bytes, indent);
}

void described_out(const nh_list *list, nh_workspace *workspace, size_t pattern, int indent) {
    nh_pattern shown = *nh_list_pattern(list, pattern);
    pattern_heading_out(&shown, indent);
    if (shown.note != NULL)
        line_out(shown.note, indent);
    hand_out(workspace, pattern, indent);
}
