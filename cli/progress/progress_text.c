/* A player's practice as tables, and as bars for those who look for a trend. */
#include "drill/drill_task.h"
#include "io/flow.h"
#include "io/output.h"
#include "io/text.h"
#include "progress/progress_task.h"

#include <stdio.h>
#include <string.h>

/* ------------------------------------------------------------- tables --- */

static void add_figures(struct text *line, const struct practice_sum *sum) {
    char figure[32];
    text_pad(line, 37);
    if (sum->level != NULL)
        text_add_cut(line, sum->level, strlen(sum->level), 12);
    else
        text_add(line, "-");
    snprintf(figure, sizeof figure, "%zu", sum->rounds);
    text_add_right(line, figure, 55);
    clock_text(sum->seconds, figure, sizeof figure);
    text_add_right(line, figure, 61);
    clock_text((double)sum->limit, figure, sizeof figure);
    text_add_right(line, figure, 67);
    snprintf(figure, sizeof figure, "%.0f%%", 100 * sum->within);
    text_add_right(line, figure, 72);
    snprintf(figure, sizeof figure, "%.4f", sum->cost);
    text_add_right(line, sum->has_cost ? figure : "-", 80);
    text_print(line);
}

static void head_out(const char *first, const char *list) {
    struct text line;
    text_clear(&line);
    text_add(&line, first);
    text_add(&line, list);
    text_pad(&line, 37);
    text_add(&line, "Level");
    text_add_right(&line, "Rounds", 55);
    text_add_right(&line, "Time", 61);
    text_add_right(&line, "Limit", 67);
    text_add_right(&line, "In", 72);
    text_add_right(&line, "Cost", 80);
    text_print(&line);
}

static void groups_out(const struct practice *practice) {
    head_out("", "List");
    for (size_t i = 0; i < practice->group_count; i++) {
        const struct practice_sum sum = practice_group(practice, i);
        struct text line;
        text_clear(&line);
        text_add_cut(&line, sum.list, strlen(sum.list), 36);
        add_figures(&line, &sum);
    }
}

static void sessions_out(const struct practice *practice, size_t shown) {
    size_t first = practice->session_count > shown ? practice->session_count - shown : 0;
    if (shown == 0)
        return;
    output_text("\n");
    head_out("Day         ", "List");
    for (size_t i = first; i < practice->session_count; i++) {
        const struct practice_sum sum = practice_session(practice, i);
        struct text line;
        text_clear(&line);
        text_add_format(&line, "%s  ", sum.day);
        text_add_cut(&line, sum.list, strlen(sum.list), 24);
        add_figures(&line, &sum);
    }
    if (first > 0)
        output_format("%zu earlier: --sessions %zu shows all.\n", first, practice->session_count);
}

/* --------------------------------------------------------------- bars --- */

#define BAR_ROWS 3
#define BARS_MOST 60 /* the last sessions */
#define LABEL 9      /* columns before the bars */

/* The part of a row that a bar fills, in eighths. */
static int eighths(double value, double most, int row) {
    double height = most > 0 ? value / most * 8 * BAR_ROWS : 0;
    int filled = (int)(height + 0.5) - 8 * row;
    /* What is more than nothing can be seen. */
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

static void bars_out(const char *heading, const char *top, const double *values, size_t count,
                     bool ascii) {
    double most = 0;
    for (size_t i = 0; i < count; i++)
        most = values[i] > most ? values[i] : most;
    output_format("\n%s\n", heading);
    for (int row = BAR_ROWS - 1; row >= 0; row--) {
        struct text line;
        text_clear(&line);
        text_add_right(&line, row == BAR_ROWS - 1 ? top : row == 0 ? "0" : "", LABEL);
        text_add(&line, ascii ? " |" : " │");
        for (size_t i = 0; i < count; i++)
            text_add(&line, bar_piece(eighths(values[i], most, row), ascii));
        text_print(&line);
    }
}

static void plot(const struct practice *practice, bool ascii) {
    double seconds[BARS_MOST];
    double costs[BARS_MOST];
    double slowest = 0;
    double dearest = 0;
    char top[32];
    size_t count = practice->session_count < BARS_MOST ? practice->session_count : BARS_MOST;
    for (size_t i = 0; i < count; i++) {
        const struct practice_sum sum =
            practice_session(practice, practice->session_count - count + i);
        seconds[i] = sum.seconds;
        costs[i] = sum.cost;
        slowest = seconds[i] > slowest ? seconds[i] : slowest;
        dearest = costs[i] > dearest ? costs[i] : dearest;
    }
    clock_text(slowest, top, sizeof top);
    bars_out("Time of a round, session by session", top, seconds, count, ascii);
    snprintf(top, sizeof top, "%.4f", dearest);
    bars_out("Cost of a pass, session by session", top, costs, count, ascii);
}

void practice_text(const struct practice *practice, size_t shown, bool ascii) {
    if (practice->round_count == 0) {
        output_text("No round is in the history yet: nearhand drill plays some.\n");
        return;
    }
    char first[HISTORY_DAY_SIZE];
    char last[HISTORY_DAY_SIZE];
    practice_day_text(practice->sessions[0].day, first);
    practice_day_text(practice->last_day, last);
    output_format("%zu round%s in %zu session%s, %s to %s.", practice->round_count,
                  practice->round_count == 1 ? "" : "s", practice->session_count,
                  practice->session_count == 1 ? "" : "s", first, last);
    if (practice->fixed > 0)
        output_format(" Fixed clock: %zu.", practice->fixed);
    output_text("\n");
    groups_out(practice);
    sessions_out(practice, shown);
    output_text("Time and cost are medians of rounds and passes; in: within the limit.\n");
    plot(practice, ascii);
}
