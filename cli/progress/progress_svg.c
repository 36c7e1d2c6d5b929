/* A player's practice as a drawing: the time of a round and the cost of a pass,
 * session by session, a line for each list and level. */
#include "io/markup.h"
#include "io/output.h"
#include "io/output_file.h"
#include "io/text.h"
#include "progress/chart.h"
#include "progress/progress_task.h"
#include "progress/svg_line.h"

#include <stdio.h>
#include <string.h>

#define WIDTH 760
#define LEFT 70 /* of both fields */
#define FIELD_WIDTH 660
#define FIELD_HEIGHT 150
#define TIME_TOP 74
#define COST_TOP 292
#define KEY_TOP 496  /* the middle of its first row */
#define KEY_ROW 22   /* from row to row */
#define LABEL_GAP 92 /* from label to label below a field, at least */

/* -------------------------------------------------------------- fields --- */

/* One of the two fields of the drawing. */
struct field {
    const struct chart *chart;
    int top;
    struct scale scale;
    bool costs; /* of passes; else times of rounds */
};

static double slot_width(const struct chart *chart) {
    return (double)FIELD_WIDTH / (double)chart->sessions;
}

/* The middle of a session's slot. */
static double across(const struct chart *chart, size_t session) {
    return LEFT + slot_width(chart) * ((double)session + 0.5);
}

static double down(const struct field *field, double value) {
    return field->top + FIELD_HEIGHT * (1 - value / (field->scale.step * field->scale.marks));
}

static double field_value(const struct field *field, const struct practice_sum *sum) {
    return field->costs ? sum->cost : sum->seconds;
}

/* The times within the limit, which changes between sessions: steps, no slopes. */
static void limits_out(const struct field *field) {
    const struct chart *chart = field->chart;
    output_format("<path fill=\"#e6e6e6\" stroke=\"none\" d=\"M%d %d", LEFT,
                  field->top + FIELD_HEIGHT);
    for (size_t i = 0; i < chart->sessions; i++)
        output_format("V%.1fH%.1f", down(field, (double)chart->session[i].sum.limit),
                      LEFT + slot_width(chart) * (double)(i + 1));
    output_format("V%dZ\"/>\n", field->top + FIELD_HEIGHT);
}

static void scale_out(const struct field *field) {
    for (int mark = 0; mark <= field->scale.marks; mark++) {
        double value = field->scale.step * mark;
        double y = down(field, value);
        char label[CLOCK_SIZE];
        if (field->costs)
            snprintf(label, sizeof label, "%.10g", value);
        else
            clock_text(value, label);
        output_format("<path stroke=\"%s\" d=\"M%d %.1fH%d\"/>"
                      "<text x=\"%d\" y=\"%.1f\" text-anchor=\"end\">%s</text>\n",
                      mark > 0 ? "#bbb" : "#444", LEFT, y, LEFT + FIELD_WIDTH, LEFT - 8, y + 4.5,
                      label);
    }
}

/* Days or times below the sessions, as many as there is room for. */
static void labels_out(const struct field *field) {
    const struct chart *chart = field->chart;
    int bottom = field->top + FIELD_HEIGHT;
    double free_from = 0;
    for (size_t i = 0; i < chart->sessions; i++) {
        const char *label = chart_label(chart, i);
        double x = across(chart, i);
        if (x < free_from || (i > 0 && strcmp(label, chart_label(chart, i - 1)) == 0))
            continue;
        free_from = x + LABEL_GAP;
        output_format("<path stroke=\"#444\" d=\"M%.1f %dv5\"/>"
                      "<text x=\"%.1f\" y=\"%d\" text-anchor=\"middle\">%s</text>\n",
                      x, bottom, x, bottom + 20, label);
    }
}

static bool is_shown(const struct field *field, const struct chart_session *session, size_t line) {
    return session->line == line && (!field->costs || session->sum.has_cost);
}

static void point_out(const struct field *field, size_t index) {
    const struct chart_session *session = &field->chart->session[index];
    const struct practice_sum *sum = &session->sum;
    const struct chart_line *line = &field->chart->line[session->line];
    char seconds[CLOCK_SIZE];
    char limit[CLOCK_SIZE];
    struct text text;
    text_clear(&text);
    text_add_format(&text, "%s %s, ", sum->day, sum->clock);
    history_add_list(&text, line->list, line->level, 200);
    clock_text(sum->seconds, seconds);
    clock_text((double)sum->limit, limit);
    text_add_format(&text, ", %zu round%s: %s of %s", sum->rounds, sum->rounds == 1 ? "" : "s",
                    seconds, limit);
    if (sum->has_cost)
        text_add_format(&text, ", cost %.3f", sum->cost);
    output_text("<g class=\"session\"><title>");
    markup_text(&text);
    output_text("</title>");
    svg_mark(session->line, across(field->chart, index), down(field, field_value(field, sum)));
    output_text("</g>\n");
}

/* The sessions of one list and level. */
static void line_out(const struct field *field, size_t line) {
    const struct chart *chart = field->chart;
    svg_open_line(line);
    output_format("<polyline fill=\"none\" stroke-dasharray=\"%s\" points=\"", svg_dashes(line));
    for (size_t i = 0; i < chart->sessions; i++)
        if (is_shown(field, &chart->session[i], line))
            output_format("%.1f,%.1f ", across(chart, i),
                          down(field, field_value(field, &chart->session[i].sum)));
    output_text("\"/>\n");
    for (size_t i = 0; i < chart->sessions; i++)
        if (is_shown(field, &chart->session[i], line))
            point_out(field, i);
    output_text("</g>\n");
}

static void field_out(const struct field *field, const char *heading) {
    output_format("<text x=\"%d\" y=\"%d\" font-weight=\"bold\">%s</text>\n", LEFT, field->top - 14,
                  heading);
    if (!field->costs)
        limits_out(field);
    scale_out(field);
    labels_out(field);
    for (size_t line = field->chart->lines; line-- > 0;)
        line_out(field, line);
}

/* ----------------------------------------------------------------- key --- */

static void key_out(const struct practice *practice, const struct chart *chart) {
    int y = KEY_TOP;
    for (size_t line = 0; line < chart->lines; line++, y += KEY_ROW) {
        const struct chart_line *named = &chart->line[line];
        char limit[CLOCK_SIZE];
        struct text text;
        text_clear(&text);
        history_add_list(&text, named->list, named->level, 60);
        clock_text((double)named->limit, limit);
        text_add_format(&text, " (%s)", limit);
        svg_open_line(line);
        output_format("<path fill=\"none\" stroke-dasharray=\"%s\" d=\"M%d %dh48\"/>",
                      svg_dashes(line), LEFT, y);
        svg_mark(line, LEFT + 24, y);
        output_format("</g>\n<text x=\"%d\" y=\"%d\">", LEFT + 60, y + 5);
        markup_text(&text);
        output_text("</text>\n");
    }
    output_format("<path fill=\"#e6e6e6\" d=\"M%d %dh48v12h-48Z\"/>"
                  "<text x=\"%d\" y=\"%d\">within the limit</text>\n",
                  LEFT, y - 6, LEFT + 60, y + 5);
    if (practice->group_count > chart->lines)
        output_format("<text x=\"%d\" y=\"%d\">Not drawn: %zu lists and levels that were practised "
                      "before these.</text>\n",
                      LEFT, y + KEY_ROW + 5, practice->group_count - chart->lines);
}

/* What the drawing shows of the history. */
static void caption(const struct practice *practice, const struct chart *chart, char *text,
                    size_t size) {
    const struct practice_sum *first = &chart->session[0].sum;
    const struct practice_sum *last = &chart->session[chart->sessions - 1].sum;
    char part[64] = "";
    if (chart->sessions < practice->session_count)
        snprintf(part, sizeof part, "%zu of ", chart->sessions);
    if (chart->one_day)
        snprintf(text, size, "Practice on %s (times in UTC): %s%zu session%s", first->day, part,
                 practice->session_count, practice->session_count == 1 ? "" : "s");
    else
        snprintf(text, size, "Practice from %s to %s: %s%zu sessions", first->day, last->day, part,
                 practice->session_count);
}

static void fields_out(const struct practice *practice, const struct chart *chart) {
    const struct field seconds = {chart, TIME_TOP, chart->seconds, false};
    const struct field cost = {chart, COST_TOP, chart->cost, true};
    char text[128];
    caption(practice, chart, text, sizeof text);
    output_format("<text x=\"%d\" y=\"30\" font-size=\"16\">%s</text>\n", LEFT, text);
    field_out(&seconds, "Time of a round, median of each session");
    field_out(&cost, "Cost of a pass in tiles away, median of each session");
    key_out(practice, chart);
}

static void drawing_out(const struct practice *practice, const struct chart *chart) {
    int height = KEY_TOP + KEY_ROW * ((int)chart->lines + 1);
    if (practice->group_count > chart->lines)
        height += KEY_ROW;
    output_format("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                  "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%d\" height=\"%d\" "
                  "viewBox=\"0 0 %d %d\" font-family=\"sans-serif\" font-size=\"13\">\n"
                  "<title>Practice: %zu rounds in %zu sessions</title>\n"
                  "<rect width=\"100%%\" height=\"100%%\" fill=\"#fff\"/>\n",
                  WIDTH, height, WIDTH, height, practice->round_count, practice->session_count);
    if (chart->sessions > 0)
        fields_out(practice, chart);
    output_text("</svg>\n");
}

bool practice_drawing(struct practice *practice) {
    struct chart chart;
    bool good = chart_plan(practice, &chart);
    if (good)
        drawing_out(practice, &chart);
    chart_free(&chart);
    return good;
}

bool practice_svg(struct practice *practice, const char *path) {
    struct page page = {0};
    output_to(&page);
    bool good = practice_drawing(practice);
    output_to(NULL);
    good = good && output_file_write(path, &page);
    page_free(&page);
    return good;
}
