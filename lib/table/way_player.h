/* A player who follows a way. */
#ifndef NH_TABLE_WAY_PLAYER_H
#define NH_TABLE_WAY_PLAYER_H

#include "nearhand_game.h"

struct nh_way_player {
    nh_allocator allocator;
    nh_workspace *workspace; /* of the whole list */
    nh_exact_player *exact;
    nh_way way;
};

/* How near a hand is, and the chance of the row that ranks first. */
struct outlook {
    uint8_t away; /* NH_AWAY_NONE: nothing is left to make */
    double chance;
};

/* Of a hand that stays as it is. With `draws` for the chance. */
nh_status way_outlook(nh_workspace *workspace, const nh_tiles *hand, const nh_situation *situation,
                      int draws, struct outlook *outlook, nh_error *error);

/* Tiles that the player draws until the wall is gone. */
int way_draws(const nh_game_view *view);

/* The functions for the two halves of a game; the context is the player. The second answers a
 * discard of another. */
nh_status way_pass(void *context, const nh_view *view, nh_move *move, nh_error *error);
nh_status way_claim(const nh_way_player *player, const nh_game_view *view, nh_game_move *move,
                    nh_error *error);

#endif
