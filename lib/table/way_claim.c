/* What a player who follows a way does with another's discard.
 *
 * What leaves no doubt comes first: most hands are too far away to win, and have no tiles
 * for a set with the discard. */
#include "nearhand_claim.h"
#include "table/way_player.h"
#include "tiles/table_sets.h"
#include "tiles/tiles.h"

/* Most claims for one discard: to win, of four sets alike, of three chows. */
#define CLAIMS_MOST 8

/* ----------------------------------------------------- sets that can be --- */

static bool may_claim_chow(const nh_game_view *view) {
    const nh_play_rules *rules = nh_list_play(nh_workspace_list(view->workspace));
    return rules->chow &&
           (rules->chow_from_any || view->from == nh_seat_sender(view->seat, NH_RIGHT));
}

static bool has_chow(const nh_game_view *view, int first) {
    if (view->tile >= NH_EAST || first / PART_KINDS != view->tile / PART_KINDS ||
        !chow_begins_at(first))
        return false;
    for (int kind = first; kind < first + 3; kind++)
        if (kind != view->tile && view->hand.count[kind] == 0)
            return false;
    return true;
}

/* Whether the hand has tiles for any set with the discard. */
static bool can_make_set(const nh_game_view *view) {
    unsigned alike = view->hand.count[view->tile] + view->hand.count[NH_JOKER];
    bool can = alike + 1 >= NH_PUNG;
    for (int first = view->tile - 2; !can && first <= view->tile; first++)
        can = has_chow(view, first);
    return can;
}

/* -------------------------------------------------------------- claiming --- */

/* The best of the sets that may be claimed, or NULL; none of the claims wins. All bring the
 * hand one tile nearer, and the higher chance comes first. */
static const nh_claim *best_set(const nh_game_view *view, const nh_claim *claims, size_t count) {
    bool chow = may_claim_chow(view);
    for (size_t i = 0; i < count; i++)
        if (claims[i].use != NH_CHOW || chow)
            return &claims[i];
    return NULL;
}

static nh_status claim_set(const nh_way_player *player, const nh_game_view *view,
                           nh_game_move *move, nh_error *error) {
    nh_claim_question question = NH_CLAIM_QUESTION;
    nh_claim claims[CLAIMS_MOST];
    nh_claiming claiming;
    question.situation = &view->situation;
    question.draws = way_draws(view);
    question.tile = view->tile;
    question.leave_out_given_up = true;
    nh_status status =
        nh_claims(view->workspace, &view->hand, &question, claims, CLAIMS_MOST, &claiming, error);
    if (status != NH_OK)
        return status;
    const nh_claim *best = best_set(view, claims, claiming.rows);
    if (best == NULL || (player->way.claim == NH_CLAIM_WORTH && !best->worth))
        return NH_OK;
    move->act = NH_ACT_CLAIM;
    move->set = best->set;
    return NH_OK;
}

static nh_status find_win(nh_way_player *player, const nh_game_view *view, nh_game_move *move,
                          nh_error *error) {
    nh_check_question question = NH_CHECK_QUESTION;
    nh_checking checking = {.completed = 0};
    nh_tiles with = view->hand;
    nh_status status = NH_OK;
    with.count[view->tile]++;
    question.situation = &view->situation;
    if (way_may_complete(player, view, &view->hand))
        status = nh_check(view->workspace, &with, &question, NULL, 0, &checking, error);
    if (checking.completed > 0)
        move->act = NH_ACT_WIN;
    return status;
}

nh_status way_claim(nh_way_player *player, const nh_game_view *view, nh_game_move *move,
                    nh_error *error) {
    nh_status status = find_win(player, view, move, error);
    if (status != NH_OK || move->act == NH_ACT_WIN || player->way.claim == NH_CLAIM_NEVER ||
        !can_make_set(view))
        return status;
    return claim_set(player, view, move, error);
}
