/* What the player's decisions come to, beside the best ones. Each number of tiles
 * of a hand is weighed once: a vote, the pass after it and its review share that. */
#ifndef CLI_DRILL_FIGURES_H
#define CLI_DRILL_FIGURES_H

#include "nearhand.h"

#include <stdbool.h>

/* Figures made with a workspace; NULL when memory is short. */
struct figures;
struct figures *figures_new(nh_workspace *workspace);
void figures_free(struct figures *figures); /* NULL is ignored */

/* Why a pass costs something: the closest pattern that it sets back. */
struct why_figures {
    bool known;       /* false for a pass that costs nothing */
    bool has_pattern; /* false where it sets no close pattern back */
    uint32_t pattern;
    nh_tiles tiles;      /* of the pass: those that the pattern wants, and the best pass keeps */
    int away, best_away; /* of the pattern, after the pass and after the best one */
    double nearer, best_nearer; /* the chance that the tiles coming in bring the hand nearer */
};

/* A pass and the best one, in tiles away on average. */
struct pass_figures {
    nh_tiles best;
    double expected, best_expected;
    double cost; /* the difference, rounded once */
    bool judged; /* false where no live target was left */
    struct why_figures why;
};

/* One more best pass, and none. */
struct vote_figures {
    double expected, stopping;
    double courtesy[NH_PASS_MAX]; /* stopping, and the player across wants 1, 2, 3 tiles */
    unsigned courtesies;          /* how many of these can be exchanged */
};

/* A pattern for the final hand; place 0 where it has no live target. */
struct aim_figures {
    uint32_t pattern;
    size_t place;
    int away, replace; /* replace: tiles of the hand that its target has no use for */
    nh_ranked row;     /* its best target */
    nh_layout layout;
};

/* How many patterns a player has to choose from. */
struct reach {
    size_t live;     /* that can still be made */
    size_t by_winds; /* that the winds rule out, whatever the hand */
};

/* All of these say on standard error what could not be worked out, and return
 * false. `view` is what the player knows before the decision. */

/* Of a pass that could have had `least` to `most` tiles: all the same but for a
 * courtesy, and where tiles that come in may go on unseen. */
bool figures_of_pass(struct figures *figures, const nh_view *view, const nh_tiles *mine, int least,
                     int most, struct pass_figures *found);
bool figures_of_vote(struct figures *figures, const nh_view *view, struct vote_figures *found);

/* Fills the figures of patterns that are named, and of the nearest. */
bool figures_of_aims(struct figures *figures, const nh_view *view, struct aim_figures *aims,
                     size_t count, struct aim_figures *nearest, struct reach *reach);

#endif
