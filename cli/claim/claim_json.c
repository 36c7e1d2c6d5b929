/* The answer of claim for programs: one JSON object. */
#include "claim/claim_task.h"
#include "io/output.h"
#include "patterns/answer_json.h"

static void chance_out(struct json *json, double chance, const nh_natural *completing,
                       const nh_natural *draws) {
    json_key_double(json, "chance", chance);
    json_key(json, "chance_exact");
    naturals_json(json, completing, draws);
}

static void use_out(struct json *json, const nh_claim *claim) {
    char set[NH_TILES_TEXT_SIZE];
    json_key_string(json, "use", claim_use_word(claim));
    json_key(json, "set");
    if (claim->use == NH_CLAIM_WIN) {
        json_null(json);
        return;
    }
    set_text(&claim->set, set);
    json_string(json, set);
}

static void given_up_out(struct json *json, const nh_list *list, const nh_claim *claim) {
    json_key(json, "gives_up");
    json_open(json, '[');
    for (size_t i = 0; i < claim->given_up_count && i < NH_GIVEN_UP_MAX; i++)
        json_string(json, nh_list_pattern(list, claim->given_up[i])->name);
    json_close(json, ']');
    json_key_unsigned(json, "gives_up_count", claim->given_up_count);
}

static void claim_out(struct json *json, const struct claim_answer *answer, const nh_claim *claim) {
    const nh_list *list = answer->question->list;
    json_open(json, '{');
    json_key_string(json, "tile", nh_kind_notation(claim->kind));
    use_out(json, claim);
    away_json(json, "away", claim->away);
    chance_out(json, claim->chance, &claim->completing, &answer->claiming.claim_draws);
    json_key_string(json, "discard",
                    claim->discard < NH_KINDS ? nh_kind_notation(claim->discard) : NULL);
    json_key_string(json, "pattern", nh_list_pattern(list, claim->pattern)->name);
    json_key_bool(json, "worth", claim->worth);
    json_key_unsigned(json, "unseen", claim->copies);
    given_up_out(json, list, claim);
    json_close(json, '}');
}

void claim_json(const struct claim_answer *answer) {
    const nh_claiming *claiming = &answer->claiming;
    const nh_list *list = answer->question->list;
    size_t top = answer->question->top;
    struct json json = {0};
    json_answer(&json);
    tiles_json(&json, "hand", &answer->hand);
    exposed_json(&json, list);
    away_json(&json, "away", claiming->away);
    chance_out(&json, claiming->chance, &claiming->completing, &claiming->draws);
    json_key_string(
        &json, "pattern",
        claiming->away == NH_AWAY_NONE ? NULL : nh_list_pattern(list, claiming->pattern)->name);
    json_key(&json, "claims");
    json_open(&json, '[');
    for (size_t i = 0; i < claiming->rows && i < top; i++)
        claim_out(&json, answer, &answer->claims[i]);
    json_close(&json, ']');
    if (answer->line->label != NULL) {
        json_key(&json, "label");
        json_bytes(&json, answer->line->label, answer->line->label_length);
    }
    json_key_unsigned(&json, "claim_count", claiming->claims);
    json_key_string(&json, "chow_from", nh_list_play(list)->chow_from_any ? "any" : "left");
    exchanges_json(&json, &answer->exchanges);
    json_key_unsigned(&json, "draws", (uint64_t)answer->question->draws);
    json_key_unsigned(&json, "unseen", claiming->unseen);
    json_close(&json, '}');
    output_text("\n");
}
