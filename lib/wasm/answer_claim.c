/* The question "claim": which discards of others to claim. */
#include "wasm/answer_json.h"
#include "wasm/asked.h"

#define ROWS 64 /* most claims of an answer */

static void add_claim(const struct asked *asked, struct answer *answer, const nh_claim *claim,
                      const nh_claiming *claiming) {
    static const char *const uses[] = {
        [NH_CLAIM_WIN] = "win", [NH_PUNG] = "pung",     [NH_KONG] = "kong",
        [NH_QUINT] = "quint",   [NH_SEXTET] = "sextet", [NH_CHOW] = "chow"};
    open_object(answer, NULL);
    add_text(answer, "tile", nh_kind_notation(claim->kind));
    add_text(answer, "use", uses[claim->use]);
    if (claim->use == NH_CLAIM_WIN)
        add_null(answer, "set");
    else
        add_set(answer, "set", &claim->set);
    add_away(answer, "away", claim->away);
    add_double(answer, "chance", claim->chance);
    add_ratio(answer, "chance_exact", &claim->completing, &claiming->claim_draws);
    add_text(answer, "discard",
             claim->discard < NH_KINDS ? nh_kind_notation(claim->discard) : NULL);
    add_text(answer, "pattern", nh_list_pattern(asked->list, claim->pattern)->name);
    add_flag(answer, "worth", claim->worth);
    add_whole(answer, "unseen", claim->copies);
    open_array(answer, "gives_up");
    for (size_t i = 0; i < claim->given_up_count && i < NH_GIVEN_UP_MAX; i++)
        add_text(answer, NULL, nh_list_pattern(asked->list, claim->given_up[i])->name);
    close_array(answer);
    add_whole(answer, "gives_up_count", claim->given_up_count);
    close_object(answer);
}

bool answer_claim(struct asked *asked, struct answer *answer) {
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
    open_array(answer, "claims");
    for (size_t i = 0; i < claiming.rows; i++)
        add_claim(asked, answer, &rows[i], &claiming);
    close_array(answer);
    add_whole(answer, "claim_count", (int64_t)claiming.claims);
    add_text(answer, "chow_from", nh_list_play(asked->list)->chow_from_any ? "any" : "left");
    add_whole(answer, "draws", question.draws);
    add_whole(answer, "unseen", claiming.unseen);
    return true;
}
