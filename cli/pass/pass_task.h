/* The task pass: what was asked, and the answer for one hand, which pass_text
 * and pass_json write. */
#ifndef CLI_PASS_PASS_TASK_H
#define CLI_PASS_PASS_TASK_H

#include "io/input.h"
#include "io/style.h"
#include "nearhand.h"
#include "pass/walk.h"

#include <stdbool.h>
#include <stdint.h>

#define PASS_TOP 5     /* choices told, and patterns shown, if not told how many */
#define PASS_NEAREST 5 /* patterns shown that stay nearest */
#define PASS_COUNTS (NH_PASS_MAX + 1)

/* What was asked, beside the hands. */
struct pass_question {
    const nh_list *list;
    nh_situation situation; /* the tiles given are among those seen */
    const uint8_t *chosen;  /* patterns aimed at, NULL for all */
    unsigned least, most;   /* passes of all these numbers of tiles are compared */
    size_t top;
    long ahead;       /* simulated courses of each choice shown, 0 for none */
    unsigned further; /* passes behind this one that a course goes through */
    bool has_mine, has_got, json;
    nh_tiles mine; /* the player's own pass */
    nh_tiles given, got;
    struct walk walk;
    struct style style;
    bool batch; /* hands are lines of input */
};

/* A pass, and what its figures are parts of. */
struct pass_choice {
    nh_choice choice;
    uint64_t draws;
    nh_ahead ahead; /* no courses where none were asked for */
};

struct pass_answer {
    const struct pass_question *question;
    const struct line *line;
    nh_tiles hand;
    nh_situation situation;            /* the question's, but that tiles came back */
    uint8_t away;                      /* now; NH_AWAY_NONE when nothing can be made */
    const struct pass_choice *choices; /* best first */
    size_t count, shown;
    size_t passes;                  /* all that are allowed */
    size_t first_of[PASS_COUNTS];   /* place in `choices` of the best of each number */
    unsigned counts;                /* numbers of tiles that were compared */
    const struct pass_choice *mine; /* among the choices, or NULL */
    size_t place;                   /* of mine; those as good as one another share it */
    struct passer *passer;
};

/* --------------------------------------------------------------- hands --- */

/* What one thread looks for passes with. */
struct passer;

struct passer *passer_new(const struct pass_question *question); /* NULL without memory */
void passer_free(struct passer *passer);

/* Answers a hand, or tells what is wrong with it and returns false. */
bool passer_answer(struct passer *passer, const struct line *line);

/* What is nearest after a pass; it lasts until the next call. */
struct pass_kept {
    const uint8_t *away;   /* of every pattern, after the pass */
    const uint8_t *before; /* and with the whole hand */
    uint8_t nearest;       /* NH_AWAY_NONE for none */
    size_t count;          /* patterns that are nearest */
    size_t whole;          /* of these, those no tile of which is passed */
};

struct pass_kept passer_kept(const struct pass_answer *answer, const struct pass_choice *choice);

/* Whether pattern `index` is one of the nearest. */
bool pass_is_nearest(const struct pass_answer *answer, const struct pass_kept *kept, size_t index);

/* The best targets of the nearest patterns, at most PASS_NEAREST. */
size_t passer_targets(const struct pass_answer *answer, const struct pass_choice *choice,
                      const nh_ranked **rows, nh_ranking *ranking);

/* ------------------------------------------------------------- figures --- */

bool pass_is_dead(const struct pass_choice *choice);

/* How many tiles a pass is worse than the best, as a fraction. Neither pass is
 * dead. */
struct fraction {
    uint64_t part, whole;
};

/* Tiles away at the end of the courses, and the standard error of it. */
struct estimate {
    double away, error;
};

struct estimate pass_estimate(const nh_ahead *ahead);

struct fraction pass_cost(const struct pass_choice *choice, const struct pass_choice *best);

/* ------------------------------------------------------------- formats --- */

void pass_json(const struct pass_answer *answer);
void pass_text(const struct pass_answer *answer);

#endif
