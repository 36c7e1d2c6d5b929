/* The game of a round that the history holds. */
#include "history/review_items.h"
#include "history/review_read.h"

#include <string.h>

#define TURNS_MOST 1000

/* A tile by its notation. */
static bool read_kind(const cJSON *object, const char *key, uint8_t *kind) {
    nh_tiles tiles;
    if (!read_tiles(object, key, &tiles) || nh_tiles_total(&tiles) != 1)
        return false;
    for (*kind = 0; tiles.count[*kind] == 0;)
        ++*kind;
    return true;
}

static bool read_discard(const cJSON *object, struct review_discard *discard) {
    discard->judged = history_pass_cost(object, &discard->cost);
    return read_whole(object, "turn", TURNS_MOST, &discard->turn) &&
           read_kind(object, "mine", &discard->mine) && read_kind(object, "best", &discard->best) &&
           (!discard->judged ||
            (discard->cost >= 0 && discard->cost <= NH_TARGET_MAX &&
             read_number(object, "expected", NH_TARGET_MAX, &discard->expected) &&
             read_number(object, "best_expected", NH_TARGET_MAX, &discard->best_expected)));
}

/* "no", "win" or a set. */
static bool read_use(const cJSON *object, const char *key, bool *waits, bool *wins, nh_set *set) {
    const char *text;
    size_t count;
    if (!read_text(object, key, &text))
        return false;
    *waits = strcmp(text, "no") == 0;
    *wins = strcmp(text, "win") == 0;
    return *waits || *wins ||
           (nh_sets_parse(NULL, text, strlen(text), set, 1, &count, NULL) == NH_OK && count == 1);
}

static bool read_claim(const cJSON *object, struct review_claim *claim) {
    bool waits;
    if (!read_use(object, "mine", &waits, &claim->wins, &claim->set))
        return false;
    claim->claimed = !waits;
    claim->known = read_number(object, "chance", 1, &claim->chance);
    return read_whole(object, "turn", TURNS_MOST, &claim->turn) &&
           read_kind(object, "tile", &claim->kind) &&
           read_use(object, "best", &claim->best_waits, &claim->best_wins, &claim->best_set) &&
           read_number(object, "best_chance", 1, &claim->best_chance);
}

static bool read_end(const cJSON *game, const char *seat, struct review_play *play) {
    if (!read_whole(game, "turns", TURNS_MOST, &play->turns))
        return false;
    if (!read_text(game, "winner", &play->winner))
        return true;
    play->mine = strcmp(play->winner, seat) == 0;
    read_text(game, "from", &play->from);
    play->has_points = read_number(game, "points", 1e15, &play->points);
    return read_text(game, "pattern", &play->pattern);
}

bool review_play_read(const cJSON *round, struct review_play *play) {
    const cJSON *game = item_of(round, "game");
    const cJSON *array;
    const cJSON *item;
    const char *seat;
    play->played = game != NULL;
    if (!play->played)
        return true;
    if (!read_array(game, "discards", REVIEW_DISCARDS_MAX, &array))
        return false;
    cJSON_ArrayForEach(item, array) {
        if (!read_discard(item, &play->discard[play->discards++]))
            return false;
    }
    if (!read_array(game, "claims", REVIEW_CLAIMS_MAX, &array))
        return false;
    cJSON_ArrayForEach(item, array) {
        if (!read_claim(item, &play->claim[play->claims++]))
            return false;
    }
    return read_text(round, "seat", &seat) && read_end(game, seat, play);
}
