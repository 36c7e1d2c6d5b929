/* What a chart of a player's practice shows. */
#define _POSIX_C_SOURCE 200809L
#include "progress/chart.h"
#include "io/message.h"

#include <stdlib.h>
#include <string.h>

#define MARKS_MOST 5 /* of a scale, the 0 left aside */

/* The line of a list and level, or one past the last. */
static size_t find_line(const struct chart *chart, practice_place group) {
    size_t line = 0;
    while (line < chart->lines && chart->line[line].group != group)
        line++;
    return line;
}

static bool name_line(struct chart_line *line, const struct practice_sum *sum) {
    line->limit = sum->limit;
    line->list = strdup(sum->list);
    line->level = sum->level != NULL ? strdup(sum->level) : NULL;
    return (line->list != NULL && (line->level != NULL || sum->level == NULL)) || short_of_memory();
}

/* A line for each list and level practised last. */
static bool choose_lines(struct practice *practice, struct chart *chart) {
    struct practice_late late[CHART_LINES_MOST];
    struct practice_sum sum;
    size_t others;
    chart->lines = practice_latest(practice, 1, late, CHART_LINES_MOST, &others);
    for (size_t i = 0; i < chart->lines; i++)
        chart->line[i].group = late[i].group;
    practice_first(practice, PRACTICE_GROUPS);
    while (practice_next(practice, PRACTICE_GROUPS, &sum)) {
        size_t line = find_line(chart, sum.group);
        if (line < chart->lines && !name_line(&chart->line[line], &sum))
            return false;
    }
    return !practice->failed;
}

static void reverse(struct chart_session *session, size_t count) {
    for (size_t i = 0; i < count / 2; i++) {
        struct chart_session other = session[i];
        session[i] = session[count - 1 - i];
        session[count - 1 - i] = other;
    }
}

/* The latest sessions of these lines; a line that has none of them is left out. */
static bool choose_sessions(struct practice *practice, struct chart *chart) {
    struct practice_sum sum;
    size_t all = 0;
    size_t lines = 0;
    practice_first(practice, PRACTICE_SESSIONS);
    while (practice_next(practice, PRACTICE_SESSIONS, &sum)) {
        size_t line = find_line(chart, sum.group);
        if (line == chart->lines)
            continue;
        sum.session = sum.list = sum.level = NULL;
        chart->session[all++ % CHART_SESSIONS_MOST] = (struct chart_session){sum, line};
    }
    chart->sessions = all < CHART_SESSIONS_MOST ? all : CHART_SESSIONS_MOST;
    /* The earliest stands first: turned by reversing both parts, and then the whole. */
    size_t earliest = all > CHART_SESSIONS_MOST ? all % CHART_SESSIONS_MOST : 0;
    reverse(chart->session, earliest);
    reverse(chart->session + earliest, chart->sessions - earliest);
    reverse(chart->session, chart->sessions);
    for (size_t i = 0; i < chart->sessions; i++)
        lines = chart->session[i].line >= lines ? chart->session[i].line + 1 : lines;
    chart->lines = lines;
    return !practice->failed;
}

static bool is_one_day(const struct chart *chart) {
    for (size_t i = 0; i < chart->sessions; i++) {
        const struct practice_sum *sum = &chart->session[i].sum;
        if (sum->clock[0] == '\0' || strcmp(sum->day, chart->session[0].sum.day) != 0)
            return false;
    }
    return true;
}

/* ------------------------------------------------------------- scales --- */

static struct scale scale_by(double step, double most) {
    struct scale scale = {.step = step, .marks = 1};
    while (step * scale.marks < most)
        scale.marks++;
    return scale;
}

/* Steps that divide a minute or an hour. */
static struct scale seconds_scale(double most) {
    static const double steps[] = {1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600};
    size_t at = 0;
    while (at + 1 < sizeof steps / sizeof *steps && steps[at] * MARKS_MOST < most)
        at++;
    double step = steps[at];
    while (step * MARKS_MOST < most)
        step *= 2;
    return scale_by(step, most);
}

/* Steps of 1, 2 or 5 in some decimal place. */
static struct scale cost_scale(double most) {
    double unit = 0.001;
    while (10 * unit * MARKS_MOST < most)
        unit *= 10;
    double step = unit;
    if (step * MARKS_MOST < most)
        step = 2 * unit;
    if (step * MARKS_MOST < most)
        step = 5 * unit;
    if (step * MARKS_MOST < most)
        step = 10 * unit;
    return scale_by(step, most);
}

bool chart_plan(struct practice *practice, struct chart *chart) {
    double slowest = 0;
    double dearest = 0;
    *chart = (struct chart){.sessions = 0};
    if (!choose_lines(practice, chart) || !choose_sessions(practice, chart))
        return false;
    for (size_t i = 0; i < chart->sessions; i++) {
        const struct practice_sum *sum = &chart->session[i].sum;
        double longer = sum->seconds > (double)sum->limit ? sum->seconds : (double)sum->limit;
        slowest = longer > slowest ? longer : slowest;
        dearest = sum->has_cost && sum->cost > dearest ? sum->cost : dearest;
    }
    chart->one_day = is_one_day(chart);
    chart->seconds = seconds_scale(slowest);
    chart->cost = cost_scale(dearest);
    return true;
}

void chart_free(struct chart *chart) {
    for (size_t i = 0; i < CHART_LINES_MOST; i++) {
        free(chart->line[i].list);
        free(chart->line[i].level);
    }
}

const char *chart_label(const struct chart *chart, size_t session) {
    const struct practice_sum *sum = &chart->session[session].sum;
    return chart->one_day ? sum->clock : sum->day;
}
