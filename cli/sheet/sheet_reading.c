/* What another player can be making, for the hands of a sheet, and the words of the key. */
#include "io/text.h"
#include "patterns/list_sets.h"
#include "players/player_shown.h"
#include "players/player_targets.h"
#include "sheet/sheet_task.h"

#include <ctype.h>
#include <stdio.h>

/* ------------------------------------------------------------- answers --- */

static void sets_add(const nh_set *sets, size_t count, nh_tiles *tiles) {
    for (size_t i = 0; i < count; i++) {
        nh_tiles set;
        nh_set_tiles(&sets[i], &set);
        nh_tiles_add(tiles, &set);
    }
}

static nh_status read_sheet_player(const struct sheet_hand *hand, struct sheet_key *key) {
    const struct sheet_table *table = &hand->table;
    nh_situation known = NH_SITUATION;
    if (!players_add_sets(&key->player, table->sets, table->set_count))
        return NH_ERROR_MEMORY;
    known.seen = table->discards;
    known.prevailing = hand->prevailing;
    known.seat = table->player;
    sets_add(table->own, table->own_count, &known.seen);
    sets_add(table->others, table->other_count, &known.seen);
    players_know(&key->player, &known);
    return players_reading_find(&key->player, &hand->tiles, &key->reading, NULL);
}

/* Examples of the patterns that are shown. */
static void find_sheet_targets(const struct sheet_hand *hand, struct sheet_key *key) {
    const nh_reading *reading = key->reading.reading[0];
    struct target_finder finder;
    key->left = reading->patterns < SHEET_PATTERNS ? reading->patterns : SHEET_PATTERNS;
    if (!target_finder_start(&finder, key->player.player[0].list) ||
        player_targets_find(&finder, &key->player, 0, reading, &hand->tiles, key->left, key->rows,
                            key->layouts, NULL) != NH_OK)
        key->left = 0;
    key->more = reading->patterns - key->left;
    target_finder_end(&finder);
}

void sheet_read(nh_list *list, const struct sheet_hand *hand, struct sheet_key *key) {
    key->player = (struct other_players){.whole = list, .hidden = NH_HIDDEN_AS_LIST};
    if (read_sheet_player(hand, key) == NH_OK)
        find_sheet_targets(hand, key);
    else
        players_reading_free(&key->reading);
}

void sheet_key_free(struct sheet_key *key) {
    players_reading_free(&key->reading);
    players_free(&key->player);
}

/* --------------------------------------------------------------- words --- */

void sheet_player_name(const struct sheet_table *table, struct text *text) {
    char name[16];
    text_clear(text);
    if (table->player == NH_WIND_UNKNOWN) {
        text_add(text, "The player");
        return;
    }
    snprintf(name, sizeof name, "%s", nh_wind_name(table->player));
    name[0] = (char)toupper((unsigned char)name[0]);
    text_add(text, name);
}

void sheet_sets_add(struct text *text, const nh_set *sets, size_t count) {
    for (size_t i = 0; i < count; i++) {
        char set[NH_TILES_TEXT_SIZE];
        set_text(&sets[i], set);
        text_add_format(text, "%s%s", i > 0 ? " " : "", set);
    }
}

void sheet_player(const struct sheet_hand *hand, const struct sheet_key *key, struct text *text) {
    sheet_player_name(&hand->table, text);
    text_add(text, ": ");
    player_add(text, &key->player, &key->reading, 0, false);
}

const char *sheet_no_reading(const struct sheet_key *key) {
    return key->reading.reading[0] == NULL         ? "This player cannot be read."
           : !key->reading.counted                 ? PLAYERS_TOO_MUCH
           : !players_reading_ready(&key->reading) ? "Nothing can be said of what is dangerous."
                                                   : NULL;
}

size_t sheet_own_dangers(const struct sheet_key *key) {
    size_t own = 0;
    while (own < key->reading.tile_count && key->reading.tiles[own].mine > 0)
        own++;
    return own;
}

void sheet_share(const struct sheet_key *key, size_t index, char text[PERCENT_SIZE]) {
    const nh_reading *reading = key->reading.reading[0];
    const nh_read_pattern *row = nh_reading_pattern(reading, index);
    percent_text(row->share, nh_natural_compare(&row->ready, &reading->ready) == 0, text);
}

/* The tiles from `first` to `last`, such as "E, 5D and R". */
static void name_tiles(struct text *text, const struct tile_danger *tiles, size_t first,
                       size_t last) {
    for (size_t i = first; i <= last; i++)
        text_add_format(text, "%s%s",
                        i == first  ? ""
                        : i == last ? " and "
                                    : ", ",
                        nh_kind_notation(tiles[i].kind));
}

void sheet_safest(const struct sheet_key *key, struct text *text) {
    const struct tile_danger *tiles = key->reading.tiles;
    size_t own = sheet_own_dangers(key), first = own;
    char least[PERCENT_SIZE], most[PERCENT_SIZE];
    text_clear(text);
    if (own == 0)
        return;
    const struct tile_danger *safest = &tiles[own - 1];
    while (first > 0 && tiles[first - 1].danger <= safest->danger)
        first--;
    text_add(text, "Safest ");
    name_tiles(text, tiles, first, own - 1);
    if (safest->danger <= 0) {
        text_add(text, ": no hand that they can hide waits for ");
        text_add(text, own - first > 1 ? "them." : "it.");
        return;
    }
    percent_text(safest->danger, safest->danger >= 1.0, least);
    text_add_format(text, ": %s of the hands one tile short wait for ", least);
    if (own - first > 1)
        text_add(text, "each");
    else
        text_add_format(text, "it (%u unseen)", safest->unseen);
    if (first > 0) {
        percent_text(tiles[0].danger, tiles[0].danger >= 1.0, most);
        text_add_format(text, ", %s for %s (%u unseen)", most, nh_kind_notation(tiles[0].kind),
                        tiles[0].unseen);
    }
    text_add(text, ".");
}
