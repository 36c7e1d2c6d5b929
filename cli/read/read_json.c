/* The answer of read for programs: one JSON object. */
#include "io/json.h"
#include "io/output.h"
#include "patterns/answer_json.h"
#include "players/player_shown.h"
#include "read/read_task.h"

static void share_out(struct json *json, const char *key, double share, bool counted) {
    json_key(json, key);
    if (counted)
        json_double(json, share);
    else
        json_null(json);
}

static void patterns_out(struct json *json, const nh_list *list, const nh_reading *reading) {
    json_key(json, "patterns");
    json_open(json, '[');
    for (size_t i = 0; i < reading->patterns; i++) {
        const nh_read_pattern *row = nh_reading_pattern(reading, i);
        json_open(json, '{');
        pattern_json(json, nh_list_pattern(list, row->pattern));
        count_json(json, "ready", &row->ready, row->status == NH_OK);
        share_out(json, "share", row->share, reading->status == NH_OK);
        json_close(json, '}');
    }
    json_close(json, ']');
}

static void tile_open(struct json *json, uint8_t kind, uint8_t mine, uint8_t unseen) {
    json_open(json, '{');
    json_key(json, "tile");
    json_string(json, nh_kind_notation(kind));
    json_key(json, "mine");
    json_unsigned(json, mine);
    json_key(json, "unseen");
    json_unsigned(json, unseen);
}

/* The keys of one player. */
static void player_out(struct json *json, const struct read_answer *answer, size_t index) {
    const nh_list *list = answer->question->players.player[index].list;
    const nh_reading *reading = answer->players.reading[index];
    player_json(json, &answer->question->players, &answer->players, index);
    patterns_out(json, list, reading);
    json_key(json, "tiles");
    json_open(json, '[');
    for (size_t i = 0; i < reading->tiles; i++) {
        const nh_read_tile *row = nh_reading_tile(reading, i);
        tile_open(json, row->kind, row->mine, row->unseen);
        count_json(json, "wins", &row->wins, true);
        share_out(json, "danger", row->danger, true);
        json_close(json, '}');
    }
    json_close(json, ']');
}

static void players_out(struct json *json, const struct read_answer *answer) {
    json_key(json, "players");
    json_open(json, '[');
    for (size_t i = 0; i < answer->question->players.count; i++) {
        json_open(json, '{');
        player_out(json, answer, i);
        json_close(json, '}');
    }
    json_close(json, ']');
    json_key(json, "tiles");
    json_open(json, '[');
    for (size_t i = 0; i < answer->players.tile_count; i++) {
        const struct tile_danger *tile = &answer->players.tiles[i];
        tile_open(json, tile->kind, tile->mine, tile->unseen);
        share_out(json, "danger", tile->danger, true);
        json_close(json, '}');
    }
    json_close(json, ']');
}

void reading_json(const struct read_answer *answer) {
    struct json json = {0};
    json_answer(&json);
    if (answer->question->several)
        players_out(&json, answer);
    else
        player_out(&json, answer, 0);
    tiles_json(&json, "hand", &answer->hand);
    if (answer->line != NULL && answer->line->label != NULL) {
        json_key(&json, "label");
        json_bytes(&json, answer->line->label, answer->line->label_length);
    }
    json_close(&json, '}');
    output_text("\n");
}
