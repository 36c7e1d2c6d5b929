/* The answer of discard for programs: one JSON object. */
#include "discard/discard_task.h"
#include "io/json.h"
#include "io/output.h"
#include "patterns/answer_json.h"
#include "players/player_shown.h"

static void expected_out(struct json *json, const struct discard_answer *answer,
                         const struct discard_choice *choice) {
    if (choice->figures.away != NH_AWAY_NONE) {
        fraction_json(json, "expected", choice->figures.expected, answer->discarding.draws);
        return;
    }
    json_key(json, "expected");
    json_null(json);
    json_key(json, "expected_exact");
    json_null(json);
}

static void chance_out(struct json *json, const struct discard_answer *answer,
                       const struct discard_choice *choice) {
    const nh_discard_choice *figures = &choice->figures;
    const nh_list *list = answer->question->list;
    bool live = figures->away != NH_AWAY_NONE;
    json_key(json, "chance");
    json_double(json, figures->chance);
    json_key(json, "chance_exact");
    naturals_json(json, &figures->completing, &answer->discarding.chance_draws);
    json_key(json, "pattern");
    json_string(json, live ? nh_list_pattern(list, figures->pattern)->name : NULL);
    if (answer->question->order != NH_DISCARD_WORTH)
        return;
    json_key(json, "worth");
    if (live && nh_list_pattern(list, figures->pattern)->has_points)
        json_double(json, discard_worth(answer, choice));
    else
        json_null(json);
}

static void danger_out(struct json *json, const struct discard_answer *answer,
                       const struct discard_choice *choice) {
    if (!discard_reads(answer))
        return;
    json_key(json, "danger");
    if (discard_dangers_known(answer))
        json_double(json, choice->danger);
    else
        json_null(json);
}

static void choice_out(struct json *json, const struct discard_answer *answer,
                       const struct discard_choice *choice) {
    json_open(json, '{');
    json_key(json, "discard");
    json_string(json, nh_kind_notation(choice->figures.kind));
    away_json(json, "away", choice->figures.away);
    tiles_json(json, "useful", &choice->figures.useful);
    json_key(json, "useful_count");
    json_unsigned(json, choice->figures.useful_count);
    expected_out(json, answer, choice);
    chance_out(json, answer, choice);
    json_key(json, "keeps");
    json_open(json, '[');
    for (size_t i = 0; i < choice->keep_count; i++)
        json_string(json, nh_list_pattern(answer->question->list, choice->keeps[i])->name);
    json_close(json, ']');
    danger_out(json, answer, choice);
    json_close(json, '}');
}

static void choices_out(struct json *json, const struct discard_answer *answer) {
    size_t shown = discard_shown(answer);
    json_key(json, "discard");
    json_string(json, answer->count > 0 ? nh_kind_notation(answer->choices[0].figures.kind) : NULL);
    json_key(json, "choices");
    json_open(json, '[');
    for (size_t i = 0; i < shown; i++)
        choice_out(json, answer, &answer->choices[i]);
    json_close(json, ']');
}

static void completed_out(struct json *json, const struct discard_answer *answer) {
    json_key(json, "complete");
    json_open(json, '[');
    for (size_t i = 0; i < answer->completed_count; i++) {
        uint32_t pattern = answer->completed[i].pattern;
        json_string(json, nh_list_pattern(answer->question->list, pattern)->name);
    }
    json_close(json, ']');
}

/* The safest choice, and what is left for each player who is read. */
static void players_out(struct json *json, const struct discard_answer *answer) {
    const struct other_players *players = &answer->question->players;
    json_key(json, "safest");
    if (answer->safest < answer->count)
        choice_out(json, answer, &answer->choices[answer->safest]);
    else
        json_null(json);
    json_key(json, "players");
    json_open(json, '[');
    for (size_t i = 0; i < players->count && answer->players.reading[i] != NULL; i++) {
        json_open(json, '{');
        player_json(json, players, &answer->players, i);
        json_key(json, "left");
        json_unsigned(json, answer->players.reading[i]->patterns);
        json_close(json, '}');
    }
    json_close(json, ']');
}

void discard_json(const struct discard_answer *answer) {
    struct json json = {0};
    json_answer(&json);
    tiles_json(&json, "hand", &answer->hand);
    exposed_json(&json, answer->question->list);
    away_json(&json, "away", answer->discarding.away);
    choices_out(&json, answer);
    if (answer->line->label != NULL) {
        json_key(&json, "label");
        json_bytes(&json, answer->line->label, answer->line->label_length);
    }
    completed_out(&json, answer);
    exchanges_json(&json, &answer->exchanges);
    json_key(&json, "discards");
    json_unsigned(&json, answer->discarding.discards);
    json_key(&json, "tiles");
    json_unsigned(&json, (uint64_t)nh_tiles_total(&answer->hand));
    json_key(&json, "look");
    json_unsigned(&json, answer->discarding.look);
    json_key(&json, "draws");
    json_unsigned(&json, (uint64_t)answer->question->draws);
    json_key(&json, "unseen");
    json_unsigned(&json, answer->discarding.unseen);
    if (discard_reads(answer))
        players_out(&json, answer);
    json_close(&json, '}');
    output_text("\n");
}
