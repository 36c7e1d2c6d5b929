/* A player's practice as a drawing: time and cost, session by session. */
#include "drill/drill_task.h"
#include "io/message.h"
#include "io/output.h"
#include "io/text.h"
#include "io/utf8.h"
#include "progress/progress_task.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

#define WIDTH 720
#define HEIGHT 460
#define LEFT 70 /* of both fields */
#define FIELD_WIDTH 620
#define FIELD_HEIGHT 140

/* Text without what XML does not take (XML 1.0, production 2) or would read. */
static void escaped(const char *string) {
    struct text text;
    text_clear(&text);
    text_add(&text, string);
    for (size_t at = 0; at < text.length;) {
        uint32_t character;
        size_t taken = utf8_decode(text.bytes + at, text.length - at, &character);
        if (character == '&')
            output_text("&amp;");
        else if (character == '<')
            output_text("&lt;");
        else if (character == '>')
            output_text("&gt;");
        else if (character == 0xFFFE || character == 0xFFFF)
            output_text("\xEF\xBF\xBD");
        else
            output_bytes(text.bytes + at, taken);
        at += taken;
    }
}

static double seconds_of(const struct practice_sum *sum) {
    return sum->seconds;
}

static double limit_of(const struct practice_sum *sum) {
    return (double)sum->limit;
}

static double cost_of(const struct practice_sum *sum) {
    return sum->cost;
}

/* One of the two drawings: where it lies, and the value at its top. */
struct field {
    const struct practice *practice;
    int top;
    double most;
};

static double across(const struct field *field, size_t index) {
    size_t steps = field->practice->session_count > 1 ? field->practice->session_count - 1 : 1;
    return LEFT + (double)FIELD_WIDTH * (double)index / (double)steps;
}

static double down(const struct field *field, double value) {
    double share = field->most > 0 ? value / field->most : 0;
    return field->top + FIELD_HEIGHT * (1 - share);
}

static void line_out(const struct field *field, double (*value)(const struct practice_sum *),
                     const char *style) {
    output_format("<polyline fill=\"none\" %s points=\"", style);
    for (size_t i = 0; i < field->practice->session_count; i++) {
        const struct practice_sum sum = practice_session(field->practice, i);
        output_format("%s%.1f,%.1f", i == 0 ? "" : " ", across(field, i), down(field, value(&sum)));
    }
    output_text("\"/>\n");
}

static void points_out(const struct field *field, double (*value)(const struct practice_sum *)) {
    for (size_t i = 0; i < field->practice->session_count; i++) {
        const struct practice_sum sum = practice_session(field->practice, i);
        char time[24];
        clock_text(sum.seconds, time, sizeof time);
        output_format("<circle cx=\"%.1f\" cy=\"%.1f\" r=\"3\"><title>%s, ", across(field, i),
                      down(field, value(&sum)), sum.day);
        escaped(sum.list);
        output_format(", %s, cost %.4f</title></circle>\n", time, sum.cost);
    }
}

static void frame_out(const struct field *field, const char *heading, const char *top) {
    char first[HISTORY_DAY_SIZE];
    char last[HISTORY_DAY_SIZE];
    practice_day_text(field->practice->sessions[0].day, first);
    practice_day_text(field->practice->last_day, last);
    int bottom = field->top + FIELD_HEIGHT;
    output_format("<text x=\"%d\" y=\"%d\">%s</text>\n", LEFT, field->top - 12, heading);
    output_format("<text x=\"%d\" y=\"%d\" text-anchor=\"end\">%s</text>\n", LEFT - 8,
                  field->top + 5, top);
    output_format("<text x=\"%d\" y=\"%d\" text-anchor=\"end\">0</text>\n", LEFT - 8, bottom + 5);
    output_format("<path fill=\"none\" stroke=\"#888\" d=\"M%d %d V%d H%d\"/>\n", LEFT, field->top,
                  bottom, LEFT + FIELD_WIDTH);
    output_format("<text x=\"%d\" y=\"%d\">%s</text>\n", LEFT, bottom + 20, first);
    output_format("<text x=\"%d\" y=\"%d\" text-anchor=\"end\">%s</text>\n", LEFT + FIELD_WIDTH,
                  bottom + 20, last);
}

static double most_of(const struct practice *practice,
                      double (*value)(const struct practice_sum *)) {
    double most = 0;
    for (size_t i = 0; i < practice->session_count; i++) {
        const struct practice_sum sum = practice_session(practice, i);
        double one = value(&sum);
        most = one > most ? one : most;
    }
    return most;
}

static void fields_out(const struct practice *practice) {
    char top[32];
    double slowest = most_of(practice, seconds_of);
    double longest = most_of(practice, limit_of);
    struct field time = {practice, 50, slowest > longest ? slowest : longest};
    struct field cost = {practice, 270, most_of(practice, cost_of)};
    clock_text(time.most, top, sizeof top);
    frame_out(&time, "Time of a round, median of each session; dashed, the limit", top);
    line_out(&time, limit_of, "stroke=\"#888\" stroke-dasharray=\"4 4\"");
    line_out(&time, seconds_of, "stroke=\"#000\"");
    points_out(&time, seconds_of);
    snprintf(top, sizeof top, "%.4f", cost.most);
    frame_out(&cost, "Cost of a pass in expected tiles, median of each session", top);
    line_out(&cost, cost_of, "stroke=\"#000\"");
    points_out(&cost, cost_of);
}

static void drawing_out(const struct practice *practice) {
    output_format("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                  "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%d\" height=\"%d\" "
                  "viewBox=\"0 0 %d %d\" font-family=\"sans-serif\" font-size=\"13\">\n"
                  "<title>Practice: %zu rounds in %zu sessions</title>\n"
                  "<rect width=\"100%%\" height=\"100%%\" fill=\"#fff\"/>\n",
                  WIDTH, HEIGHT, WIDTH, HEIGHT, practice->round_count, practice->session_count);
    if (practice->session_count > 0)
        fields_out(practice);
    output_text("</svg>\n");
}

static bool save(const struct page *page, const char *path) {
    FILE *file = fopen(path, "w");
    if (file == NULL)
        return false;
    bool good = fwrite(page->bytes, 1, page->length, file) == page->length;
    return fclose(file) == 0 && good;
}

bool practice_svg(const struct practice *practice, const char *path) {
    struct page page = {0};
    output_to(&page);
    drawing_out(practice);
    output_to(NULL);
    errno = page.failed ? ENOMEM : 0;
    bool good = !page.failed && save(&page, path);
    if (!good)
        complain("%s could not be written: %s", path, strerror(errno));
    page_free(&page);
    return good;
}
