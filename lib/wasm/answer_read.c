/* The question "read": what another player can still be making, and which tile is
 * dangerous. "exposed" are their sets, "hand" one's own tiles, if any. */
#include "wasm/answer_json.h"
#include "wasm/asked.h"

#include <string.h>

static void add_read_patterns(const struct asked *asked, cJSON *answer, const nh_reading *reading) {
    cJSON *patterns = cJSON_AddArrayToObject(answer, "patterns");
    for (size_t i = 0; i < reading->patterns; i++) {
        const nh_read_pattern *row = nh_reading_pattern(reading, i);
        cJSON *object = cJSON_CreateObject();
        cJSON_AddItemToArray(patterns, object);
        add_pattern(object, nh_list_pattern(asked->list, row->pattern));
        if (row->status == NH_OK) {
            add_natural(object, "ready", &row->ready);
            add_double(object, "share", row->share);
        } else {
            cJSON_AddNullToObject(object, "ready");
            cJSON_AddNullToObject(object, "share");
        }
    }
}

static void add_danger_tiles(cJSON *answer, const nh_reading *reading) {
    cJSON *tiles = cJSON_AddArrayToObject(answer, "tiles");
    for (size_t i = 0; i < reading->tiles; i++) {
        const nh_read_tile *row = nh_reading_tile(reading, i);
        cJSON *object = cJSON_CreateObject();
        cJSON_AddItemToArray(tiles, object);
        cJSON_AddStringToObject(object, "tile", nh_kind_notation(row->kind));
        cJSON_AddNumberToObject(object, "mine", row->mine);
        cJSON_AddNumberToObject(object, "unseen", row->unseen);
        add_natural(object, "wins", &row->wins);
        add_double(object, "danger", row->danger);
    }
}

bool answer_read(struct asked *asked, cJSON *answer) {
    nh_read_question question = NH_READ_QUESTION;
    nh_reading *reading;
    nh_tiles mine;
    if (!asked_read(asked, false) || !asked_tiles(asked, "hand", &mine) ||
        !asked_whole(asked, "hidden", 0, NH_TARGET_MAX - 1, NH_HIDDEN_AS_LIST, &question.hidden))
        return false;
    question.mine = &mine;
    question.situation = &asked->situation;
    if (nh_read(asked->list, &question, NULL, &reading, &asked->error) != NH_OK)
        return false;
    add_exposed(answer, asked->list);
    cJSON_AddNumberToObject(answer, "hidden", reading->hidden);
    add_natural(answer, "hands", &reading->hands);
    if (reading->status == NH_OK)
        add_natural(answer, "ready", &reading->ready);
    else
        cJSON_AddNullToObject(answer, "ready");
    add_read_patterns(asked, answer, reading);
    add_danger_tiles(answer, reading);
    add_tiles(answer, "hand", &mine);
    nh_reading_free(reading);
    return true;
}
