/* Targets that another player can have, as examples of the patterns that are left. */
#include "players/player_targets.h"
#include "patterns/row_layouts.h"

#include <stdlib.h>
#include <string.h>

bool target_finder_start(struct target_finder *finder, const nh_list *list) {
    size_t size = nh_list_size(list);
    *finder = (struct target_finder){.ranked = malloc(size * sizeof *finder->ranked),
                                     .chosen = malloc(size)};
    return finder->ranked != NULL && finder->chosen != NULL &&
           nh_workspace_new(list, NULL, &finder->workspace) == NH_OK;
}

void target_finder_end(struct target_finder *finder) {
    nh_workspace_free(finder->workspace);
    free(finder->ranked);
    free(finder->chosen);
}

/* What is asked for. */
struct wanted {
    const struct other_players *players;
    const nh_list *list; /* less the sets of the player */
    const nh_reading *reading;
    size_t count;
    nh_ranked *rows;
};

static bool lacks_tiles(const nh_ranked *row) {
    return nh_tiles_total(&row->target) == 0;
}

/* Takes a ranked row over; a target of another size than is hidden is none that the player
 * can have. */
static void fill_target_row(const struct wanted *wanted, const nh_ranked *ranked) {
    if (nh_tiles_total(&ranked->target) != wanted->reading->hidden + 1)
        return;
    for (size_t i = 0; i < wanted->count; i++)
        if (wanted->rows[i].pattern == ranked->pattern) {
            wanted->rows[i] = *ranked;
            wanted->rows[i].keep = ranked->target;
            wanted->rows[i].need = (nh_tiles){{0}};
        }
}

/* Fills rows that have no target yet. For an empty hand the best target is the likeliest
 * one. */
static nh_status fill_target_rows(struct target_finder *finder, const struct wanted *wanted,
                                  const nh_situation *situation, nh_error *error) {
    nh_rank_question question = NH_RANK_QUESTION;
    nh_ranking ranking;
    const nh_tiles none = {{0}};
    size_t size = nh_list_size(wanted->list);
    memset(finder->chosen, 0, size);
    for (size_t i = 0; i < wanted->count; i++)
        finder->chosen[wanted->rows[i].pattern] = lacks_tiles(&wanted->rows[i]);
    question.situation = situation;
    question.chosen = finder->chosen;
    question.cancel = wanted->players->cancel;
    nh_status status =
        nh_rank(finder->workspace, &none, &question, finder->ranked, size, &ranking, error);
    for (size_t i = 0; status == NH_OK && i < ranking.rows; i++)
        fill_target_row(wanted, &finder->ranked[i]);
    return status;
}

/* A hidden hand may wait for a tile of which all that are left are one's own. */
static nh_status fill_by_own(struct target_finder *finder, const struct wanted *wanted,
                             const nh_situation *situation, const nh_tiles *hand, nh_error *error) {
    nh_status status = NH_OK;
    bool lacks = false;
    for (size_t i = 0; i < wanted->count; i++)
        lacks = lacks || lacks_tiles(&wanted->rows[i]);
    for (int kind = 0; lacks && kind < NH_JOKER && status == NH_OK; kind++) {
        nh_situation one = *situation;
        if (hand->count[kind] == 0)
            continue;
        one.seen.count[kind]--;
        status = fill_target_rows(finder, wanted, &one, error);
    }
    return status;
}

nh_status player_targets_find(struct target_finder *finder, const struct other_players *players,
                              size_t player, const nh_reading *reading, const nh_tiles *hand,
                              size_t count, nh_ranked *rows, nh_layout *layouts, nh_error *error) {
    const struct wanted wanted = {players, players->player[player].list, reading, count, rows};
    nh_situation situation = players->player[player].situation;
    nh_tiles_add(&situation.seen, hand);
    for (size_t i = 0; i < count; i++)
        rows[i] = (nh_ranked){.pattern = nh_reading_pattern(reading, i)->pattern};
    nh_status status = fill_target_rows(finder, &wanted, &situation, error);
    if (status == NH_OK)
        status = fill_by_own(finder, &wanted, &situation, hand, error);
    if (status == NH_OK)
        lay_out_rows(wanted.list, rows, count, layouts);
    return status;
}
