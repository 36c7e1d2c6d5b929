/* Hands of a sheet that come up in games, beside a player who has sets on the table.
 *
 * Four players pass what is spare, claim every set that brings them closer and discard what
 * leaves them closest. So the same games come of a seed everywhere. */
#include "deal/dealing.h"
#include "io/message.h"
#include "sheet/sheet_task.h"
#include "system/halt.h"
#include "task.h"

#include <inttypes.h>
#include <stdlib.h>

/* Sets that the player should have, and games that are looked at before fewer will do; then
 * how many are before there is none. */
#define SETS_WANTED 2u
#define GAMES_WANTED 40u
#define GAMES_MOST 200u

/* One who looks at a game from a seat. */
struct watcher {
    nh_game *game;
    nh_list *list;
    int seat;
    unsigned wanted; /* sets of the player who is read */
    nh_wind prevailing;
    struct sheet_hand hand;
    bool drawn; /* `hand` has drawn, and not done anything yet */
    bool found; /* and then it discarded */
};

/* --------------------------------------------------------------- games --- */

/* Who else has most sets on the table, or -1 where nobody has as many as wanted. */
static int player_with_sets(const struct watcher *watcher) {
    int player = -1;
    unsigned most = watcher->wanted - 1;
    for (int seat = 0; seat < NH_SEATS; seat++) {
        unsigned count = nh_game_shown(watcher->game, seat)->set_count;
        if (seat != watcher->seat && count > most) {
            most = count;
            player = seat;
        }
    }
    return player;
}

static void note_watched_table(const struct watcher *watcher, int player,
                               struct sheet_table *table) {
    table->player = nh_seat_wind(player);
    for (int seat = 0; seat < NH_SEATS; seat++) {
        const nh_shown *shown = nh_game_shown(watcher->game, seat);
        nh_tiles_add(&table->discards, &shown->discards);
        for (unsigned i = 0; i < shown->set_count; i++)
            if (seat == player)
                table->sets[table->set_count++] = shown->sets[i];
            else if (seat == watcher->seat)
                table->own[table->own_count++] = shown->sets[i];
            else
                table->others[table->other_count++] = shown->sets[i];
    }
}

static void note_draw(struct watcher *watcher, const nh_event *event) {
    int player = player_with_sets(watcher);
    watcher->drawn = player >= 0;
    if (player < 0)
        return;
    watcher->hand = (struct sheet_hand){.tiles = event->hands[watcher->seat],
                                        .prevailing = watcher->prevailing,
                                        .seat = nh_seat_wind(watcher->seat)};
    note_watched_table(watcher, player, &watcher->hand.table);
}

static void hear(void *context, const nh_event *event) {
    struct watcher *watcher = context;
    if (event->type == NH_EVENT_DEAL)
        watcher->prevailing = event->deal->prevailing;
    if (watcher->found || event->seat != watcher->seat)
        return;
    if (event->type == NH_EVENT_DRAW)
        note_draw(watcher, event);
    else if (event->type == NH_EVENT_DISCARD)
        watcher->found = watcher->drawn;
    else
        watcher->drawn = false;
}

/* Whether the key has something to say: some tiles of the hand are safer than others. */
static bool is_worth_asking(struct watcher *watcher) {
    struct sheet_key key = {0};
    sheet_read(watcher->list, &watcher->hand, &key);
    size_t own = sheet_own_dangers(&key);
    bool worth = own > 0 && key.reading.tiles[own - 1].danger < key.reading.tiles[0].danger;
    sheet_key_free(&key);
    return worth;
}

static bool watch_game(struct watcher *watcher, uint64_t seed, uint64_t number) {
    nh_game_end end;
    watcher->drawn = watcher->found = false;
    return nh_game_run(watcher->game, seed, number, &end, sizeof end, NULL) == NH_OK &&
           watcher->found && is_worth_asking(watcher);
}

/* The first game from number `first` on with such a hand. */
static bool find_game(struct watcher *watcher, uint64_t seed, uint64_t first, uint64_t *number) {
    for (watcher->wanted = SETS_WANTED; watcher->wanted > 0; watcher->wanted--) {
        uint64_t games = watcher->wanted == SETS_WANTED ? GAMES_WANTED : GAMES_MOST;
        for (*number = first; *number < first + games && !halted(); ++*number)
            if (watch_game(watcher, seed, *number))
                return true;
    }
    return false;
}

/* --------------------------------------------------------------- hands --- */

static int explain_none(uint64_t first) {
    if (halted_by_signal())
        return STATUS_STOPPED;
    complain("none of the games %" PRIu64 " to %" PRIu64
             " of this seed has a player to read: no sets are claimed",
             first, first + GAMES_MOST - 1);
    return STATUS_USAGE;
}

static int watch_games(struct watcher *watcher, const struct sheet_deals *deals,
                       struct sheet_hands *hands) {
    uint64_t next = deals->first, number;
    while (hands->count < deals->count) {
        if (!find_game(watcher, deals->seed, next, &number))
            return explain_none(next);
        watcher->hand.number = hands->count + 1;
        watcher->hand.deal = number;
        hands->hand[hands->count++] = watcher->hand;
        next = number + 1;
    }
    return STATUS_ANSWERED;
}

static int seat_players(struct watcher *watcher, nh_way_player *player,
                        const struct sheet_deals *deals, struct sheet_hands *hands) {
    nh_deal deal;
    if (nh_deal_table(watcher->list, deals->seed, deals->first, &deal) != NH_OK)
        return too_few_tiles(watcher->list);
    for (int seat = 0; seat < NH_SEATS; seat++)
        nh_way_player_seat(player, watcher->game, seat);
    nh_game_listen(watcher->game, hear, watcher);
    return watch_games(watcher, deals, hands);
}

int hands_played(nh_workspace *workspace, nh_list *list, const struct sheet_deals *deals,
                 struct sheet_hands *hands) {
    struct watcher watcher = {.list = list, .seat = (int)deals->seat - (int)NH_WIND_EAST};
    nh_way_player *player = NULL;
    nh_way way = NH_WAY;
    int status = STATUS_USAGE;
    way.pass = NH_PASS_SPARE;
    way.claim = NH_CLAIM_ALWAYS;
    way.look = 1;
    hands->hand = calloc((size_t)deals->count, sizeof *hands->hand);
    if (hands->hand != NULL && nh_game_new(list, NULL, &watcher.game) == NH_OK &&
        nh_way_player_new(workspace, &way, NULL, &player, NULL) == NH_OK)
        status = seat_players(&watcher, player, deals, hands);
    else
        short_of_memory();
    nh_way_player_free(player);
    nh_game_free(watcher.game);
    return status;
}
