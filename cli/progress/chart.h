/* What a chart of a player's practice shows: the latest sessions side by side, a
 * line for each list and level, and scales of round numbers. */
#ifndef CLI_PROGRESS_CHART_H
#define CLI_PROGRESS_CHART_H

#include "progress/practice.h"

#define CHART_SESSIONS_MOST 300
#define CHART_LINES_MOST 12

struct chart_session {
    struct practice_sum sum;
    size_t line; /* 0: the one that was practised last */
};

/* A scale from 0 on, marked `marks` times a `step` apart. */
struct scale {
    double step;
    int marks;
};

struct chart {
    struct chart_session session[CHART_SESSIONS_MOST];
    uint32_t group[CHART_LINES_MOST]; /* of each line */
    size_t sessions, lines;
    bool one_day; /* all sessions, and their times are known */
    struct scale seconds, cost;
};

/* The latest sessions of the latest lists and levels. */
void chart_plan(const struct practice *practice, struct chart *chart);

/* What sets a session apart from its neighbours: its day, or on one day its time. */
const char *chart_label(const struct chart *chart, size_t session);

#endif
