/* The game of a round in the history. */
#include "drill/drill.h"
#include "patterns/answer_json.h"
#include "patterns/list_sets.h"

static void set_out(struct json *json, const nh_set *set) {
    char text[NH_TILES_TEXT_SIZE];
    set_text(set, text);
    json_string(json, text);
}

/* What the decision was made by. */
static void known_out(struct json *json, const struct drill_known *known) {
    tiles_json(json, "hand", &known->hand);
    json_key(json, "exposed");
    json_open(json, '[');
    for (unsigned i = 0; i < known->set_count; i++)
        set_out(json, &known->sets[i]);
    json_close(json, ']');
    tiles_json(json, "seen", &known->seen);
    json_key_double(json, "seconds", known->seconds);
}

static void discard_out(struct json *json, const struct review_discard *discard,
                        const struct drill_known *known) {
    json_open(json, '{');
    json_key_unsigned(json, "turn", discard->turn);
    json_key_string(json, "mine", nh_kind_notation(discard->mine));
    json_key_string(json, "best", nh_kind_notation(discard->best));
    if (discard->judged) {
        json_key_double(json, "expected", discard->expected);
        json_key_double(json, "best_expected", discard->best_expected);
        json_key_double(json, "cost", discard->cost);
    } else {
        json_key(json, "cost");
        json_null(json);
    }
    known_out(json, known);
    json_close(json, '}');
}

/* "no", "win", or the set. */
static void use_out(struct json *json, const char *key, bool waits, bool wins, const nh_set *set) {
    json_key(json, key);
    if (waits || wins)
        json_string(json, waits ? "no" : "win");
    else
        set_out(json, set);
}

static void claim_out(struct json *json, const struct review_claim *claim,
                      const struct drill_known *known) {
    json_open(json, '{');
    json_key_unsigned(json, "turn", claim->turn);
    json_key_string(json, "tile", nh_kind_notation(claim->kind));
    use_out(json, "mine", !claim->claimed, claim->wins, &claim->set);
    use_out(json, "best", claim->best_waits, claim->best_wins, &claim->best_set);
    json_key(json, "chance");
    if (claim->known)
        json_double(json, claim->chance);
    else
        json_null(json);
    json_key_double(json, "best_chance", claim->best_chance);
    known_out(json, known);
    json_close(json, '}');
}

static void end_out(struct json *json, const struct review_play *play) {
    json_key_unsigned(json, "turns", play->turns);
    json_key_string(json, "winner", play->winner);
    if (play->winner == NULL)
        return;
    json_key_string(json, "from", play->from);
    json_key_string(json, "pattern", play->pattern);
    json_key(json, "points");
    if (play->has_points)
        json_double(json, play->points);
    else
        json_null(json);
}

void record_game(struct json *json, const struct drill_game *game) {
    json_key(json, "game");
    json_open(json, '{');
    json_key(json, "discards");
    json_open(json, '[');
    for (size_t i = 0; i < game->play.discards; i++)
        discard_out(json, &game->play.discard[i], &game->discard[i]);
    json_close(json, ']');
    json_key(json, "claims");
    json_open(json, '[');
    for (size_t i = 0; i < game->play.claims; i++)
        claim_out(json, &game->play.claim[i], &game->claim[i]);
    json_close(json, ']');
    end_out(json, &game->play);
    json_close(json, '}');
}
