/* A drill: rounds of passing and of choosing a pattern against the clock, and
 * what is known of each once it is played. */
#ifndef CLI_DRILL_DRILL_TASK_H
#define CLI_DRILL_DRILL_TASK_H

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
    nh_table *table;
    nh_exact_player *others;
    struct figures *figures;
    struct prompt prompt;
    const char *session, *seed_text, *level; /* level NULL: the player's own limit */
    uint64_t seed, first;
    long limit; /* seconds of a round */
    int seat;
};

/* A pass of the player beside the best one. */
struct drill_pass {
    const char *step; /* right, across, left, courtesy */
    unsigned turn;    /* Charleston, from 1; 0 for the courtesy */
    nh_tiles mine, got;
    struct pass_figures figures;
    double seconds;
};

/* Whether an optional Charleston is played. */
struct drill_vote {
    unsigned turn;
    bool agree[NH_SEATS];
    struct vote_figures figures;
    double seconds;
};

struct drill_round {
    unsigned number;
    nh_wind prevailing;
    nh_tiles dealt;
    nh_tiles hand[NH_SEATS], wall; /* at the end */
    struct drill_pass pass[REVIEW_PASSES_MAX];
    size_t passes;
    struct drill_vote vote[NH_CHARLESTON_ROUNDS_MAX];
    size_t votes;
    struct aim_figures aim[REVIEW_AIMS_MAX];
    size_t aims;
    struct aim_figures nearest; /* first of the ranking; place 0: none is live */
    size_t live;
    double seconds; /* of all decisions */
};

enum drill_end { DRILL_DONE, DRILL_SKIPPED, DRILL_QUIT, DRILL_FAILED };

/* drill_round.c: plays a round. */
enum drill_end drill_play(struct drill *drill, struct drill_round *round);

/* The aim that counts for the tiles to replace: the best placed; NULL for none. */
const struct aim_figures *drill_best_aim(const struct drill_round *round);

/* What the passes cost together, and how many are judged. */
double drill_cost(const struct drill_round *round, size_t *judged);

/* drill_ask.c: questions. Each adds the time that the decision took to the
 * seconds, and comes back with DRILL_DONE once the answer can be used. */
enum drill_end ask_tiles(struct drill *drill, const char *question, const nh_view *view,
                         nh_tiles *tiles, double *seconds);
enum drill_end ask_yes(struct drill *drill, const char *question, bool *yes, double *seconds);
enum drill_end ask_count(struct drill *drill, const char *question, int most, int *count,
                         double *seconds);
enum drill_end ask_aims(struct drill *drill, struct drill_round *round, double *seconds);

/* drill_review.c: what is shown of a round, and of the session. */
void review_round(const struct drill *drill, const struct drill_round *round);
void review_head(void);
void review_row(const struct drill *drill, const struct drill_round *round);

/* drill_record.c: a round as a line of the history. False with a message. */
bool record_append(const struct drill *drill, const struct drill_round *round, const char *path);

#endif
