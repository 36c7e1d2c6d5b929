/* What a chart of a player's practice shows. */
#include "progress/chart.h"

#include <string.h>

#define MARKS_MOST 5 /* of a scale, the 0 left aside */

/* The line of a group, a new one if there is room; false where there is none. */
static bool find_line(struct chart *chart, uint32_t group, size_t *line) {
    for (*line = 0; *line < chart->lines; *line += 1)
        if (chart->group[*line] == group)
            return true;
    if (chart->lines == CHART_LINES_MOST)
        return false;
    chart->group[chart->lines++] = group;
    return true;
}

/* From the latest session back. */
static void choose_sessions(const struct practice *practice, struct chart *chart) {
    for (size_t i = practice->session_count; i-- > 0 && chart->sessions < CHART_SESSIONS_MOST;) {
        struct chart_session *session = &chart->session[chart->sessions];
        if (!find_line(chart, practice->sessions[i].group, &session->line))
            continue;
        session->sum = practice_session(practice, i);
        chart->sessions++;
    }
    for (size_t i = 0; i < chart->sessions / 2; i++) {
        struct chart_session other = chart->session[i];
        chart->session[i] = chart->session[chart->sessions - 1 - i];
        chart->session[chart->sessions - 1 - i] = other;
    }
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

void chart_plan(const struct practice *practice, struct chart *chart) {
    double slowest = 0;
    double dearest = 0;
    *chart = (struct chart){.sessions = 0};
    choose_sessions(practice, chart);
    for (size_t i = 0; i < chart->sessions; i++) {
        const struct practice_sum *sum = &chart->session[i].sum;
        double longer = sum->seconds > (double)sum->limit ? sum->seconds : (double)sum->limit;
        slowest = longer > slowest ? longer : slowest;
        dearest = sum->has_cost && sum->cost > dearest ? sum->cost : dearest;
    }
    chart->one_day = is_one_day(chart);
    chart->seconds = seconds_scale(slowest);
    chart->cost = cost_scale(dearest);
}

const char *chart_label(const struct chart *chart, size_t session) {
    const struct practice_sum *sum = &chart->session[session].sum;
    return chart->one_day ? sum->clock : sum->day;
}
