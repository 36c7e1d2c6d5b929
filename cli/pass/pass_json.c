/* The answer of pass for programs: one JSON object. */
#include "io/json.h"
#include "io/output.h"
#include "pass/pass_task.h"
#include "patterns/answer_json.h"

static void expected_out(struct json *json, const struct pass_choice *choice) {
    if (!pass_is_dead(choice)) {
        fraction_json(json, "expected", choice->choice.expected, choice->draws);
        return;
    }
    json_key(json, "expected");
    json_null(json);
    json_key(json, "expected_exact");
    json_null(json);
}

static void keeps_out(struct json *json, const struct pass_answer *answer,
                      const struct pass_choice *choice) {
    const nh_list *list = answer->question->list;
    json_key(json, "keeps");
    json_open(json, '[');
    for (size_t i = 0; i < choice->keep_count; i++)
        json_string(json, nh_list_pattern(list, answer->kept[choice->keeps + i])->name);
    json_close(json, ']');
}

static void ahead_out(struct json *json, const struct pass_answer *answer,
                      const struct pass_choice *choice) {
    if (choice->ahead.courses == 0)
        return;
    struct estimate estimate = pass_estimate(&choice->ahead);
    json_key(json, "ahead");
    json_open(json, '{');
    json_key_unsigned(json, "further", answer->question->further);
    json_key_unsigned(json, "courses", choice->ahead.courses);
    json_key_double(json, "estimate", estimate.away);
    json_key_double(json, "error", estimate.error);
    json_close(json, '}');
}

/* Within an object that is open. */
static void choice_out(struct json *json, const struct pass_answer *answer,
                       const struct pass_choice *choice) {
    tiles_json(json, "pass", &choice->choice.pass);
    expected_out(json, choice);
    fraction_json(json, "nearer", choice->choice.nearer, choice->draws);
    away_json(json, "away", choice->choice.away);
    keeps_out(json, answer, choice);
    ahead_out(json, answer, choice);
}

static void choices_out(struct json *json, const struct pass_answer *answer) {
    json_key(json, "choices");
    json_open(json, '[');
    for (size_t i = 0; i < answer->shown; i++) {
        json_open(json, '{');
        choice_out(json, answer, &answer->choices[i]);
        json_close(json, '}');
    }
    json_close(json, ']');
}

static void mine_out(struct json *json, const struct pass_answer *answer) {
    const struct pass_choice *best = &answer->choices[0];
    json_key(json, "mine");
    json_open(json, '{');
    choice_out(json, answer, answer->mine);
    json_key_unsigned(json, "place", answer->place);
    if (pass_is_dead(answer->mine)) {
        json_key(json, "cost");
        json_null(json);
        json_key(json, "cost_exact");
        json_null(json);
    } else {
        struct fraction cost = pass_cost(answer->mine, best);
        fraction_json(json, "cost", cost.part, cost.whole);
    }
    json_close(json, '}');
}

/* The best pass of each number of tiles. */
static void counts_out(struct json *json, const struct pass_answer *answer, const char *key) {
    json_key(json, key);
    json_open(json, '[');
    for (unsigned i = 0; i < answer->counts; i++) {
        unsigned count = answer->question->least + i;
        const struct pass_choice *best = &answer->choices[answer->first_of[count]];
        json_open(json, '{');
        json_key_unsigned(json, "count", count);
        choice_out(json, answer, best);
        json_close(json, '}');
    }
    json_close(json, ']');
}

static void agree_out(struct json *json, const struct pass_answer *answer) {
    json_key(json, "agree");
    json_open(json, '{');
    expected_out(json, &answer->choices[0]);
    away_json(json, "stop", answer->away);
    json_key(json, "stopping");
    json_open(json, '[');
    for (unsigned theirs = 0; theirs < answer->stops; theirs++) {
        json_open(json, '{');
        json_key_unsigned(json, "theirs", theirs);
        tiles_json(json, "pass", &answer->stopping[theirs].choice.pass);
        expected_out(json, &answer->stopping[theirs]);
        json_close(json, '}');
    }
    json_close(json, ']');
    json_close(json, '}');
}

/* The key is there only where sets are: most rules lay none before the passes are over. */
static void sets_out(struct json *json, const nh_list *list) {
    size_t sets;
    nh_list_sets(list, &sets);
    if (sets > 0)
        exposed_json(json, list);
}

static void place_out(struct json *json, const struct walk *walk, const char *key,
                      unsigned number) {
    json_key(json, key);
    if (walk_in_courtesy(walk))
        json_null(json);
    else
        json_unsigned(json, number);
}

static void walk_out(struct json *json, const struct pass_answer *answer) {
    const struct walk *walk = &answer->question->walk;
    bool courtesy = walk_in_courtesy(walk);
    place_out(json, walk, "round", walk->step.round);
    place_out(json, walk, "step", walk->step.pass);
    json_key_string(json, "direction", courtesy ? NULL : nh_direction_name(walk->step.direction));
    json_key_bool(json, "optional", courtesy || walk_optional(walk));
    json_key_unsigned(json, "remaining", walk->left);
    json_key_unsigned(json, "remaining_optional", walk->left_optional);
    if (walk_at_agreement(walk))
        agree_out(json, answer);
}

void pass_json(const struct pass_answer *answer) {
    const struct pass_question *question = answer->question;
    const struct pass_choice *best = &answer->choices[0];
    struct json json = {0};
    json_answer(&json);
    tiles_json(&json, "hand", &answer->hand);
    sets_out(&json, question->list);
    json_key_unsigned(&json, "count", (uint64_t)nh_tiles_total(&best->choice.pass));
    away_json(&json, "away", answer->away);
    tiles_json(&json, "pass", &best->choice.pass);
    expected_out(&json, best);
    choices_out(&json, answer);
    if (answer->line->label != NULL) {
        json_key(&json, "label");
        json_bytes(&json, answer->line->label, answer->line->label_length);
    }
    json_key_unsigned(&json, "passes", answer->passes);
    json_key_unsigned(&json, "tiles", (uint64_t)nh_tiles_total(&answer->hand));
    if (answer->mine != NULL)
        mine_out(&json, answer);
    if (question->most > question->least)
        counts_out(&json, answer, walk_in_courtesy(&question->walk) ? "courtesy" : "blind");
    if (question->walk.on)
        walk_out(&json, answer);
    json_close(&json, '}');
    output_text("\n");
}
