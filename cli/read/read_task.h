/* The task read: what was asked, and the answer for one hand, which reading_text and
 * reading_json write. */
#ifndef CLI_READ_READ_TASK_H
#define CLI_READ_READ_TASK_H

#include "io/input.h"
#include "io/style.h"
#include "nearhand.h"

#include <stdbool.h>

/* Most players that are read together. */
#define READ_PLAYERS_MAX (NH_SEATS - 1)

#define READ_TOP 8

/* A player: the list less their sets, and what is gone for them. */
struct read_player {
    nh_list *list;
    nh_situation situation; /* with the sets of the others */
};

/* What was asked, beside one's own hand. */
struct read_question {
    nh_list *whole;
    struct read_player players[READ_PLAYERS_MAX];
    size_t player_count;
    nh_tiles gone; /* every tile that is known but one's own */
    int hidden;
    size_t top;
    bool several; /* --player was given: the answer has all of them together */
    bool json;
    bool batch; /* hands are lines of input */
    struct style style;
};

/* One player's answer; the rows stand for the first patterns of the reading. */
struct player_reading {
    nh_reading *reading;
    nh_ranked *rows; /* a target of the pattern that can be hidden, or no tiles */
    nh_layout *layouts;
};

/* The danger of a tile from one player at least. */
struct read_tile {
    uint8_t kind, mine, unseen;
    double danger;
};

struct read_answer {
    const struct read_question *question;
    const struct line *line; /* NULL when nothing is known of one's own tiles */
    nh_tiles hand;
    struct player_reading players[READ_PLAYERS_MAX];
    struct read_tile tiles[NH_KINDS]; /* one's own first, then the most dangerous */
    size_t tile_count;
    bool counted; /* the dangers are known */
};

/* ----------------------------------------------------------- hands --- */

/* What one thread reads hands with. */
struct hand_reader;

struct hand_reader *hand_reader_new(const struct read_question *question); /* NULL: no memory */
void hand_reader_free(struct hand_reader *reader);

/* Answers for a hand, or for none where `line` is NULL; or says what is wrong and returns
 * false. */
bool hand_reader_answer(struct hand_reader *reader, const struct line *line);

/* --------------------------------------------------------- formats --- */

/* For people; in a batch, below a blank line and the hand with its label. */
void reading_text(const struct read_answer *answer);

/* One JSON object. */
void reading_json(const struct read_answer *answer);

#endif
