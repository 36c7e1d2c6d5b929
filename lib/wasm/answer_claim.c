/* The question "claim": which discards of others to claim. */
#include "wasm/answer_json.h"
#include "wasm/asked.h"

#define ROWS 64 /* most claims of an answer */

static void add_claim(const struct asked *asked, cJSON *claims, const nh_claim *claim,
                      const nh_claiming *claiming) {
    static const char *const uses[] = {
        [NH_CLAIM_WIN] = "win", [NH_PUNG] = "pung",     [NH_KONG] = "kong",
        [NH_QUINT] = "quint",   [NH_SEXTET] = "sextet", [NH_CHOW] = "chow"};
    cJSON *object = cJSON_CreateObject();
    cJSON_AddItemToArray(claims, object);
    cJSON_AddStringToObject(object, "tile", nh_kind_notation(claim->kind));
    cJSON_AddStringToObject(object, "use", uses[claim->use]);
    if (claim->use == NH_CLAIM_WIN)
        cJSON_AddNullToObject(object, "set");
    else
        add_set(object, "set", &claim->set);
    add_away(object, "away", claim->away);
    add_double(object, "chance", claim->chance);
    add_ratio(object, "chance_exact", &claim->completing, &claiming->claim_draws);
    add_text(object, "discard",
             claim->discard < NH_KINDS ? nh_kind_notation(claim->discard) : NULL);
    add_text(object, "pattern", nh_list_pattern(asked->list, claim->pattern)->name);
    cJSON_AddBoolToObject(object, "worth", claim->worth);
    cJSON_AddNumberToObject(object, "unseen", claim->copies);
    cJSON *given_up = cJSON_AddArrayToObject(object, "gives_up");
    for (size_t i = 0; i < claim->given_up_count && i < NH_GIVEN_UP_MAX; i++)
        cJSON_AddItemToArray(
            given_up, cJSON_CreateString(nh_list_pattern(asked->list, claim->given_up[i])->name));
    cJSON_AddNumberToObject(object, "gives_up_count", claim->given_up_count);
}

bool answer_claim(struct asked *asked, cJSON *answer) {
    nh_claim_question question = NH_CLAIM_QUESTION;
    nh_claim rows[ROWS];
    nh_claiming claiming;
    if (!asked_read(asked, true) ||
        !asked_whole(asked, "draws", 0, NH_DRAWS_MAX, NH_DRAWS_DEFAULT, &question.draws))
        return false;
    question.situation = &asked->situation;
    if (nh_claims(asked->workspace, &asked->hand, &question, rows, ROWS, &claiming,
                  &asked->error) != NH_OK)
        return false;
    add_tiles(answer, "hand", &asked->hand);
    add_exposed(answer, asked->list);
    add_away(answer, "away", claiming.away);
    add_double(answer, "chance", claiming.chance);
    add_ratio(answer, "chance_exact", &claiming.completing, &claiming.draws);
    add_text(answer, "pattern",
             claiming.away == NH_AWAY_NONE ? NULL
                                           : nh_list_pattern(asked->list, claiming.pattern)->name);
    cJSON *claims = cJSON_AddArrayToObject(answer, "claims");
    for (size_t i = 0; i < claiming.rows; i++)
        add_claim(asked, claims, &rows[i], &claiming);
    cJSON_AddNumberToObject(answer, "claim_count", (double)claiming.claims);
    add_text(answer, "chow_from", nh_list_play(asked->list)->chow_from_any ? "any" : "left");
    cJSON_AddNumberToObject(answer, "draws", question.draws);
    cJSON_AddNumberToObject(answer, "unseen", claiming.unseen);
    return true;
}
