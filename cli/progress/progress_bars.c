/* Bars for those who look for a trend: time and cost side by side, a bar for each
 * session, the bars of one list and level apart from those of others. */
#include "io/flow.h"
#include "io/output.h"
#include "io/text.h"
#include "progress/progress_task.h"

#include <stdio.h>
#include <string.h>

#define BAR_ROWS 3
#define BARS_MOST 26     /* the last sessions */
#define GROUPS_MOST 4    /* lists and levels, those practised last */
#define SESSIONS_LEAST 2 /* of each: a single bar says nothing */
#define LABEL 9          /* columns before the bars */
#define COSTS_AT 40      /* where the bars of costs begin */

/* The part of a row that a bar fills, in eighths. */
static int eighths(double value, double most, int row) {
    double height = most > 0 ? value / most * 8 * BAR_ROWS : 0;
    int filled = (int)(height + 0.5) - 8 * row;
    /* Anything above zero can be seen. */
    if (row == 0 && value > 0 && filled < 1)
        filled = 1;
    return filled < 0 ? 0 : filled > 8 ? 8 : filled;
}

static const char *bar_piece(int filled, bool ascii) {
    static const char *const blocks[] = {" ", "▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"};
    if (!ascii)
        return blocks[filled];
    return filled > 4 ? "#" : filled > 0 ? "." : " ";
}

/* Values of a list and level, session by session. */
struct bars {
    double value[BARS_MOST];
    double most;
    char top[32]; /* the label of `most` */
};

static void add_bar_row(struct text *line, const struct bars *bars, size_t count, int row,
                        bool ascii) {
    int start = line->width;
    text_add_right(line, row == BAR_ROWS - 1 ? bars->top : row == 0 ? "0" : "", start + LABEL);
    text_add(line, ascii ? " |" : " │");
    for (size_t i = 0; i < count; i++)
        text_add(line, bar_piece(eighths(bars->value[i], bars->most, row), ascii));
}

/* What is shown of a list and level. */
struct trend {
    practice_place group;
    struct text name;
    size_t count; /* of bars */
    struct bars seconds, costs;
};

static void add_bar(struct bars *bars, size_t count, double value) {
    if (count == BARS_MOST)
        memmove(bars->value, bars->value + 1, (BARS_MOST - 1) * sizeof *bars->value);
    bars->value[count < BARS_MOST ? count : BARS_MOST - 1] = value;
}

static struct trend *find_trend(struct trend trends[], size_t count, practice_place group) {
    for (size_t i = 0; i < count; i++)
        if (trends[i].group == group)
            return &trends[i];
    return NULL;
}

/* The names, and of each the last sessions. */
static void fill_trends(struct practice *practice, struct trend trends[], size_t count) {
    struct practice_sum sum;
    practice_first(practice, PRACTICE_GROUPS);
    while (practice_next(practice, PRACTICE_GROUPS, &sum)) {
        struct trend *trend = find_trend(trends, count, sum.group);
        if (trend != NULL)
            history_add_list(&trend->name, sum.list, sum.level, 50);
    }
    practice_first(practice, PRACTICE_SESSIONS);
    while (practice_next(practice, PRACTICE_SESSIONS, &sum)) {
        struct trend *trend = find_trend(trends, count, sum.group);
        if (trend == NULL)
            continue;
        add_bar(&trend->seconds, trend->count, sum.seconds);
        add_bar(&trend->costs, trend->count, sum.cost);
        trend->count += trend->count < BARS_MOST;
    }
}

static void find_most(struct bars *bars, size_t count) {
    for (size_t i = 0; i < count; i++)
        bars->most = bars->value[i] > bars->most ? bars->value[i] : bars->most;
}

static void heading_out(const struct text *name) {
    struct text line;
    output_text("\n");
    text_print(name);
    text_clear(&line);
    text_add(&line, "Median time of a round, by session");
    text_pad(&line, COSTS_AT);
    text_add(&line, "Median cost of a pass, by session");
    text_print(&line);
}

static void trend_out(struct trend *trend, bool ascii) {
    find_most(&trend->seconds, trend->count);
    find_most(&trend->costs, trend->count);
    clock_text(trend->seconds.most, trend->seconds.top);
    snprintf(trend->costs.top, sizeof trend->costs.top, "%.3f", trend->costs.most);
    heading_out(&trend->name);
    for (int row = BAR_ROWS - 1; row >= 0; row--) {
        struct text line;
        text_clear(&line);
        add_bar_row(&line, &trend->seconds, trend->count, row, ascii);
        text_pad(&line, COSTS_AT);
        add_bar_row(&line, &trend->costs, trend->count, row, ascii);
        text_print(&line);
    }
}

void practice_bars(struct practice *practice, bool ascii) {
    struct practice_late late[GROUPS_MOST];
    struct trend trends[GROUPS_MOST];
    size_t others;
    size_t count = practice_latest(practice, SESSIONS_LEAST, late, GROUPS_MOST, &others);
    for (size_t i = 0; i < count; i++) {
        trends[i] = (struct trend){.group = late[i].group};
        text_clear(&trends[i].name);
    }
    if (count > 0)
        fill_trends(practice, trends, count);
    for (size_t i = count; i-- > 0;)
        trend_out(&trends[i], ascii);
    if (others > 0)
        output_format("\n%zu more: --svg FILE draws them.\n", others);
}
