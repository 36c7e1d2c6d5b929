/* A drill with the player's own set: the tiles are drawn at home, and typed. It stands
 * where the table stands in a drill that deals. */
#ifndef CLI_DRILL_OWN_SET_H
#define CLI_DRILL_OWN_SET_H

#include "drill/drill.h"

struct own_set;

/* NULL when memory is short. */
struct own_set *own_set_new(const struct drill *drill);
void own_set_free(struct own_set *own); /* NULL is ignored */

/* Begins a round; no tiles are drawn yet. */
void own_set_begin(struct own_set *own);

/* What the player knows now. */
const nh_view *own_set_view(const struct own_set *own);

/* Whether tiles are to be drawn: the whole hand, or for those that were passed. */
bool own_set_draws(const struct own_set *own);

/* Asks for them. What came in belongs to the last pass of the round. */
enum drill_end own_set_draw(struct drill *drill, struct drill_round *round);

/* Plays the player's move, as nh_table_play does with the others at home. */
void own_set_play(struct own_set *own, const nh_move *move);

/* Remembers where the round stands, before a question. False when memory is short. */
bool own_set_mark(struct own_set *own, const struct drill_round *round);

/* Goes back to the question before the one that is marked, or says that there is none. */
void own_set_undo(struct own_set *own, struct drill_round *round);

#endif
