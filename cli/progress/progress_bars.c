/* Bars for those who look for a trend: time and cost side by side, a bar for each
 * session, the bars of one list and level apart from those of others. */
#include "io/flow.h"
#include "io/output.h"
#include "io/text.h"
#include "progress/progress_task.h"

#include <stdio.h>

#define BAR_ROWS 3
#define BARS_MOST 26  /* the last sessions */
#define GROUPS_MOST 4 /* lists and levels, those practised last */
#define LABEL 9       /* columns before the bars */
#define COSTS_AT 40   /* where the bars of costs begin */

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

static void heading_out(const struct practice_sum *sum) {
    struct text line;
    text_clear(&line);
    history_add_list(&line, sum->list, sum->level, 50);
    output_text("\n");
    text_print(&line);
    text_clear(&line);
    text_add(&line, "Time of a round, by session");
    text_pad(&line, COSTS_AT);
    text_add(&line, "Cost of a pass, by session");
    text_print(&line);
}

static void group_out(const struct practice *practice, size_t group, bool ascii) {
    const struct practice_sum sum = practice_group(practice, group);
    struct bars seconds = {.most = 0};
    struct bars costs = {.most = 0};
    size_t count = sum.sessions < BARS_MOST ? sum.sessions : BARS_MOST;
    uint32_t session = practice->groups[group].latest;
    for (size_t i = count; i-- > 0; session = practice->sessions[session].earlier) {
        const struct practice_sum own = practice_session(practice, session);
        seconds.value[i] = own.seconds;
        costs.value[i] = own.cost;
        seconds.most = own.seconds > seconds.most ? own.seconds : seconds.most;
        costs.most = own.cost > costs.most ? own.cost : costs.most;
    }
    clock_text(seconds.most, seconds.top);
    snprintf(costs.top, sizeof costs.top, "%.3f", costs.most);
    heading_out(&sum);
    for (int row = BAR_ROWS - 1; row >= 0; row--) {
        struct text line;
        text_clear(&line);
        add_bar_row(&line, &seconds, count, row, ascii);
        text_pad(&line, COSTS_AT);
        add_bar_row(&line, &costs, count, row, ascii);
        text_print(&line);
    }
}

/* A single bar says nothing. */
static bool has_trend(const struct practice *practice, uint32_t group) {
    return practice->sessions[practice->groups[group].latest].earlier != PRACTICE_NONE;
}

void practice_bars(const struct practice *practice, bool ascii) {
    uint32_t shown[GROUPS_MOST];
    size_t count = 0;
    size_t others = 0;
    for (size_t i = practice->session_count; i-- > 0;) {
        uint32_t group = practice->sessions[i].group;
        if (practice->groups[group].latest != i || !has_trend(practice, group))
            continue;
        if (count < GROUPS_MOST)
            shown[count++] = group;
        else
            others++;
    }
    for (size_t i = count; i-- > 0;)
        group_out(practice, shown[i], ascii);
    if (others > 0)
        output_format("\n%zu more: --svg FILE draws them.\n", others);
}
