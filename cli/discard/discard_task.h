/* The task discard: what was asked, and the answer for one hand, which is finished before
 * discard_text or discard_json writes it. */
#ifndef CLI_DISCARD_DISCARD_TASK_H
#define CLI_DISCARD_DISCARD_TASK_H

#include "io/input.h"
#include "io/style.h"
#include "nearhand.h"
#include "patterns/exchanges.h"
#include "players/players.h"

#include <stdbool.h>
#include <stdint.h>

#define DISCARD_TOP 5 /* choices shown unless --top says otherwise */

/* What was asked, beside the hands. */
struct discard_question {
    const nh_list *list;    /* less the sets on the table */
    nh_situation situation; /* other players' sets are among the tiles seen */
    struct other_sets others;
    struct other_players players; /* those that are read, if any */
    const uint8_t *chosen;        /* patterns that count, NULL for all */
    int look, draws;
    nh_discard_order order;
    size_t top;
    bool any_size, json;
    struct style style;
    bool batch; /* hands are lines of input */
};

/* -------------------------------------------------------------- answer --- */

/* A choice, and the patterns that are nearest after it. */
struct discard_choice {
    nh_discard_choice figures;
    double danger; /* that it completes a player who is read */
    const uint32_t *keeps;
    size_t keep_count;
};

struct discard_answer {
    const struct discard_question *question;
    const struct line *line;
    nh_tiles hand;
    nh_discarding discarding;
    const struct discard_choice *choices; /* best first: those shown, or all where players are
                                             read; none of a complete hand */
    size_t count;
    struct players_reading players; /* none of a complete hand */
    size_t safest; /* the choice with the least danger, the first of them; `count` for none */
    const nh_completed *completed; /* patterns that the hand completes, most points first */
    size_t completed_count;
    struct exchanges exchanges; /* jokers to be had from the table; none of a complete hand */
};

/* --------------------------------------------------------------- hands --- */

/* What one thread finds discards with. */
struct discard_worker;

struct discard_worker *discard_worker_new(const struct discard_question *question); /* or NULL */
void discard_worker_free(struct discard_worker *worker);

/* Answers a hand, or says what is wrong with it and returns false. */
bool discard_worker_answer(struct discard_worker *worker, const struct line *line);

/* Whether the last answer was cancelled. */
bool discard_worker_cancelled(const struct discard_worker *worker);

/* ------------------------------------------------------------- figures --- */

/* Tiles away on average, and how many more than with the first choice: fewer, so below
 * 0, where another figure put that first. Neither choice is without a live target. */
double discard_average(const struct discard_answer *answer, const struct discard_choice *choice);
double discard_cost(const struct discard_answer *answer, const struct discard_choice *choice);

/* Whether players are read, and the danger of every choice is known. */
bool discard_reads(const struct discard_answer *answer);
bool discard_dangers_known(const struct discard_answer *answer);

/* Choices that are shown by their place. */
size_t discard_shown(const struct discard_answer *answer);

/* Points times chance; 0 without points. */
double discard_worth(const struct discard_answer *answer, const struct discard_choice *choice);

/* ------------------------------------------------------------- formats --- */

void discard_json(const struct discard_answer *answer);
void discard_text(const struct discard_answer *answer);

#endif
