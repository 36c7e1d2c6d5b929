/* The task rank: what was asked, and the answer for one hand, which rank_text
 * and rank_json write. */
#ifndef CLI_RANK_H
#define CLI_RANK_H

#include "input.h"
#include "nearhand.h"

#include <stdbool.h>
#include <stdint.h>

#define TOP_ALL (-1L)
#define TOP_TEXT 10 /* rows shown to people who did not say how many */

/* What was asked, beside the hands. */
struct rank_question {
    const nh_list *list;
    nh_situation situation;
    const uint8_t *chosen; /* patterns of the chosen sections, NULL for all */
    long top;              /* TOP_ALL or a number */
    bool unicode;
};

struct rank_answer {
    const struct rank_question *question;
    const struct line *line;
    nh_tiles hand;
    const nh_ranked *rows; /* every live pattern, best first */
    nh_ranking ranking;
};

/* Rows to be shown, where `otherwise` is the number without --top. */
size_t rank_shown(const struct rank_answer *answer, long otherwise);

/* Patterns without a live target, by name: calls `tell` for each, in list
 * order, and returns how many there are. `tell` may be NULL. */
size_t rank_dead(const struct rank_answer *answer, void (*tell)(const char *name, void *context),
                 void *context);

/* The answer as one JSON object, or for people; `batch` heads it with the hand
 * and its label, and `first` is false behind an earlier answer. */
void rank_json(const struct rank_answer *answer);
void rank_text(const struct rank_answer *answer, bool batch, bool first);

#endif
