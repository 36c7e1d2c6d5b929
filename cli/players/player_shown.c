/* One of the other players, for people and for programs. */
#include "players/player_shown.h"
#include "patterns/answer_json.h"
#include "patterns/list_sets.h"

void player_sets_add(struct text *text, const struct other_player *player) {
    size_t count;
    const nh_set *sets = nh_list_sets(player->list, &count);
    for (size_t i = 0; i < count; i++) {
        char set[NH_TILES_TEXT_SIZE];
        set_text(&sets[i], set);
        text_add_format(text, "%s%s", i > 0 ? " " : "", set);
    }
}

/* Of a player who can make nothing: what may be wrong, and that no danger is theirs. */
static void doubt_add(struct text *text, const struct players_reading *reading, size_t index,
                      bool numbered) {
    if (!reading->misfit[index])
        text_add(text,
                 " None can be one tile short with so many tiles hidden or gone: check them.");
    if (numbered && players_reading_ready(reading))
        text_add(text, " The dangers are those of the other players.");
}

void player_add(struct text *text, const struct other_players *players,
                const struct players_reading *reading, size_t index, bool numbered) {
    const struct other_player *player = &players->player[index];
    const nh_reading *read = reading->reading[index];
    size_t count, all = nh_list_size(player->list);
    nh_list_sets(player->list, &count);
    if (numbered)
        text_add_format(text, "Player %zu: ", index + 1);
    player_sets_add(text, player);
    text_add(text, count > 0 ? " on the table, " : "Nothing on the table, ");
    text_add_format(text, "%d tile%s hidden", read->hidden, plural((size_t)read->hidden));
    if (reading->misfit[index])
        text_add(text, ". No pattern of this list goes with these sets: check them.");
    else
        text_add_format(text, ": %zu of %zu pattern%s left.", read->patterns, all, plural(all));
    if (read->patterns == 0)
        doubt_add(text, reading, index, numbered);
}

void count_json(struct json *json, const char *key, const nh_natural *number, bool counted) {
    char text[NH_NATURAL_TEXT_SIZE];
    json_key(json, key);
    nh_natural_format(number, text, sizeof text);
    json_string(json, counted ? text : NULL);
}

void player_json(struct json *json, const struct other_players *players,
                 const struct players_reading *reading, size_t index) {
    const nh_reading *read = reading->reading[index];
    exposed_json(json, players->player[index].list);
    json_key(json, "hidden");
    json_unsigned(json, (uint64_t)read->hidden);
    count_json(json, "hands", &read->hands, true);
    count_json(json, "ready", &read->ready, read->status == NH_OK);
}
