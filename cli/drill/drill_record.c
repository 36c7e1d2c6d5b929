/* A round as a line of the history. */
#include "drill/drill.h"
#include "history/history.h"
#include "io/json.h"
#include "io/message.h"
#include "io/output.h"
#include "patterns/marked.h"
#include "system/clock.h"

static void tiles_out(struct json *json, const char *key, const nh_tiles *tiles) {
    char text[NH_TILES_TEXT_SIZE];
    nh_tiles_format(tiles, NH_STYLE_LETTERS, text, sizeof text);
    json_key_string(json, key, text);
}

static void time_out(struct json *json) {
    char date[CLOCK_DATE_SIZE];
    clock_date(date);
    json_key_string(json, "time", date);
}

/* Why the pass cost something. */
static void why_out(struct json *json, const struct drill *drill, const struct why_figures *why) {
    if (!why->known)
        return;
    json_key(json, "why");
    json_open(json, '{');
    if (why->has_pattern) {
        json_key_string(json, "pattern", nh_list_pattern(drill->list, why->pattern)->name);
        tiles_out(json, "tiles", &why->tiles);
        json_key(json, "away");
        if (why->away == NH_AWAY_NONE)
            json_null(json);
        else
            json_unsigned(json, (uint64_t)why->away);
        json_key_unsigned(json, "best_away", (uint64_t)why->best_away);
    }
    json_key_double(json, "nearer", why->nearer);
    json_key_double(json, "best_nearer", why->best_nearer);
    json_close(json, '}');
}

static void pass_out(struct json *json, const struct drill *drill, const struct drill_pass *pass) {
    json_open(json, '{');
    json_key_string(json, "step", pass->step);
    json_key_unsigned(json, "charleston", pass->turn);
    tiles_out(json, "mine", &pass->mine);
    tiles_out(json, "best", &pass->figures.best);
    tiles_out(json, "got", &pass->got);
    if (pass->figures.judged) {
        json_key_double(json, "expected", pass->figures.expected);
        json_key_double(json, "best_expected", pass->figures.best_expected);
        json_key_double(json, "cost", pass->figures.cost);
    } else {
        json_key(json, "cost");
        json_null(json);
    }
    json_key_double(json, "seconds", pass->seconds);
    if (pass->unseen > 0)
        json_key_unsigned(json, "unseen", pass->unseen);
    if (pass->figures.judged)
        why_out(json, drill, &pass->figures.why);
    json_close(json, '}');
}

static void vote_out(struct json *json, const struct drill_vote *vote) {
    json_open(json, '{');
    json_key_unsigned(json, "charleston", vote->turn);
    json_key(json, "agree");
    json_open(json, '{');
    for (int seat = 0; seat < NH_SEATS; seat++) {
        json_key(json, seat_name(seat));
        json_bool(json, vote->agree[seat]);
    }
    json_close(json, '}');
    json_key_double(json, "expected", vote->figures.expected);
    json_key_double(json, "stopping", vote->figures.stopping);
    json_key_double(json, "seconds", vote->seconds);
    json_key(json, "courtesy");
    json_open(json, '[');
    for (unsigned i = 0; i < vote->figures.courtesies; i++)
        json_double(json, vote->figures.courtesy[i]);
    json_close(json, ']');
    json_close(json, '}');
}

/* The target, as a player reads it and as programs do. */
static void target_out(struct json *json, const nh_list *list, const struct aim_figures *aim) {
    const struct style plain = {false, "", "", "", ""};
    struct text shown;
    text_clear(&shown);
    marked_target(&shown, list, &aim->row, &aim->layout, &plain, false);
    json_key_string(json, "shown", shown.bytes);
    tiles_out(json, "target", &aim->row.target);
    tiles_out(json, "keep", &aim->row.keep);
    tiles_out(json, "need", &aim->row.need);
    tiles_out(json, "spare", &aim->row.spare);
}

static void aim_out(struct json *json, const struct drill *drill, const struct aim_figures *aim) {
    json_open(json, '{');
    json_key_string(json, "pattern", nh_list_pattern(drill->list, aim->pattern)->name);
    if (aim->place > 0) {
        json_key_unsigned(json, "place", aim->place);
        json_key_unsigned(json, "away", (uint64_t)aim->away);
        json_key_unsigned(json, "replace", (uint64_t)aim->replace);
        target_out(json, drill->list, aim);
    }
    json_close(json, '}');
}

static void courtesy_out(struct json *json, const struct drill_courtesy *courtesy) {
    json_key(json, "courtesy");
    json_open(json, '{');
    json_key_unsigned(json, "mine", (uint64_t)courtesy->mine);
    json_key_unsigned(json, "theirs", (uint64_t)courtesy->theirs);
    json_key_double(json, "seconds", courtesy->seconds);
    json_close(json, '}');
}

/* Every tile of the set is in one of these places, but with the player's own set, of
 * which only the player's hand is known. */
static void table_out(struct json *json, const struct drill_round *round) {
    json_key(json, "table");
    json_open(json, '{');
    for (int seat = 0; seat < NH_SEATS; seat++)
        tiles_out(json, seat_name(seat), &round->hand[seat]);
    tiles_out(json, "wall", &round->wall);
    json_close(json, '}');
}

static void asked_out(struct json *json, const struct drill *drill,
                      const struct drill_round *round) {
    time_out(json);
    json_key_string(json, "session", drill->session);
    json_key_unsigned(json, "round", round->number);
    json_key_string(json, "list", nh_list_title(drill->list));
    json_key_string(json, "seed", drill->seed_text);
    json_key_unsigned(json, "deal", round->deal);
    json_key_string(json, "prevailing", nh_wind_name(round->prevailing));
    json_key_string(json, "seat", seat_name(drill->seat));
    json_key_string(json, "level", drill->level);
    json_key_unsigned(json, "limit", (uint64_t)drill->limit);
    json_key_string(json, "clock", drill->prompt.fixed >= 0 ? "fixed" : "real");
    json_key_double(json, "seconds", round->seconds);
    tiles_out(json, "dealt", &round->dealt);
}

static void round_out(struct json *json, const struct drill *drill,
                      const struct drill_round *round) {
    json_answer(json);
    asked_out(json, drill, round);
    json_key(json, "passes");
    json_open(json, '[');
    for (size_t i = 0; i < round->passes; i++)
        pass_out(json, drill, &round->pass[i]);
    json_close(json, ']');
    json_key(json, "votes");
    json_open(json, '[');
    for (size_t i = 0; i < round->votes; i++)
        vote_out(json, &round->vote[i]);
    json_close(json, ']');
    json_key(json, "aims");
    json_open(json, '[');
    for (size_t i = 0; i < round->aims; i++)
        aim_out(json, drill, &round->aim[i]);
    json_close(json, ']');
    if (round->nearest.place > 0) {
        json_key(json, "nearest");
        aim_out(json, drill, &round->nearest);
    }
    json_key_unsigned(json, "live", round->reach.live);
    table_out(json, round);
    if (round->game.play.played)
        record_game(json, &round->game);
    if (round->courtesy.asked)
        courtesy_out(json, &round->courtesy);
    if (drill->own != NULL) {
        json_key_bool(json, "own_set", true);
        json_key_double(json, "apart", round->apart);
    }
    json_close(json, '}');
}

bool record_append(const struct drill *drill, const struct drill_round *round, const char *path) {
    struct page page = {0};
    struct json json = {0};
    output_to(&page);
    round_out(&json, drill, round);
    output_to(NULL);
    bool good = !page.failed && history_append(path, page.bytes, page.length);
    if (page.failed)
        complain("%s", nh_status_text(NH_ERROR_MEMORY));
    page_free(&page);
    return good;
}
