/* The task read: what was asked, and the answer for one hand, which reading_text and
 * reading_json write. */
#ifndef CLI_READ_READ_TASK_H
#define CLI_READ_READ_TASK_H

#include "io/input.h"
#include "io/style.h"
#include "nearhand.h"
#include "players/players.h"

#include <stdbool.h>

#define READ_TOP 8

/* What was asked, beside one's own hand. */
struct read_question {
    nh_list *whole;
    struct other_players players;
    size_t top;
    bool several; /* --player was given: the answer has all of them together */
    bool json;
    bool batch; /* hands are lines of input */
    struct style style;
};

/* Targets that a player can have, for the first patterns of the reading. */
struct player_targets {
    nh_ranked *rows; /* a target of the pattern that can be hidden, or no tiles */
    nh_layout *layouts;
};

struct read_answer {
    const struct read_question *question;
    const struct line *line; /* NULL when nothing is known of one's own tiles */
    nh_tiles hand;
    struct players_reading players;
    struct player_targets targets[PLAYERS_MOST];
};

/* ----------------------------------------------------------- hands --- */

/* What one thread reads hands with. */
struct hand_reader;

struct hand_reader *hand_reader_new(const struct read_question *question); /* NULL: no memory */
void hand_reader_free(struct hand_reader *reader);

/* Answers for a hand, or for none where `line` is NULL; or says what is wrong and returns
 * false. */
bool hand_reader_answer(struct hand_reader *reader, const struct line *line);

/* Whether the last answer was cancelled. */
bool hand_reader_cancelled(const struct hand_reader *reader);

/* --------------------------------------------------------- formats --- */

/* For people; in a batch, below a blank line and the hand with its label. */
void reading_text(const struct read_answer *answer);

/* One JSON object. */
void reading_json(const struct read_answer *answer);

#endif
