/* A line of the history as a round: what every reader of rounds needs of it. */
#ifndef CLI_HISTORY_HISTORY_ROUND_H
#define CLI_HISTORY_HISTORY_ROUND_H

#include "io/input.h"
#include "io/text.h"

#include <cjson/cJSON.h>
#include <stdbool.h>

#define HISTORY_DAY_SIZE 11 /* 2026-11-25 */

/* Strings are those of `object`. */
struct history_round {
    cJSON *object;
    const char *time; /* 2026-11-25T19:05:00Z; the day at least is well-formed */
    const char *session, *list;
    const char *level; /* NULL: a limit of the player's own */
    double limit, seconds;
    bool fixed; /* the clock did not run */
    const cJSON *passes;
};

/* NULL, or what is wrong with the line. Free the round in either case. */
const char *history_round_read(const struct line *line, struct history_round *round);
void history_round_free(struct history_round *round);

/* What a pass cost; false where it has no cost. */
bool history_pass_cost(const cJSON *pass, double *cost);

/* Adds the list, cut to some columns, and the level, or where that is NULL that the
 * player chose the limit. */
void history_add_list(struct text *text, const char *list, const char *level, int columns);

/* Says what is wrong with a line, as a JSON object or in words. */
void history_damage(const struct line *line, const char *why, bool as_json);

#endif
