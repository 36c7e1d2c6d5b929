/* A drill: rounds of passing and of choosing a pattern against the clock, and
 * what is known of each once it is played. */
#ifndef CLI_DRILL_DRILL_H
#define CLI_DRILL_DRILL_H

#include "drill/figures.h"
#include "history/review.h"
#include "io/json.h"
#include "io/prompt.h"
#include "nearhand.h"

#include <stdbool.h>
#include <stddef.h>

/* A player by the wind of the seat. */
static inline const char *seat_name(int seat) {
    return nh_wind_name(nh_seat_wind(seat));
}

/* Answers in a Charleston: each step, each vote, the courtesy and its tiles. */
#define DRILL_MOVES_MAX (REVIEW_PASSES_MAX + NH_CHARLESTON_ROUNDS_MAX + 2)

/* What serves for all rounds. */
struct drill {
    const nh_list *list;
    nh_workspace *workspace;
    nh_table *table;         /* NULL with a set of the player's own */
    nh_exact_player *others; /* in the other seats */
    struct own_set *own;     /* NULL where the drill deals */
    struct figures *figures;
    nh_game *game;                  /* goes on after the passes; NULL if they are all */
    nh_way_player *way;             /* plays the other seats of it */
    nh_move moved[DRILL_MOVES_MAX]; /* of the player in this Charleston */
    size_t moves;
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

/* What a discard or claim was decided by, for the history. */
struct drill_known {
    nh_tiles hand, seen;
    nh_set sets[NH_SETS_MAX]; /* on the table before the player */
    unsigned set_count;
    double seconds;
};

/* The game after the passes: its review, and what each decision was made by. */
struct drill_game {
    struct review_play play;
    struct drill_known discard[REVIEW_DISCARDS_MAX], claim[REVIEW_CLAIMS_MAX];
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
    struct reach reach;
    bool over; /* patterns are named */
    struct drill_game game;
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

/* play_game.c: the game after the passes, once the patterns are named. */
enum drill_end drill_play_on(struct drill *drill, struct drill_round *round);

/* The aim that counts for the tiles to replace: the best placed; NULL for none. */
const struct aim_figures *drill_best_aim(const struct drill_round *round);

/* What the passes cost together, and how many are judged. */
double drill_cost(const struct drill_round *round, size_t *judged);

/* drill_review.c: what is shown of a round, and of the session. */
void review_round(const struct drill *drill, const struct drill_round *round);
void review_head(void);
void review_row(const struct drill *drill, const struct drill_round *round);

/* play_record.c: the game of a round as the value of a key, in an object that is open. */
void record_game(struct json *json, const struct drill_game *game);

/* drill_record.c: a round as a line of the history. False with a message. */
bool record_append(const struct drill *drill, const struct drill_round *round, const char *path);

#endif
