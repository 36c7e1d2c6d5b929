/* What a player who follows a way does with another's discard. */
#include "base/status.h"
#include "table/way_player.h"
#include "tiles/table_sets.h"
#include "tiles/tiles.h"

/* A claim, and what it comes to. */
struct claim {
    nh_set set;
    struct outlook outlook;
};

static bool is_better(const struct outlook *a, const struct outlook *b, bool by_chance) {
    if (by_chance && a->chance != b->chance)
        return a->chance > b->chance;
    return a->away != b->away ? a->away < b->away : a->chance > b->chance;
}

static nh_status nearest(nh_workspace *workspace, const nh_tiles *hand,
                         const nh_situation *situation, uint8_t *away, nh_error *error) {
    nh_rank_question question = NH_RANK_QUESTION;
    nh_ranking ranking = {.nearest = NH_AWAY_NONE};
    question.situation = situation;
    nh_status status = nh_rank(workspace, hand, &question, NULL, 0, &ranking, error);
    *away = ranking.nearest;
    return status;
}

static nh_situation with_gone(const nh_situation *situation, int kind) {
    nh_situation after = *situation;
    after.seen.count[kind]++;
    return after;
}

/* The best discard of a hand: the nearest without it, then the largest chance. */
static nh_status best_after_discard(nh_workspace *workspace, const nh_tiles *hand,
                                    const nh_situation *situation, int draws, struct outlook *best,
                                    nh_error *error) {
    uint8_t away[NH_JOKER], least = NH_AWAY_NONE;
    nh_status status = NH_OK;
    *best = (struct outlook){NH_AWAY_NONE, 0};
    for (int kind = 0; kind < NH_JOKER && status == NH_OK; kind++) {
        nh_tiles without = *hand;
        nh_situation after = with_gone(situation, kind);
        away[kind] = NH_AWAY_NONE;
        if (without.count[kind]-- == 0)
            continue;
        status = nearest(workspace, &without, &after, &away[kind], error);
        least = away[kind] < least ? away[kind] : least;
    }
    for (int kind = 0; kind < NH_JOKER && status == NH_OK; kind++) {
        nh_tiles without = *hand;
        nh_situation after = with_gone(situation, kind);
        struct outlook outlook;
        if (away[kind] != least || least == NH_AWAY_NONE)
            continue;
        without.count[kind]--;
        status = way_outlook(workspace, &without, &after, draws, &outlook, error);
        if (status == NH_OK && is_better(&outlook, best, false))
            *best = outlook;
    }
    return status;
}

/* The set of a shape with the discard and tiles of the hand, naturals first. False where
 * the hand has too few. */
static bool alike_set(const nh_game_view *view, unsigned shape, nh_set *set) {
    unsigned naturals = view->hand.count[view->tile], needed = shape - 1;
    unsigned jokers = naturals < needed ? needed - naturals : 0;
    *set = (nh_set){(uint8_t)shape, view->tile, (uint8_t)shape, (uint8_t)jokers};
    return jokers <= view->hand.count[NH_JOKER];
}

static bool chow_set(const nh_game_view *view, int first, nh_set *set) {
    *set = (nh_set){NH_CHOW, (uint8_t)first, 3, 0};
    if (view->tile >= NH_EAST || first / PART_KINDS != view->tile / PART_KINDS ||
        !chow_begins_at(first))
        return false;
    for (int kind = first; kind < first + 3; kind++)
        if (kind != view->tile && view->hand.count[kind] == 0)
            return false;
    return true;
}

/* What the hand comes to when it lays down a set. */
static nh_status weigh(const nh_game_view *view, const nh_set *set, struct outlook *outlook,
                       nh_error *error) {
    nh_workspace *workspace;
    nh_tiles tiles, hand = view->hand;
    nh_status status = nh_game_with_set(view, set, &workspace, error);
    if (status != NH_OK)
        return status;
    nh_set_tiles(set, &tiles);
    tiles.count[view->tile]--;
    hand = tiles_without(&hand, &tiles);
    int whole = nh_list_hand_size(nh_workspace_list(workspace));
    return nh_tiles_total(&hand) < whole
               ? way_outlook(workspace, &hand, &view->situation, way_draws(view), outlook, error)
               : best_after_discard(workspace, &hand, &view->situation, way_draws(view), outlook,
                                    error);
}

/* All sets that the rules let the player claim; how many there are. */
static int claims_of(const nh_game_view *view, nh_set sets[NH_SEXTET - NH_PUNG + 4]) {
    const nh_play_rules *rules = nh_list_play(nh_workspace_list(view->workspace));
    const bool allowed[] = {rules->pung, rules->kong, rules->quint, rules->sextet};
    bool chow =
        rules->chow && (rules->chow_from_any || view->from == nh_seat_sender(view->seat, NH_RIGHT));
    int count = 0;
    for (unsigned shape = NH_PUNG; shape <= NH_SEXTET; shape++)
        count += allowed[shape - NH_PUNG] && alike_set(view, shape, &sets[count]);
    for (int first = view->tile - 2; chow && first <= view->tile; first++)
        count += chow_set(view, first, &sets[count]);
    return count;
}

/* The best claim of a set that brings the hand nearer than `before`; NH_AWAY_NONE away
 * where there is none. */
static nh_status best_claim(const nh_way_player *player, const nh_game_view *view, uint8_t before,
                            struct claim *best, nh_error *error) {
    nh_set sets[NH_SEXTET - NH_PUNG + 4];
    int count = claims_of(view, sets);
    bool by_chance = player->way.claim == NH_CLAIM_WORTH;
    *best = (struct claim){.outlook = {NH_AWAY_NONE, 0}};
    for (int i = 0; i < count; i++) {
        struct claim claim = {.set = sets[i], .outlook = {NH_AWAY_NONE, 0}};
        nh_status status = weigh(view, &sets[i], &claim.outlook, error);
        if (status != NH_OK)
            return status;
        if (claim.outlook.away < before && is_better(&claim.outlook, &best->outlook, by_chance))
            *best = claim;
    }
    return NH_OK;
}

static nh_status claim_set(const nh_way_player *player, const nh_game_view *view,
                           nh_game_move *move, nh_error *error) {
    nh_situation gone = with_gone(&view->situation, view->tile);
    nh_tiles with = view->hand;
    struct outlook waiting;
    struct claim best;
    uint8_t before = NH_AWAY_NONE, after = NH_AWAY_NONE;
    with.count[view->tile]++;
    nh_status status = nearest(view->workspace, &view->hand, &gone, &before, error);
    if (status == NH_OK)
        status = nearest(view->workspace, &with, &view->situation, &after, error);
    /* Sets leave fewer targets: none is nearer than the hand with the tile. */
    if (status != NH_OK || after >= before)
        return status;
    status = best_claim(player, view, before, &best, error);
    if (status != NH_OK || best.outlook.away == NH_AWAY_NONE)
        return status;
    if (player->way.claim == NH_CLAIM_WORTH) {
        status = way_outlook(view->workspace, &view->hand, &gone, way_draws(view), &waiting, error);
        if (status != NH_OK || best.outlook.chance <= waiting.chance)
            return status;
    }
    move->act = NH_ACT_CLAIM;
    move->set = best.set;
    return NH_OK;
}

nh_status way_claim(const nh_way_player *player, const nh_game_view *view, nh_game_move *move,
                    nh_error *error) {
    nh_check_question question = NH_CHECK_QUESTION;
    nh_checking checking;
    nh_tiles with = view->hand;
    with.count[view->tile]++;
    question.situation = &view->situation;
    nh_status status = nh_check(view->workspace, &with, &question, NULL, 0, &checking, error);
    if (status != NH_OK)
        return status;
    if (checking.completed > 0) {
        move->act = NH_ACT_WIN;
        return NH_OK;
    }
    bool full = nh_game_shown(view->game, view->seat)->set_count == NH_SETS_MAX;
    return player->way.claim == NH_CLAIM_NEVER || full ? NH_OK
                                                       : claim_set(player, view, move, error);
}
