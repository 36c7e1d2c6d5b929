/* Other players at the table: their sets, and what is gone for each of them. */
#include "players/players.h"
#include "io/message.h"
#include "patterns/list_sets.h"
#include "system/halt.h"

bool players_add(struct other_players *players, const char *option, const char *const *sets,
                 int count) {
    struct other_player *player = &players->player[players->count++];
    return list_less_sets(players->whole, option, sets, count, &player->list);
}

bool players_add_sets(struct other_players *players, const nh_set *sets, size_t count) {
    struct other_player *player = &players->player[players->count++];
    player->list = players->whole;
    return count == 0 ||
           nh_list_rest(players->whole, sets, count, NULL, &player->list, NULL) == NH_OK;
}

bool players_add_each(struct other_players *players, const struct texts *texts) {
    if (texts->count > PLAYERS_MOST) {
        misused("--player: there are at most %d other players", PLAYERS_MOST);
        return false;
    }
    for (int i = 0; i < texts->count; i++)
        if (!players_add(players, "--player", &texts->text[i], 1))
            return false;
    return true;
}

void players_know(struct other_players *players, const nh_situation *known) {
    players->gone = known->seen;
    for (size_t i = 0; i < players->count; i++) {
        struct other_player *player = &players->player[i];
        player->situation = *known;
        sets_see(player->list, &players->gone);
        for (size_t j = 0; j < players->count; j++)
            if (j != i)
                sets_see(players->player[j].list, &player->situation.seen);
    }
}

bool players_cancel_on_stop(struct other_players *players) {
    if (nh_cancel_new(NULL, &players->cancel) != NH_OK)
        return short_of_memory();
    halt_cancels(players->cancel);
    return true;
}

void players_free(struct other_players *players) {
    for (size_t i = 0; i < players->count; i++)
        if (players->player[i].list != players->whole)
            nh_list_free(players->player[i].list);
    players->count = 0;
    if (players->cancel != NULL)
        halt_cancels(NULL);
    nh_cancel_free(players->cancel);
    players->cancel = NULL;
}
