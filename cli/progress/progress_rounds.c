/* Past rounds one by one: their list, and the review of one again. */
#include "history/history_lines.h"
#include "history/review_read.h"
#include "io/flow.h"
#include "io/message.h"
#include "io/output.h"
#include "io/text.h"
#include "progress/progress_task.h"
#include "task.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

/* ---------------------------------------------------------------- list --- */

/* Where columns begin and end. */
enum { LEVEL_AT = 44, TIME_END = 61, LIMIT_END = 67, COST_END = 80 };

static void head_out(void) {
    struct text line;
    text_clear(&line);
    text_add(&line, " Round  Day         List");
    text_pad(&line, LEVEL_AT);
    text_add(&line, "Level");
    text_add_right(&line, "Time", TIME_END);
    text_add_right(&line, "Limit", LIMIT_END);
    text_add_right(&line, "Average cost", COST_END);
    text_print(&line);
}

static void row_out(uint64_t number, const struct history_round *round) {
    char figure[CLOCK_SIZE];
    double cost = 0;
    size_t costs = 0;
    const cJSON *pass;
    cJSON_ArrayForEach(pass, round->passes) {
        double one;
        if (!history_pass_cost(pass, &one))
            continue;
        cost += one;
        costs++;
    }
    struct text line;
    text_clear(&line);
    snprintf(figure, sizeof figure, "%" PRIu64, number);
    text_add_right(&line, figure, 6);
    text_add_format(&line, "  %.*s  ", HISTORY_DAY_SIZE - 1, round->time);
    text_add_cut(&line, round->list, strlen(round->list), 23);
    text_pad(&line, LEVEL_AT);
    text_add_cut(&line, round->level != NULL ? round->level : "-",
                 round->level != NULL ? strlen(round->level) : 1, 12);
    clock_text(round->seconds, figure);
    text_add_right(&line, figure, TIME_END);
    clock_text(round->limit, figure);
    text_add_right(&line, figure, LIMIT_END);
    snprintf(figure, sizeof figure, "%.3f", costs > 0 ? cost / (double)costs : 0);
    text_add_right(&line, costs > 0 ? figure : "-", COST_END);
    text_print(&line);
}

int rounds_list(struct history_lines *lines) {
    struct line line;
    uint64_t count = 0;
    bool damaged = false;
    while (history_next(lines, &line)) {
        struct history_round round;
        const char *wrong = history_round_read(&line, &round);
        if (wrong != NULL) {
            history_damage(&line, wrong, false);
            damaged = true;
        } else {
            if (count++ == 0)
                head_out();
            row_out(count, &round);
        }
        history_round_free(&round);
    }
    if (lines->failed)
        return STATUS_USAGE;
    if (count == 0)
        no_rounds_yet();
    else
        output_text("--round R shows the review of round R again.\n");
    return damaged ? STATUS_UNREAD : STATUS_ANSWERED;
}

/* -------------------------------------------------------------- review --- */

static void about_out(uint64_t number, const struct history_round *round) {
    const char *seed =
        cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(round->object, "seed"));
    const cJSON *deal = cJSON_GetObjectItemCaseSensitive(round->object, "deal");
    struct text line;
    text_clear(&line);
    text_add_format(&line, "Round %" PRIu64 ": %.*s, ", number, HISTORY_DAY_SIZE - 1, round->time);
    history_add_list(&line, round->list, round->level, 30);
    text_print(&line);
    if (seed != NULL && cJSON_IsNumber(deal)) {
        text_clear(&line);
        text_add_format(&line, "Deal %.0f of seed ", deal->valuedouble);
        text_add_cut(&line, seed, strlen(seed), 20);
        text_print(&line);
    }
}

static int review_out(uint64_t number, const struct history_round *round) {
    struct review review;
    const char *missing = review_read(round, &review);
    if (missing != NULL) {
        complain("round %" PRIu64 " cannot be reviewed: its line in the history does not say %s",
                 number, missing);
        return STATUS_UNREAD;
    }
    about_out(number, round);
    review_print(&review);
    if (review.live == 0 && review.nearest.place > 0)
        output_text("How many patterns were in reach was not kept with this round.\n");
    return STATUS_ANSWERED;
}

int round_review(struct history_lines *lines, uint64_t number) {
    struct line line;
    struct history_round found = {.object = NULL};
    uint64_t count = 0;
    while ((number == LAST_ROUND || count < number) && history_next(lines, &line)) {
        struct history_round round;
        struct history_round other = {.object = NULL};
        if (history_round_read(&line, &round) == NULL) {
            count++;
            other = found;
            found = round;
        } else {
            other = round;
        }
        history_round_free(&other);
    }
    int status = STATUS_USAGE;
    if (!lines->failed && count == 0)
        status = no_rounds_yet();
    else if (!lines->failed && number != LAST_ROUND && count < number)
        complain("there is no round %" PRIu64 ": the last is round %" PRIu64, number, count);
    else if (!lines->failed)
        status = review_out(count, &found);
    history_round_free(&found);
    return status;
}
