/* Passing by a way: exactly, or the tiles that the nearest target has no use for. */
#include "table/way_player.h"
#include "tiles/tiles.h"

/* The tiles that may be passed and that the nearest target does not need; all that may be
 * passed where no target is left. */
static nh_status spare_tiles(const nh_way_player *player, const nh_view *view, nh_tiles *spare,
                             nh_error *error) {
    nh_rank_question question = NH_RANK_QUESTION;
    nh_situation situation = NH_SITUATION;
    nh_ranking ranking = {.nearest = NH_AWAY_NONE};
    nh_ranked row;
    situation.seen = view->gone;
    situation.prevailing = view->prevailing;
    situation.seat = nh_seat_wind(view->seat);
    question.situation = &situation;
    nh_status status = nh_rank(player->workspace, &view->hand, &question, &row, 1, &ranking, error);
    if (status == NH_OK)
        *spare = nh_charleston_passable(nh_list_charleston(view->list),
                                        ranking.rows > 0 ? &row.spare : &view->hand);
    return status;
}

/* Moves up to `count` tiles in the order of hand notation. */
static int move_tiles(nh_tiles *from, int count, nh_tiles *to) {
    int moved = 0;
    for (int kind = 0; kind < NH_KINDS; kind++)
        for (; from->count[kind] > 0 && moved < count; moved++) {
            from->count[kind]--;
            to->count[kind]++;
        }
    return moved;
}

static void choose_pass(const nh_view *view, nh_tiles spare, nh_move *move) {
    nh_tiles others = nh_charleston_passable(nh_list_charleston(view->list), &view->hand);
    others = tiles_without(&others, &spare);
    int moved = move_tiles(&spare, view->count, &move->tiles);
    move_tiles(&others, view->count - moved, &move->tiles);
}

nh_status way_pass(void *context, const nh_view *view, nh_move *move, nh_error *error) {
    const nh_way_player *player = context;
    if (player->way.pass == NH_PASS_BEST)
        return nh_exact_play(player->exact, view, move, error);
    nh_tiles spare;
    nh_status status = spare_tiles(player, view, &spare, error);
    if (status != NH_OK)
        return status;
    int count = nh_tiles_total(&spare);
    switch (view->step.stage) {
    case NH_STAGE_PASS:
    case NH_STAGE_EXCHANGE:
        choose_pass(view, spare, move);
        break;
    case NH_STAGE_VOTE:
        move->agree = count >= view->count;
        break;
    case NH_STAGE_COURTESY:
        move->count = (uint8_t)(count < view->count ? count : view->count);
        break;
    case NH_STAGE_OVER:
        break;
    }
    return NH_OK;
}
