/* The answer of check for programs: one JSON object. */
#include "check/check_task.h"
#include "io/output.h"
#include "patterns/answer_json.h"

static void row_out(struct json *json, const struct check_row *row) {
    const nh_ranked *ranked = &row->ranked;
    json_open(json, '{');
    pattern_json(json, &row->about);
    tiles_json(json, "target", &ranked->target);
    tiles_json(json, "joked", &ranked->joked);
    groups_json(json, &row->layout);
    tiles_json(json, "need", &ranked->need);
    tiles_json(json, "spare", &ranked->spare);
    wind_json(json, "prevailing", ranked->prevailing);
    wind_json(json, "seat", ranked->seat);
    json_close(json, '}');
}

static void without_sets_out(struct json *json, const struct check_answer *answer) {
    json_key(json, "without_sets");
    json_open(json, '[');
    for (size_t i = 0; i < answer->without_count; i++)
        json_string(json,
                    nh_list_pattern(answer->question->list, answer->without_sets[i].pattern)->name);
    json_close(json, ']');
}

void check_json(const struct check_answer *answer) {
    struct json json = {0};
    json_answer(&json);
    tiles_json(&json, "hand", &answer->hand);
    exposed_json(&json, answer->question->list);
    json_key_bool(&json, "complete", answer->complete);
    json_key(&json, "patterns");
    json_open(&json, '[');
    for (size_t i = 0; i < answer->row_count; i++)
        row_out(&json, &answer->rows[i]);
    json_close(&json, ']');
    if (answer->line->label != NULL) {
        json_key(&json, "label");
        json_bytes(&json, answer->line->label, answer->line->label_length);
    }
    away_json(&json, "nearest", answer->nearest);
    json_key_unsigned(&json, "tiles", (unsigned long)nh_tiles_total(&answer->hand));
    json_key_unsigned(&json, "whole", (unsigned long)answer->whole);
    without_sets_out(&json, answer);
    json_close(&json, '}');
    output_text("\n");
}
