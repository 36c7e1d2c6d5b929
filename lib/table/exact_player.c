/* A player who passes by exact averages. Votes and courtesies need the same passes as
 * the step after them, so what was worked out is remembered. */
#include "base/memory.h"
#include "table/table.h"
#include "tiles/tiles.h"

/* The best pass of one number of tiles, and the question that it answers. */
struct worked_out {
    bool known;
    nh_tiles hand, gone;
    nh_wind prevailing;
    nh_choice best;
    nh_passing passing;
};

struct nh_exact_player {
    nh_allocator allocator;
    nh_workspace *workspace;
    struct worked_out pass[NH_SEATS][NH_PASS_MAX + 1];
};

nh_status nh_exact_player_new(nh_workspace *workspace, const nh_allocator *allocator,
                              nh_exact_player **player) {
    nh_allocator own = memory_default(allocator);
    nh_exact_player *made = memory_new(&own, 1, sizeof *made);
    *player = made;
    if (made == NULL)
        return NH_ERROR_MEMORY;
    made->allocator = own;
    made->workspace = workspace;
    return NH_OK;
}

void nh_exact_player_free(nh_exact_player *player) {
    if (player == NULL)
        return;
    nh_allocator allocator = player->allocator;
    memory_release(&allocator, player);
}

/* --------------------------------------------------------- best passes --- */

static bool answers(const struct worked_out *pass, const nh_view *view) {
    return pass->known && pass->prevailing == view->prevailing &&
           nh_tiles_equal(&pass->hand, &view->hand) && nh_tiles_equal(&pass->gone, &view->gone);
}

static nh_status best_pass(nh_exact_player *player, const nh_view *view, unsigned count,
                           const struct worked_out **found, nh_error *error) {
    struct worked_out *pass = &player->pass[view->seat][count <= NH_PASS_MAX ? count : 0];
    nh_situation situation = NH_SITUATION;
    nh_pass_question question = NH_PASS_QUESTION;
    *found = pass;
    if (count <= NH_PASS_MAX && answers(pass, view))
        return NH_OK;
    situation.seen = view->gone;
    situation.prevailing = view->prevailing;
    situation.seat = nh_seat_wind(view->seat);
    question.situation = &situation;
    question.tiles = (int)count;
    nh_status status =
        nh_pass(player->workspace, &view->hand, &question, &pass->best, 1, &pass->passing, error);
    pass->known = status == NH_OK;
    pass->hand = view->hand;
    pass->gone = view->gone;
    pass->prevailing = view->prevailing;
    return status;
}

/* Whether a's average is better than that of b, which passes fewer tiles. Exact: sums are
 * below 2^20 draws times the largest distance. Where b leaves nothing to make, neither does
 * a. */
static bool is_better_pass(const struct worked_out *a, const struct worked_out *b) {
    if (a->best.expected == UINT64_MAX)
        return false;
    return a->best.expected * b->passing.draws < b->best.expected * a->passing.draws;
}

/* Of 0 to `most` tiles the number that is best, the smallest of those alike. */
static nh_status best_number(nh_exact_player *player, const nh_view *view, unsigned most,
                             const struct worked_out **best, unsigned *number, nh_error *error) {
    most = most < NH_PASS_MAX ? most : NH_PASS_MAX;
    for (unsigned count = 0; count <= most; count++) {
        const struct worked_out *pass;
        nh_status status = best_pass(player, view, count, &pass, error);
        if (status != NH_OK)
            return status;
        if (count > 0 && !is_better_pass(pass, *best))
            continue;
        *best = pass;
        *number = count;
    }
    return NH_OK;
}

/* --------------------------------------------------------------- moves --- */

static nh_status play_pass(nh_exact_player *player, const nh_view *view, nh_move *move,
                           nh_error *error) {
    const struct worked_out *pass;
    unsigned own = view->count;
    nh_status status = view->step.blind ? best_number(player, view, own, &pass, &own, error)
                                        : best_pass(player, view, own, &pass, error);
    if (status != NH_OK)
        return status;
    move->tiles = pass->best.pass;
    move->blind = (uint8_t)(view->count - own);
    return NH_OK;
}

static nh_status play_vote(nh_exact_player *player, const nh_view *view, nh_move *move,
                           nh_error *error) {
    const struct worked_out *none, *pass;
    nh_status status = best_pass(player, view, 0, &none, error);
    if (status == NH_OK)
        status = best_pass(player, view, view->count, &pass, error);
    if (status == NH_OK)
        move->agree = is_better_pass(pass, none);
    return status;
}

static nh_status play_courtesy(nh_exact_player *player, const nh_view *view, nh_move *move,
                               nh_error *error) {
    const struct worked_out *pass;
    unsigned number = 0;
    nh_status status = best_number(player, view, view->count, &pass, &number, error);
    move->count = (uint8_t)number;
    return status;
}

nh_status nh_exact_play(void *context, const nh_view *view, nh_move *move, nh_error *error) {
    nh_exact_player *player = context;
    nh_status status = check_same_list(view, player->workspace, error);
    if (status != NH_OK)
        return status;
    switch (view->step.stage) {
    case NH_STAGE_PASS:
    case NH_STAGE_EXCHANGE:
        return play_pass(player, view, move, error);
    case NH_STAGE_VOTE:
        return play_vote(player, view, move, error);
    case NH_STAGE_COURTESY:
        return play_courtesy(player, view, move, error);
    default:
        return NH_OK;
    }
}
