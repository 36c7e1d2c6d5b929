/* Figures of discards and claims. */
#include "drill/play_figures.h"
#include "io/message.h"

#include <string.h>

static bool complain_of(const nh_error *error) {
    complain("the game could not be judged: %s", error->text);
    return false;
}

bool figures_of_discard(const nh_game_view *view, int kind, struct review_discard *discard) {
    nh_discard_choice choices[NH_DISCARDS_MAX];
    nh_discarding discarding;
    nh_discard_question question = NH_DISCARD_QUESTION;
    nh_error error;
    question.situation = &view->situation;
    question.order = NH_DISCARD_EXPECTED;
    if (nh_discard(view->workspace, &view->hand, &question, choices, NH_DISCARDS_MAX, &discarding,
                   &error) != NH_OK)
        return complain_of(&error);
    *discard =
        (struct review_discard){.turn = view->turn, .mine = (uint8_t)kind, .best = (uint8_t)kind};
    for (size_t i = 0; i < discarding.rows; i++) {
        if (choices[i].kind != kind || choices[i].away == NH_AWAY_NONE)
            continue;
        double draws = (double)discarding.draws;
        discard->judged = true;
        discard->best =
            choices[0].expected == choices[i].expected ? choices[i].kind : choices[0].kind;
        discard->expected = (double)choices[i].expected / draws;
        discard->best_expected = (double)choices[0].expected / draws;
        discard->cost = (double)(choices[i].expected - choices[0].expected) / draws;
    }
    return true;
}

static bool same_set(const nh_set *a, const nh_set *b) {
    return a->shape == b->shape && a->kind == b->kind && a->tiles == b->tiles &&
           a->jokers == b->jokers;
}

/* Whether the list lets the player claim a set of this shape from the player who discarded. */
static bool list_allows_claim(const nh_game_view *view, const nh_claim *claim) {
    const nh_play_rules *rules = nh_list_play(nh_workspace_list(view->workspace));
    return claim->use != NH_CHOW || rules->chow_from_any ||
           view->from == nh_seat_sender(view->seat, NH_RIGHT);
}

bool figures_of_claim(const nh_game_view *view, const nh_game_move *move,
                      struct review_claim *claim) {
    nh_claim claims[NH_CLAIMS_MAX];
    nh_claiming claiming;
    nh_claim_question question = NH_CLAIM_QUESTION;
    nh_error error;
    question.situation = &view->situation;
    if (nh_claims(view->workspace, &view->hand, &question, claims, NH_CLAIMS_MAX, &claiming,
                  &error) != NH_OK)
        return complain_of(&error);
    *claim = (struct review_claim){.turn = view->turn,
                                   .kind = view->tile,
                                   .claimed = move->act != NH_ACT_NONE,
                                   .wins = move->act == NH_ACT_WIN,
                                   .set = move->set,
                                   .known = move->act == NH_ACT_NONE,
                                   .chance = claiming.chance,
                                   .best_waits = true,
                                   .best_chance = claiming.chance};
    for (size_t i = 0; i < claiming.rows; i++) {
        if (claims[i].kind != view->tile || !list_allows_claim(view, &claims[i]))
            continue;
        bool wins = claims[i].use == NH_CLAIM_WIN;
        double chance = wins ? 1 : claims[i].chance;
        if (wins ? claim->wins : claim->claimed && same_set(&claims[i].set, &claim->set)) {
            claim->known = true;
            claim->chance = chance;
        }
        if (chance > claim->best_chance) {
            claim->best_waits = false;
            claim->best_wins = wins;
            claim->best_set = claims[i].set;
            claim->best_chance = chance;
        }
    }
    return true;
}
