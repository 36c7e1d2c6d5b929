/* A drill: rounds of passing and of choosing a pattern against the clock, and
 * what is known of each once it is played. */
#ifndef CLI_DRILL_DRILL_H
#define CLI_DRILL_DRILL_H

#include "drill/figures.h"
#include "history/review.h"
#include "io/prompt.h"
#include "nearhand.h"

#include <stdbool.h>
#include <stddef.h>

/* What serves for all rounds. */
struct drill {
    const nh_list *list;
    nh_workspace *workspace;
    nh_table *table;         /* NULL with a set of the player's own */
    nh_exact_player *others; /* in the other seats */
    struct own_set *own;     /* NULL where the drill deals */
    struct figures *figures;
    struct prompt prompt;
    const char *session, *seed_text, *level; /* level NULL: the player's own limit */
    uint64_t seed, first;
    long limit; /* seconds of a round */
    int seat;
    nh_wind prevailing; /* with the player's own set */
    double spent;       /* seconds of this round's decisions so far */
    double apart;       /* seconds of drawing and typing, which do not count */
};

/* A pass of the player beside the best one. */
struct drill_pass {
    const char *step; /* right, across, left, courtesy */
    unsigned turn;    /* Charleston, from 1; 0 for the courtesy */
    nh_tiles mine, got;
    unsigned unseen; /* tiles that came in and went on unseen */
    struct pass_figures figures;
    double seconds;
};

/* Whether an optional Charleston is played. */
struct drill_vote {
    unsigned turn;
    bool agree[NH_SEATS]; /* with the player's own set all as the player */
    struct vote_figures figures;
    double seconds;
};

/* How many tiles the courtesy exchanges. */
struct drill_courtesy {
    bool asked;
    int mine, theirs;
    double seconds;
};

struct drill_round {
    unsigned number;
    uint64_t deal;
    nh_wind prevailing;
    nh_tiles dealt;
    nh_tiles hand[NH_SEATS], wall; /* at the end */
    struct drill_pass pass[REVIEW_PASSES_MAX];
    size_t passes;
    struct drill_vote vote[NH_CHARLESTON_ROUNDS_MAX];
    size_t votes;
    struct drill_courtesy courtesy;
    struct aim_figures aim[REVIEW_AIMS_MAX];
    size_t aims;
    struct aim_figures nearest; /* first of the ranking; place 0: none is live */
    size_t live;
    bool over; /* patterns are named */
    double seconds, apart;
};

enum drill_end {
    DRILL_DONE,
    DRILL_UNDO, /* with the player's own set: back to the question before */
    DRILL_SKIPPED,
    DRILL_QUIT,
    DRILL_FAILED
};

/* drill_round.c: plays a round. */
enum drill_end drill_play(struct drill *drill, struct drill_round *round);

/* The aim that counts for the tiles to replace: the best placed; NULL for none. */
const struct aim_figures *drill_best_aim(const struct drill_round *round);

/* What the passes cost together, and how many are judged. */
double drill_cost(const struct drill_round *round, size_t *judged);

/* drill_review.c: what is shown of a round, and of the session. */
void review_round(const struct drill *drill, const struct drill_round *round);
void review_head(void);
void review_row(const struct drill *drill, const struct drill_round *round);

/* drill_record.c: a round as a line of the history. False with a message. */
bool record_append(const struct drill *drill, const struct drill_round *round, const char *path);

#endif
