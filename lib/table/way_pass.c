/* Passing by a way: exactly, or the tiles that the nearest target has no use for. */
#include "table/table.h"
#include "table/way_player.h"
#include "tiles/tiles.h"

/* The tiles that may be passed and that the nearest target does not need; all that may be
 * passed where no target is left. */
static nh_tiles spare_tiles(const nh_way_player *player, const nh_view *view) {
    nh_rank_question question = NH_RANK_QUESTION;
    nh_situation situation = NH_SITUATION;
    nh_ranking ranking = {.nearest = NH_AWAY_NONE};
    nh_ranked row;
    situation.seen = view->gone;
    situation.prevailing = view->prevailing;
    situation.seat = nh_seat_wind(view->seat);
    question.situation = &situation;
    nh_rank(player->workspace, &view->hand, &question, &row, 1, &ranking, NULL);
    return nh_charleston_passable(nh_list_charleston(view->list),
                                  ranking.rows > 0 ? &row.spare : &view->hand);
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
    nh_status status = check_same_list(view, player->workspace, error);
    if (status != NH_OK)
        return status;
    const nh_tiles spare = spare_tiles(player, view);
    int count = nh_tiles_total(&spare);
    switch (view->step.stage) {
    case NH_STAGE_PASS:
    case NH_STAGE_EXCHANGE:
        choose_pass(view, spare, move);
        break;
    case NH_STAGE_VOTE:
        move->agree = count >= view->count;
        break;
    default:
        move->count = (uint8_t)(count < view->count ? count : view->count);
        break;
    }
    return NH_OK;
}
