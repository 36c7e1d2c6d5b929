/* What the player's decisions after the passes come to, beside the best ones. */
#ifndef CLI_DRILL_PLAY_FIGURES_H
#define CLI_DRILL_PLAY_FIGURES_H

#include "history/review.h"

/* Both are asked with what the player knew before the decision. They say on standard
 * error what could not be worked out, and return false. */
bool figures_of_discard(const nh_game_view *view, int kind, struct review_discard *discard);
bool figures_of_claim(const nh_game_view *view, const nh_game_move *move,
                      struct review_claim *claim);

#endif
