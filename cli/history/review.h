/* The review of a round, whether it was just played or comes from the history: what
 * it holds, and how it is printed. Strings belong to the caller that fills it in. */
#ifndef CLI_HISTORY_REVIEW_H
#define CLI_HISTORY_REVIEW_H

#include "nearhand.h"

#include <stdbool.h>
#include <stddef.h>

/* Most passes of a round: every step, and the courtesy. */
#define REVIEW_PASSES_MAX (NH_CHARLESTON_ROUNDS_MAX * NH_CHARLESTON_STEPS_MAX + 1)
#define REVIEW_VOTES_MAX NH_CHARLESTON_ROUNDS_MAX
#define REVIEW_AIMS_MAX 8 /* patterns that a player may name */

/* Most discards of a player, and most discards of others that the player may claim: no
 * set has more tiles. */
#define REVIEW_DISCARDS_MAX 160
#define REVIEW_CLAIMS_MAX 160

/* Why a pass cost what it did. */
struct review_why {
    bool known;
    const char *pattern;        /* that it set back; NULL: none that is close */
    nh_tiles tiles;             /* of the pass: those that the pattern wants */
    int away, best_away;        /* of the pattern, after the pass and after the best one */
    double nearer, best_nearer; /* the chance of getting closer by the tiles that come in */
};

/* A pass of the player beside the best one. */
struct review_pass {
    const char *step;    /* right, across, left, courtesy */
    unsigned charleston; /* from 1; 0 for the courtesy */
    nh_tiles mine, best;
    bool judged;                    /* false where no pattern could be reached any more */
    double expected, best_expected; /* tiles away on average after the pass */
    double cost;                    /* the difference */
    unsigned unseen;                /* tiles that came in and went on unseen */
    struct review_why why;
};

/* Whether the player wanted an optional Charleston. */
struct review_vote {
    unsigned charleston;
    bool agreed;
    double expected, stopping; /* tiles away on average after one more best pass; without it */
    /* And stopping where the player across wants 1, 2, 3 tiles in the courtesy. */
    double courtesy[NH_PASS_MAX];
    size_t courtesies; /* 0: not known, or no courtesy */
};

/* A pattern after the passes; place 0 where it can no longer be reached. */
struct review_aim {
    const char *pattern;
    size_t place;
    int away, replace; /* replace: tiles of the hand that it has no use for */
    const char *shown; /* the target in its groups, what is needed marked; NULL: not known */
    nh_tiles need, spare;
};

/* A discard of the player beside the best one. */
struct review_discard {
    unsigned turn;
    uint8_t mine, best;             /* kinds */
    bool judged;                    /* as of a pass; a joker is not judged either */
    double expected, best_expected; /* tiles away on average after 3 more tiles */
    double cost;                    /* the difference */
};

/* A discard of another that the player could claim, and the chance to complete the best
 * pattern then. */
struct review_claim {
    unsigned turn;
    uint8_t kind; /* the tile */
    bool claimed; /* for `set`, or to win */
    bool wins;
    nh_set set;
    bool known; /* the chance of what the player did: of a claim only if it brings the
                   hand nearer */
    double chance;
    bool best_waits, best_wins; /* what would have been best; neither: claiming best_set */
    nh_set best_set;
    double best_chance;
};

/* The game after the passes. */
struct review_play {
    bool played;
    struct review_discard discard[REVIEW_DISCARDS_MAX];
    size_t discards;
    struct review_claim claim[REVIEW_CLAIMS_MAX];
    size_t claims;
    unsigned turns;
    const char *winner; /* a seat; NULL: the wall was used up */
    bool mine;          /* the player won */
    const char *from;   /* whose discard completed the hand; NULL: a draw */
    const char *pattern;
    bool has_points;
    double points;
};

struct review {
    double seconds, limit;
    bool own_set;
    double apart; /* seconds of drawing and typing, with a set of the player's own */
    struct review_pass pass[REVIEW_PASSES_MAX];
    size_t passes;
    struct review_vote vote[REVIEW_VOTES_MAX];
    size_t votes;
    struct review_aim aim[REVIEW_AIMS_MAX]; /* that the player named */
    size_t aims;
    struct review_aim nearest; /* place 0: no pattern could be reached */
    size_t live;               /* patterns that could be reached; 0: not known */
    struct review_play play;
};

/* To standard output. */
void review_print(const struct review *review);

/* review_play.c: the part about the game. */
void review_play_print(const struct review_play *play);

#endif
