/* What a chart of a player's practice shows: the latest sessions side by side, a
 * line for each list and level, and scales of round numbers. */
#ifndef CLI_PROGRESS_CHART_H
#define CLI_PROGRESS_CHART_H

#include "progress/practice.h"

#define CHART_SESSIONS_MOST 300
#define CHART_LINES_MOST 12

struct chart_session {
    struct practice_sum sum; /* without its names */
    size_t line;             /* 0: the one that was practised last */
};

/* A scale from 0 on, marked `marks` times a `step` apart. */
struct scale {
    double step;
    int marks;
};

/* A list and level. */
struct chart_line {
    practice_place group;
    char *list, *level; /* level NULL: a limit of the player's own */
    long limit;
};

struct chart {
    struct chart_session session[CHART_SESSIONS_MOST];
    struct chart_line line[CHART_LINES_MOST];
    size_t sessions, lines;
    bool one_day; /* all sessions, and their times are known */
    struct scale seconds, cost;
};

/* The latest sessions of the latest lists and levels. False with a message; free the chart
 * in either case. */
bool chart_plan(struct practice *practice, struct chart *chart);
void chart_free(struct chart *chart);

/* What sets a session apart from its neighbours: its day, or on one day its time. */
const char *chart_label(const struct chart *chart, size_t session);

#endif
