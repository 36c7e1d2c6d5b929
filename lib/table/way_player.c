/* Players who follow a way: what they do in their turn. */
#include "table/way_player.h"
#include "base/memory.h"
#include "base/question.h"
#include "base/status.h"
#include "tiles/tiles.h"

#include <string.h>

int way_draws(const nh_game_view *view) {
    return (int)(view->wall + NH_SEATS - 1) / NH_SEATS;
}

/* ------------------------------------------------- hands that can be won --- */

void way_remember(nh_way_player *player, const nh_game_view *view, const nh_tiles *hand,
                  const nh_situation *situation, uint8_t away) {
    struct known_wait *wait = &player->wait[view->seat];
    const nh_set *sets = nh_list_sets(nh_workspace_list(view->workspace), &wait->set_count);
    memcpy(wait->sets, sets, wait->set_count * sizeof *sets);
    wait->known = true;
    wait->away = away;
    wait->hand = *hand;
    wait->seen = situation->seen;
    wait->prevailing = situation->prevailing;
}

/* Whether what is remembered is of this hand, with no more tiles gone than now. */
static bool is_of(const struct known_wait *wait, const nh_game_view *view, const nh_tiles *hand) {
    size_t set_count;
    const nh_set *sets = nh_list_sets(nh_workspace_list(view->workspace), &set_count);
    const nh_situation *situation = &view->situation;
    if (!wait->known || wait->set_count != set_count ||
        memcmp(wait->sets, sets, set_count * sizeof *sets) != 0 ||
        !nh_tiles_equal(&wait->hand, hand) || wait->prevailing != situation->prevailing)
        return false;
    for (int kind = 0; kind < NH_KINDS; kind++)
        if (wait->seen.count[kind] > situation->seen.count[kind])
            return false;
    return true;
}

/* The tiles of a view are of one set, so that its hand can always be ranked. */
bool way_may_complete(nh_way_player *player, const nh_game_view *view, const nh_tiles *hand) {
    const struct known_wait *wait = &player->wait[view->seat];
    nh_rank_question question = NH_RANK_QUESTION;
    nh_ranking ranking = {.nearest = NH_AWAY_NONE};
    if (!is_of(wait, view, hand)) {
        question.situation = &view->situation;
        nh_rank(view->workspace, hand, &question, NULL, 0, &ranking, NULL);
        way_remember(player, view, hand, &view->situation, ranking.nearest);
    }
    return wait->away <= 1;
}

/* ---------------------------------------------------------- exchanges --- */

/* How near a hand is, and the chance of the row that ranks first. */
struct outlook {
    uint8_t away; /* NH_AWAY_NONE: nothing is left to make */
    double chance;
};

static struct outlook outlook_with(nh_workspace *workspace, const nh_tiles *hand,
                                   const nh_situation *situation, int draws) {
    nh_rank_question question = NH_RANK_QUESTION;
    nh_ranking ranking = {.nearest = NH_AWAY_NONE};
    nh_ranked row = {.chance = 0};
    question.situation = situation;
    question.draws = draws;
    nh_rank(workspace, hand, &question, &row, 1, &ranking, NULL);
    return (struct outlook){ranking.nearest, row.chance};
}

/* Whether the hand is better with a joker for the tile. */
static bool gains(const nh_game_view *view, int kind) {
    nh_tiles with = view->hand;
    nh_situation after = view->situation;
    with.count[kind]--;
    with.count[NH_JOKER]++;
    after.seen.count[kind]++;
    after.seen.count[NH_JOKER]--;
    struct outlook now =
        outlook_with(view->workspace, &view->hand, &view->situation, way_draws(view));
    struct outlook then = outlook_with(view->workspace, &with, &after, way_draws(view));
    return then.away < now.away || (then.away == now.away && then.chance > now.chance);
}

/* Takes the first joker on the table of another player that the hand gains by; false where
 * there is none. */
static bool find_exchange(const nh_game_view *view, nh_game_move *move) {
    for (int places = 1; places < NH_SEATS; places++) {
        int seat = (view->seat + places) % NH_SEATS;
        const nh_shown *shown = nh_game_shown(view->game, seat);
        for (uint8_t i = 0; i < shown->set_count; i++) {
            const nh_set *set = &shown->sets[i];
            if (set->jokers == 0 || view->hand.count[set->kind] == 0 || !gains(view, set->kind))
                continue;
            move->act = NH_ACT_EXCHANGE;
            move->kind = set->kind;
            move->from = (uint8_t)seat;
            move->index = i;
            return true;
        }
    }
    return false;
}

/* ------------------------------------------------------------ a turn --- */

/* A hand of nothing but jokers lets one go. */
static nh_status discard(nh_way_player *player, const nh_game_view *view, nh_game_move *move,
                         nh_error *error) {
    nh_discard_question question = NH_DISCARD_QUESTION;
    nh_discarding discarding = {.rows = 0};
    nh_discard_choice choice;
    question.situation = &view->situation;
    question.order = player->way.discard;
    question.look = player->way.look;
    question.draws = way_draws(view);
    nh_status status =
        nh_discard(view->workspace, &view->hand, &question, &choice, 1, &discarding, error);
    move->act = NH_ACT_DISCARD;
    move->kind = NH_JOKER;
    if (discarding.rows > 0) {
        move->kind = choice.kind;
        nh_tiles waits = view->hand;
        nh_situation then = view->situation;
        waits.count[choice.kind]--;
        then.seen.count[choice.kind]++;
        way_remember(player, view, &waits, &then, choice.away);
    }
    return status;
}

/* Whether the tile drawn may have completed the hand; it may where none was drawn, or it
 * was given for a joker. */
static bool draw_may_complete(nh_way_player *player, const nh_game_view *view) {
    nh_tiles before = view->hand;
    if (!view->may_win || view->tile >= NH_KINDS || before.count[view->tile] == 0)
        return view->may_win;
    before.count[view->tile]--;
    return way_may_complete(player, view, &before);
}

nh_status way_turn(nh_way_player *player, const nh_game_view *view, nh_game_move *move,
                   nh_error *error) {
    nh_check_question question = NH_CHECK_QUESTION;
    nh_checking checking = {.completed = 0};
    question.situation = &view->situation;
    nh_status status = NH_OK;
    if (draw_may_complete(player, view))
        status = nh_check(view->workspace, &view->hand, &question, NULL, 0, &checking, error);
    if (checking.completed > 0)
        move->act = NH_ACT_WIN;
    if (status != NH_OK || checking.completed > 0)
        return status;
    if (nh_list_play(nh_workspace_list(view->workspace))->exchange && find_exchange(view, move))
        return NH_OK;
    return discard(player, view, move, error);
}

nh_status way_play(void *context, const nh_game_view *view, nh_game_move *move, nh_error *error) {
    nh_way_player *player = context;
    return view->in_turn ? way_turn(player, view, move, error)
                         : way_claim(player, view, move, error);
}

/* ------------------------------------------------------------ players --- */

static nh_status check_way(const nh_way *way, nh_error *error) {
    if ((unsigned)way->pass > NH_PASS_SPARE)
        return error_set(error, NH_ERROR_ARGUMENT, 0, "the way to pass is %d; 0 to %d",
                         (int)way->pass, NH_PASS_SPARE);
    if ((unsigned)way->claim > NH_CLAIM_NEVER)
        return error_set(error, NH_ERROR_ARGUMENT, 0, "the way to claim is %d; 0 to %d",
                         (int)way->claim, NH_CLAIM_NEVER);
    if ((unsigned)way->discard > NH_DISCARD_WORTH)
        return error_set(error, NH_ERROR_ARGUMENT, 0, "the order of discards is %d; 0 to %d",
                         (int)way->discard, NH_DISCARD_WORTH);
    if (way->look < 1 || way->look > NH_LOOK_MAX)
        return error_set(error, NH_ERROR_ARGUMENT, 0, "look is %d; 1 to %d", way->look,
                         NH_LOOK_MAX);
    return NH_OK;
}

void nh_way_player_free(nh_way_player *player) {
    if (player == NULL)
        return;
    nh_allocator allocator = player->allocator;
    nh_exact_player_free(player->exact);
    memory_release(&allocator, player);
}

nh_status nh_way_player_new(nh_workspace *workspace, const nh_way *way,
                            const nh_allocator *allocator, nh_way_player **player,
                            nh_error *error) {
    nh_way read = NH_WAY;
    nh_allocator own = memory_default(allocator);
    *player = NULL;
    nh_status status =
        question_read(&read, sizeof read, way, SIZE_PAST(nh_way, look), "NH_WAY", error);
    if (status == NH_OK)
        status = check_way(&read, error);
    if (status != NH_OK)
        return status;
    nh_way_player *made = memory_new(&own, 1, sizeof *made);
    if (made == NULL)
        return error_set(error, NH_ERROR_MEMORY, 0, "%s", nh_status_text(NH_ERROR_MEMORY));
    made->allocator = own;
    made->workspace = workspace;
    made->way = read;
    status = nh_exact_player_new(workspace, &own, &made->exact);
    if (status != NH_OK) {
        nh_way_player_free(made);
        return error_set(error, status, 0, "%s", nh_status_text(status));
    }
    *player = made;
    return NH_OK;
}

void nh_way_player_seat(nh_way_player *player, nh_game *game, int seat) {
    nh_game_seat(game, seat, way_pass, player, way_play, player);
}
