/* A player's practice as tables. */
#include "io/flow.h"
#include "io/output.h"
#include "io/text.h"
#include "progress/progress_task.h"

#include <stdio.h>
#include <string.h>

static void add_sum_figures(struct text *line, const struct practice_sum *sum) {
    char figure[32];
    text_pad(line, 37);
    if (sum->level != NULL)
        text_add_cut(line, sum->level, strlen(sum->level), 12);
    else
        text_add(line, "-");
    snprintf(figure, sizeof figure, "%zu", sum->rounds);
    text_add_right(line, figure, 55);
    clock_text(sum->seconds, figure);
    text_add_right(line, figure, 61);
    clock_text((double)sum->limit, figure);
    text_add_right(line, figure, 67);
    snprintf(figure, sizeof figure, "%.0f%%", 100 * sum->within);
    text_add_right(line, figure, 72);
    snprintf(figure, sizeof figure, "%.3f", sum->cost);
    text_add_right(line, sum->has_cost ? figure : "-", 80);
    text_print(line);
}

static void head_out(const char *first, const char *list) {
    struct text line;
    text_clear(&line);
    text_add_right(&line, "Median", 61);
    text_add_right(&line, "Median", 80);
    text_print(&line);
    text_clear(&line);
    text_add(&line, first);
    text_add(&line, list);
    text_pad(&line, 37);
    text_add(&line, "Level");
    text_add_right(&line, "Rounds", 55);
    text_add_right(&line, "time", 61);
    text_add_right(&line, "Limit", 67);
    text_add_right(&line, "In", 72);
    text_add_right(&line, "cost", 80);
    text_print(&line);
}

static void groups_out(struct practice *practice) {
    struct practice_sum sum;
    head_out("", "List");
    practice_first(practice, PRACTICE_GROUPS);
    while (practice_next(practice, PRACTICE_GROUPS, &sum)) {
        struct text line;
        text_clear(&line);
        text_add_cut(&line, sum.list, strlen(sum.list), 36);
        add_sum_figures(&line, &sum);
    }
}

static void sessions_out(struct practice *practice, size_t shown) {
    size_t first = practice->session_count > shown ? practice->session_count - shown : 0;
    struct practice_sum sum;
    if (shown == 0)
        return;
    output_text("\n");
    head_out("Day         ", "List");
    practice_first(practice, PRACTICE_SESSIONS);
    for (size_t at = 0; practice_next(practice, PRACTICE_SESSIONS, &sum); at++) {
        struct text line;
        if (at < first)
            continue;
        text_clear(&line);
        text_add_format(&line, "%s  ", sum.day);
        text_add_cut(&line, sum.list, strlen(sum.list), 24);
        add_sum_figures(&line, &sum);
    }
    if (first > 0)
        output_format("%zu earlier: --sessions %zu shows them all.\n", first,
                      practice->session_count);
}

void practice_text(struct practice *practice, size_t shown, bool ascii) {
    if (practice->round_count == 0) {
        no_rounds_yet();
        return;
    }
    char first[HISTORY_DAY_SIZE];
    char last[HISTORY_DAY_SIZE];
    practice_day_text(practice->first_day, first);
    practice_day_text(practice->last_day, last);
    output_format("%zu round%s in %zu session%s, %s", practice->round_count,
                  practice->round_count == 1 ? "" : "s", practice->session_count,
                  practice->session_count == 1 ? "" : "s", first);
    if (strcmp(first, last) != 0)
        output_format(" to %s", last);
    output_text(".");
    if (practice->fixed > 0)
        output_format(" %zu with a fixed clock.", practice->fixed);
    output_text("\n");
    groups_out(practice);
    sessions_out(practice, shown);
    output_text("Median time of a round, median cost of a pass; In: rounds within the limit.\n");
    practice_bars(practice, ascii);
}
