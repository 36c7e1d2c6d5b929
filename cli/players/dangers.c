/* How dangerous tiles are: the readings of all players together. */
#include "patterns/list_sets.h"
#include "players/players.h"

#include <stdlib.h>

static int compare_dangers(const void *left, const void *right) {
    const struct tile_danger *a = left, *b = right;
    if ((a->mine > 0) != (b->mine > 0))
        return a->mine > 0 ? -1 : 1;
    if (a->danger < b->danger || a->danger > b->danger)
        return a->danger > b->danger ? -1 : 1;
    return a->kind < b->kind ? -1 : 1;
}

/* The danger from the players before, and from this one where those are not completed. */
static void join_dangers(const struct other_players *players, const nh_tiles *hand,
                         struct players_reading *all) {
    double danger[NH_KINDS] = {0};
    bool listed[NH_KINDS] = {false};
    const nh_tiles *set = nh_list_set(players->whole);
    all->counted = true;
    for (size_t i = 0; i < players->count; i++) {
        const nh_reading *reading = all->reading[i];
        all->counted = all->counted && reading->status == NH_OK;
        for (size_t j = 0; j < reading->tiles; j++) {
            const nh_read_tile *tile = nh_reading_tile(reading, j);
            listed[tile->kind] = true;
            danger[tile->kind] += (1.0 - danger[tile->kind]) * tile->danger;
        }
    }
    for (int kind = 0; kind < NH_KINDS && all->counted; kind++) {
        int unseen = set->count[kind] - players->gone.count[kind] - hand->count[kind];
        if (listed[kind])
            all->tiles[all->tile_count++] = (struct tile_danger){(uint8_t)kind, hand->count[kind],
                                                                 (uint8_t)unseen, danger[kind]};
    }
    qsort(all->tiles, all->tile_count, sizeof *all->tiles, compare_dangers);
}

/* Of a player who can make nothing: whether that is because of their sets alone. */
static nh_status find_misfit(const nh_list *list, bool *misfit) {
    size_t left = 0;
    uint8_t *possible = malloc(nh_list_size(list));
    nh_status status = possible == NULL ? NH_ERROR_MEMORY : sets_possible(list, possible, &left);
    free(possible);
    *misfit = status == NH_OK && left == 0;
    return status;
}

nh_status players_reading_find(const struct other_players *players, const nh_tiles *hand,
                               struct players_reading *reading, nh_error *error) {
    nh_status status = NH_OK;
    *reading = (struct players_reading){0};
    for (size_t i = 0; i < players->count && status == NH_OK; i++) {
        nh_read_question question = NH_READ_QUESTION;
        question.mine = hand;
        question.situation = &players->player[i].situation;
        question.hidden = players->hidden;
        question.cancel = players->cancel;
        status = nh_read(players->player[i].list, &question, NULL, &reading->reading[i], error);
        if (status == NH_OK && reading->reading[i]->patterns == 0)
            status = find_misfit(players->player[i].list, &reading->misfit[i]);
    }
    if (status == NH_OK)
        join_dangers(players, hand, reading);
    return status;
}

void players_reading_free(struct players_reading *reading) {
    for (size_t i = 0; i < PLAYERS_MOST; i++)
        nh_reading_free(reading->reading[i]);
    *reading = (struct players_reading){0};
}

bool players_reading_ready(const struct players_reading *reading) {
    bool ready = false;
    for (size_t i = 0; i < PLAYERS_MOST && reading->reading[i] != NULL; i++)
        ready = ready || reading->reading[i]->patterns > 0;
    return ready;
}

double players_danger(const struct players_reading *reading, uint8_t kind) {
    double danger = 0.0;
    for (size_t i = 0; i < reading->tile_count; i++)
        if (reading->tiles[i].kind == kind)
            danger = reading->tiles[i].danger;
    return danger;
}
