/* A player who follows a way. */
#ifndef NH_TABLE_WAY_PLAYER_H
#define NH_TABLE_WAY_PLAYER_H

#include "nearhand_game.h"

/* How far away a hand was at least before it drew, and when that was known. */
struct known_wait {
    bool known;
    uint8_t away;
    nh_tiles hand, seen;
    nh_wind prevailing;
    nh_set sets[NH_SETS_MAX];
    size_t set_count;
};

struct nh_way_player {
    nh_allocator allocator;
    nh_workspace *workspace; /* of the whole list */
    nh_exact_player *exact;
    nh_way way;
    struct known_wait wait[NH_SEATS];
};

/* Tiles that the player draws until the wall is gone. */
int way_draws(const nh_game_view *view);

/* Remembers that a hand, which waits now, is `away` with these tiles gone. */
void way_remember(nh_way_player *player, const nh_game_view *view, const nh_tiles *hand,
                  const nh_situation *situation, uint8_t away);

/* Whether one tile more can complete a hand of the view: not where it was two tiles away or
 * more, as it is no nearer with more tiles gone. */
bool way_may_complete(nh_way_player *player, const nh_game_view *view, const nh_tiles *hand);

/* The functions for the two halves of a game; the context is the player. The others play a
 * turn, and answer a discard. */
nh_status way_pass(void *context, const nh_view *view, nh_move *move, nh_error *error);
nh_status way_play(void *context, const nh_game_view *view, nh_game_move *move, nh_error *error);
nh_status way_turn(nh_way_player *player, const nh_game_view *view, nh_game_move *move,
                   nh_error *error);
nh_status way_claim(nh_way_player *player, const nh_game_view *view, nh_game_move *move,
                    nh_error *error);

#endif
