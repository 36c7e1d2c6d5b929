/* The review of a round that the history holds. */
#ifndef CLI_HISTORY_REVIEW_READ_H
#define CLI_HISTORY_REVIEW_READ_H

#include "history/history_round.h"
#include "history/review.h"

/* Fills in the review, whose strings are those of the round. NULL, or what the
 * line of the round does not say, in words that go on from there. */
const char *review_read(const struct history_round *round, struct review *review);

/* review_play_read.c: the game, if the round has one. */
bool review_play_read(const cJSON *round, struct review_play *play);

#endif
