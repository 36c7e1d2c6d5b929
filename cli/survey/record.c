/* The record of a game: each event a line of JSON, enough for anyone to referee it. */
#include "io/json.h"
#include "io/message.h"
#include "io/output.h"
#include "patterns/answer_json.h"
#include "patterns/list_sets.h"
#include "survey/survey_task.h"

#include <inttypes.h>
#include <stdio.h>

struct record {
    const struct survey_key *key;
    const nh_list *list;
    uint64_t number;
};

static const char *seat_letter(int seat) {
    return nh_kind_notation(NH_EAST + seat);
}

static void text_out(struct json *json, const char *key, const char *text) {
    json_key(json, key);
    json_string(json, text);
}

static void whole_out(struct json *json, const char *key, uint64_t number) {
    json_key(json, key);
    json_unsigned(json, number);
}

static void set_out(struct json *json, const char *key, const nh_set *set) {
    char text[NH_TILES_TEXT_SIZE];
    set_text(set, text);
    text_out(json, key, text);
}

static void by_seat_out(struct json *json, const char *key, const nh_tiles *tiles) {
    json_key(json, key);
    json_open(json, '{');
    for (int seat = 0; seat < NH_SEATS; seat++)
        tiles_json(json, seat_letter(seat), &tiles[seat]);
    json_close(json, '}');
}

/* A hand that was dealt complete was won without a tile. */
static void tile_out(struct json *json, uint8_t kind) {
    text_out(json, "tile", kind < NH_KINDS ? nh_kind_notation(kind) : "");
}

/* ------------------------------------------------------------- events --- */

static void deal_out(struct json *json, const struct record *record, const nh_event *event) {
    char seed[24];
    snprintf(seed, sizeof seed, "%" PRIu64, record->key->seed);
    whole_out(json, "game", record->number);
    text_out(json, "seed", seed);
    text_out(json, "list", record->key->list);
    json_key(json, "dice");
    json_open(json, '[');
    for (int die = 0; die < 2; die++)
        json_unsigned(json, event->deal->dice[die]);
    json_close(json, ']');
    json_key(json, "prevailing");
    const char prevailing[2] = {nh_wind_letter(event->deal->prevailing), '\0'};
    json_string(json, prevailing);
    by_seat_out(json, "hands", event->hands);
    whole_out(json, "wall", event->wall);
}

static void pass_out(struct json *json, const nh_event *event) {
    whole_out(json, "round", event->step.round);
    whole_out(json, "step", event->step.pass);
    text_out(json, "direction", nh_direction_name(event->step.direction));
    by_seat_out(json, "gives", event->gives);
}

static void vote_out(struct json *json, const nh_event *event) {
    whole_out(json, "round", event->step.round);
    json_key(json, "agree");
    json_open(json, '{');
    for (int seat = 0; seat < NH_SEATS; seat++) {
        json_key(json, seat_letter(seat));
        json_bool(json, event->agrees[seat]);
    }
    json_close(json, '}');
}

static void win_out(struct json *json, const struct record *record, const nh_event *event) {
    const nh_completed *won = event->won;
    const nh_shown *shown = event->shown;
    text_out(json, "seat", seat_letter(event->seat));
    text_out(json, "by", event->claimed ? "claim" : "draw");
    if (event->claimed)
        text_out(json, "from", seat_letter(event->from));
    tile_out(json, event->kind);
    text_out(json, "pattern", nh_list_pattern(record->list, won->pattern)->name);
    json_key(json, "points");
    if (won->has_points)
        json_double(json, won->points);
    else
        json_null(json);
    tiles_json(json, "hand", &event->hands[event->seat]);
    json_key(json, "exposed");
    json_open(json, '[');
    for (unsigned i = 0; i < shown->set_count; i++) {
        char text[NH_TILES_TEXT_SIZE];
        set_text(&shown->sets[i], text);
        json_string(json, text);
    }
    json_close(json, ']');
}

static void play_out(struct json *json, const nh_event *event) {
    text_out(json, "seat", seat_letter(event->seat));
    if (event->type == NH_EVENT_CLAIM)
        text_out(json, "from", seat_letter(event->from));
    tile_out(json, event->kind);
    if (event->type == NH_EVENT_EXCHANGE)
        text_out(json, "from", seat_letter(event->from));
    if (event->type == NH_EVENT_DRAW)
        text_out(json, "why", event->kong ? "kong" : "turn");
    if (event->type == NH_EVENT_CLAIM || event->type == NH_EVENT_EXCHANGE)
        set_out(json, "set", &event->set);
}

static void hear(void *context, const nh_event *event) {
    static const char *const names[] = {
        [NH_EVENT_DEAL] = "deal",         [NH_EVENT_PASS] = "pass",
        [NH_EVENT_VOTE] = "vote",         [NH_EVENT_COURTESY] = "courtesy",
        [NH_EVENT_PLAY] = NULL,           [NH_EVENT_DRAW] = "draw",
        [NH_EVENT_EXCHANGE] = "exchange", [NH_EVENT_DISCARD] = "discard",
        [NH_EVENT_CLAIM] = "claim",       [NH_EVENT_WIN] = "win",
        [NH_EVENT_WALL] = "wall",
    };
    struct json json = {0};
    if (names[event->type] == NULL)
        return;
    json_open(&json, '{');
    text_out(&json, "event", names[event->type]);
    if (event->type == NH_EVENT_DEAL)
        deal_out(&json, context, event);
    else if (event->type == NH_EVENT_PASS)
        pass_out(&json, event);
    else if (event->type == NH_EVENT_VOTE)
        vote_out(&json, event);
    else if (event->type == NH_EVENT_COURTESY)
        by_seat_out(&json, "gives", event->gives);
    else if (event->type == NH_EVENT_WIN)
        win_out(&json, context, event);
    else if (event->type != NH_EVENT_WALL)
        play_out(&json, event);
    json_close(&json, '}');
    output_text("\n");
}

static bool play_recorded(const struct record *record, nh_game *game, nh_way_player *player) {
    nh_game_end end;
    nh_error error;
    for (int seat = 0; seat < NH_SEATS; seat++)
        nh_way_player_seat(player, game, seat);
    nh_game_listen(game, hear, (void *)record);
    if (nh_game_run(game, record->key->seed, record->number, &end, sizeof end, &error) == NH_OK)
        return true;
    complain("%s", error.text);
    return false;
}

bool survey_record(const struct survey_key *key, const nh_list *list, uint64_t number) {
    struct record record = {key, list, number};
    nh_workspace *workspace = NULL;
    nh_game *game = NULL;
    nh_way_player *player = NULL;
    bool good = nh_game_new(list, NULL, &game) == NH_OK &&
                nh_workspace_new(list, NULL, &workspace) == NH_OK &&
                nh_way_player_new(workspace, &key->way, NULL, &player, NULL) == NH_OK;
    good = good ? play_recorded(&record, game, player) : short_of_memory();
    nh_way_player_free(player);
    nh_workspace_free(workspace);
    nh_game_free(game);
    return good;
}
