/* The question "read": what another player can still be making, and which tile is
 * dangerous. "exposed" are their sets, "hand" one's own tiles, if any. */
#include "wasm/answer_json.h"
#include "wasm/asked.h"

#include <string.h>

static void add_read_patterns(const struct asked *asked, struct answer *answer,
                              const nh_reading *reading) {
    open_array(answer, "patterns");
    for (size_t i = 0; i < reading->patterns; i++) {
        const nh_read_pattern *row = nh_reading_pattern(reading, i);
        open_object(answer, NULL);
        add_pattern(answer, nh_list_pattern(asked->list, row->pattern));
        if (row->status == NH_OK) {
            add_natural(answer, "ready", &row->ready);
            add_double(answer, "share", row->share);
        } else {
            add_null(answer, "ready");
            add_null(answer, "share");
        }
        close_object(answer);
    }
    close_array(answer);
}

static void add_danger_tiles(struct answer *answer, const nh_reading *reading) {
    open_array(answer, "tiles");
    for (size_t i = 0; i < reading->tiles; i++) {
        const nh_read_tile *row = nh_reading_tile(reading, i);
        open_object(answer, NULL);
        add_text(answer, "tile", nh_kind_notation(row->kind));
        add_whole(answer, "mine", row->mine);
        add_whole(answer, "unseen", row->unseen);
        add_natural(answer, "wins", &row->wins);
        add_double(answer, "danger", row->danger);
        close_object(answer);
    }
    close_array(answer);
}

bool answer_read(struct asked *asked, struct answer *answer) {
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
    add_whole(answer, "hidden", reading->hidden);
    add_natural(answer, "hands", &reading->hands);
    if (reading->status == NH_OK)
        add_natural(answer, "ready", &reading->ready);
    else
        add_null(answer, "ready");
    add_read_patterns(asked, answer, reading);
    add_danger_tiles(answer, reading);
    add_tiles(answer, "hand", &mine);
    nh_reading_free(reading);
    return true;
}
