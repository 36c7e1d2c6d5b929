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

/* A pass and the best one of as many tiles, in tiles away on average. */
struct pass_figures {
    nh_tiles best;
    double expected, best_expected;
    double cost; /* the difference, rounded once */
    bool judged; /* false where no live target was left */
};

/* One more best pass, and none. */
struct vote_figures {
    double expected, stopping;
};

/* A pattern for the final hand; place 0 where it has no live target. */
struct aim_figures {
    uint32_t pattern;
    size_t place;
    int away, replace; /* replace: tiles of the hand that its target has no use for */
};

/* All of these say on standard error what could not be worked out, and return
 * false. `view` is what the player knows before the decision. */
bool figures_of_pass(struct figures *figures, const nh_view *view, const nh_tiles *mine,
                     struct pass_figures *found);
bool figures_of_vote(struct figures *figures, const nh_view *view, struct vote_figures *found);

/* Fills the figures of patterns that are named, and of the nearest. `live`: how
 * many can still be reached. */
bool figures_of_aims(struct figures *figures, const nh_view *view, struct aim_figures *aims,
                     size_t count, struct aim_figures *nearest, size_t *live);

#endif
