/* The task pass: what was asked, and the answer for one hand, which is finished
 * before pass_text or pass_json writes it. */
#ifndef CLI_PASS_PASS_TASK_H
#define CLI_PASS_PASS_TASK_H

#include "io/input.h"
#include "io/style.h"
#include "nearhand.h"
#include "pass/walk.h"

#include <stdbool.h>
#include <stdint.h>

#define PASS_TOP 5     /* choices and patterns shown unless --top says otherwise */
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
    unsigned further; /* passes after this one in each course */
    bool has_mine, has_got, any_size, json;
    nh_tiles mine; /* the player's own pass */
    nh_tiles given, got;
    struct walk walk;
    struct style style;
    bool batch; /* hands are lines of input */
};

/* -------------------------------------------------------------- answer --- */

/* A pass, and what its figures are parts of. */
struct pass_choice {
    nh_choice choice;
    uint64_t draws;
    nh_ahead ahead;           /* no courses where none were asked for */
    size_t keeps, keep_count; /* which of the answer's kept patterns stay nearest */
};

struct pass_answer {
    const struct pass_question *question;
    const struct line *line;
    nh_tiles hand;
    nh_situation situation;            /* the question's, less the tiles that came back */
    uint8_t away;                      /* now; NH_AWAY_NONE when nothing can be made */
    const struct pass_choice *choices; /* best first */
    size_t count, shown;
    size_t passes;                  /* all that are allowed */
    size_t first_of[PASS_COUNTS];   /* place in `choices` of the best of each number */
    unsigned counts;                /* numbers of tiles that were compared */
    const struct pass_choice *mine; /* among the choices, or NULL */
    size_t mine_at;                 /* its index, if there is one */
    size_t place;                   /* of mine; those as good as one another share it */
    /* What stays nearest: for the choices that are printed. */
    const uint32_t *kept;  /* patterns of one choice after another */
    const uint8_t *before; /* tiles away of every pattern with the whole hand */
    size_t whole;          /* patterns the best pass keeps and takes no tile from */
    /* Where the players are about to agree on another round: what stopping leaves if the
     * player across wants up to so many tiles in the courtesy. */
    struct pass_choice stopping[PASS_COUNTS];
    unsigned stops; /* how many of them: one more than tiles can be exchanged; else 0 */
    nh_ranked targets[PASS_NEAREST]; /* after the best pass, of the first it keeps */
    nh_layout layouts[PASS_NEAREST]; /* of the targets */
    size_t target_count;
};

/* --------------------------------------------------------------- hands --- */

/* What one thread finds passes with. */
struct passer;

struct passer *passer_new(const struct pass_question *question); /* NULL without memory */
void passer_free(struct passer *passer);

/* Answers a hand, or says what is wrong with it and returns false. */
bool passer_answer(struct passer *passer, const struct line *line);

/* pass_check.c: whether the hand has as many tiles as before play, and hand, tiles given
 * and tiles got fit one another. The tiles that must have come back are taken out of
 * answer->situation. */
bool pass_check(const struct pass_question *question, struct pass_answer *answer, nh_error *error);

/* Whether the hand can pass the player's own tiles, if there are any. */
bool pass_check_mine(const struct pass_question *question, const nh_tiles *hand, nh_error *error);

/* ------------------------------------------------------------- figures --- */

bool pass_is_dead(const struct pass_choice *choice);

/* The order of averages, exactly; dead passes last. */
int pass_compare_expected(const struct pass_choice *a, const struct pass_choice *b);

/* The order of nh_pass across numbers of tiles, for qsort; of passes alike the
 * smaller comes first. */
int pass_compare_choices(const void *left, const void *right);

/* How many tiles a pass is worse than the best, as a fraction. Neither pass is
 * dead. */
struct fraction {
    uint64_t part, whole;
};

struct fraction pass_cost(const struct pass_choice *choice, const struct pass_choice *best);

/* Tiles away at the end of the courses, and its standard error. */
struct estimate {
    double away, error;
};

struct estimate pass_estimate(const nh_ahead *ahead);

/* Whether chance may have made the difference between the estimates of two passes, each of one
 * course at least. */
bool pass_may_be_as_close(const struct pass_choice *choice, const struct pass_choice *closest);

/* ------------------------------------------------------------- formats --- */

void pass_json(const struct pass_answer *answer);
void pass_text(const struct pass_answer *answer);

#endif
