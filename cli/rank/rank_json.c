/* The answer of rank for programs: one JSON object. */
#include "io/json.h"
#include "io/output.h"
#include "patterns/answer_json.h"
#include "rank/rank_task.h"

/* The keys that are the same for every hand; the object stays open. */
void rank_json_pattern(const nh_pattern *pattern) {
    struct json json = {0};
    pattern_json(&json, pattern);
}

static void target_out(struct json *json, const struct rank_answer *answer, const nh_ranked *row) {
    json_open(json, '{');
    rank_columns_out(answer->question, row->pattern);
    json->comma = true;
    json_key(json, "away");
    json_unsigned(json, row->away);
    tiles_json(json, "target", &row->target);
    groups_json(json, &answer->layouts[row - answer->rows]);
    tiles_json(json, "keep", &row->keep);
    tiles_json(json, "need", &row->need);
    tiles_json(json, "spare", &row->spare);
    json_key(json, "chance");
    json_double(json, row->chance);
    json_key(json, "chance_exact");
    naturals_json(json, &row->completing, &answer->ranking.draws);
    if (answer->question->order == NH_ORDER_WORTH) {
        json_key(json, "worth");
        if (nh_list_pattern(answer->question->list, row->pattern)->has_points)
            json_double(json, rank_worth(answer, row));
        else
            json_null(json);
    }
    json_key(json, "concealed");
    json_bool(json, nh_list_pattern(answer->question->list, row->pattern)->concealed);
    tiles_json(json, "joked", &row->joked);
    wind_json(json, "prevailing", row->prevailing);
    wind_json(json, "seat", row->seat);
    json_close(json, '}');
}

static void section_out(struct json *json, const struct rank_answer *answer,
                        const struct rank_section *section) {
    json_open(json, '{');
    json_key(json, "section");
    json_string(json, section->name);
    json_key(json, "patterns");
    json_unsigned(json, section->patterns);
    json_key(json, "live");
    json_unsigned(json, section->live);
    json_key(json, "within_one");
    json_unsigned(json, section->within_one);
    json_key(json, "best");
    target_out(json, answer, section->best);
    json_close(json, '}');
}

/* The rows: targets, or sections. */
static void rows_out(struct json *json, const struct rank_answer *answer) {
    bool by_section = answer->question->by == BY_SECTION;
    json_key(json, by_section ? "sections" : "targets");
    json_open(json, '[');
    for (size_t row = 0; !by_section && row < answer->ranking.rows; row++)
        target_out(json, answer, &answer->rows[row]);
    for (size_t i = 0; i < answer->sections_shown; i++)
        section_out(json, answer, &answer->sections[i]);
    json_close(json, ']');
}

static void dead_out(const char *name, void *context) {
    json_string(context, name);
}

static void ranking_out(struct json *json, const struct rank_answer *answer) {
    const nh_ranking *ranking = &answer->ranking;
    json_key(json, "nearest");
    if (ranking->live > 0)
        json_unsigned(json, ranking->nearest);
    else
        json_null(json);
    json_key(json, "within_one");
    json_unsigned(json, ranking->within_one);
    json_key(json, "draws");
    json_unsigned(json, (unsigned long)answer->question->draws);
    json_key(json, "unseen");
    json_unsigned(json, ranking->unseen);
    json_key(json, "dead");
    json_open(json, '[');
    rank_dead(answer, DEAD_ANYHOW, dead_out, json);
    json_close(json, ']');
}

void rank_json(const struct rank_answer *answer) {
    struct json json = {0};
    json_answer(&json);
    tiles_json(&json, "hand", &answer->hand);
    json_key(&json, "tiles");
    json_unsigned(&json, (unsigned long)nh_tiles_total(&answer->hand));
    rows_out(&json, answer);
    if (answer->line->label != NULL) {
        json_key(&json, "label");
        json_bytes(&json, answer->line->label, answer->line->label_length);
    }
    ranking_out(&json, answer);
    json_close(&json, '}');
    output_text("\n");
}
