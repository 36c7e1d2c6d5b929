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
    json_key(json, key);
    json_string(json, text);
}

static void string_out(struct json *json, const char *key, const char *value) {
    json_key(json, key);
    json_string(json, value);
}

static void double_out(struct json *json, const char *key, double value) {
    json_key(json, key);
    json_double(json, value);
}

static void whole_out(struct json *json, const char *key, uint64_t value) {
    json_key(json, key);
    json_unsigned(json, value);
}

static void time_out(struct json *json) {
    char date[CLOCK_DATE_SIZE];
    clock_date(date);
    string_out(json, "time", date);
}

/* Why the pass cost something. */
static void why_out(struct json *json, const struct drill *drill, const struct why_figures *why) {
    if (!why->known)
        return;
    json_key(json, "why");
    json_open(json, '{');
    if (why->has_pattern) {
        string_out(json, "pattern", nh_list_pattern(drill->list, why->pattern)->name);
        tiles_out(json, "tiles", &why->tiles);
        json_key(json, "away");
        if (why->away == NH_AWAY_NONE)
            json_null(json);
        else
            json_unsigned(json, (uint64_t)why->away);
        whole_out(json, "best_away", (uint64_t)why->best_away);
    }
    double_out(json, "nearer", why->nearer);
    double_out(json, "best_nearer", why->best_nearer);
    json_close(json, '}');
}

static void pass_out(struct json *json, const struct drill *drill, const struct drill_pass *pass) {
    json_open(json, '{');
    string_out(json, "step", pass->step);
    whole_out(json, "charleston", pass->turn);
    tiles_out(json, "mine", &pass->mine);
    tiles_out(json, "best", &pass->figures.best);
    tiles_out(json, "got", &pass->got);
    if (pass->figures.judged) {
        double_out(json, "expected", pass->figures.expected);
        double_out(json, "best_expected", pass->figures.best_expected);
        double_out(json, "cost", pass->figures.cost);
    } else {
        json_key(json, "cost");
        json_null(json);
    }
    double_out(json, "seconds", pass->seconds);
    if (pass->unseen > 0)
        whole_out(json, "unseen", pass->unseen);
    if (pass->figures.judged)
        why_out(json, drill, &pass->figures.why);
    json_close(json, '}');
}

static void vote_out(struct json *json, const struct drill_vote *vote) {
    json_open(json, '{');
    whole_out(json, "charleston", vote->turn);
    json_key(json, "agree");
    json_open(json, '{');
    for (int seat = 0; seat < NH_SEATS; seat++) {
        json_key(json, seat_name(seat));
        json_bool(json, vote->agree[seat]);
    }
    json_close(json, '}');
    double_out(json, "expected", vote->figures.expected);
    double_out(json, "stopping", vote->figures.stopping);
    double_out(json, "seconds", vote->seconds);
    json_key(json, "courtesy");
    json_open(json, '[');
    for (unsigned i = 0; i < vote->figures.courtesies; i++)
        json_double(json, vote->figures.courtesy[i]);
    json_close(json, ']');
    json_close(json, '}');
}

/* The target, as a player reads it and as programs do. */
static void target_out(struct json *json, const struct aim_figures *aim) {
    const struct style plain = {false, "", "", "", ""};
    struct text shown;
    text_clear(&shown);
    marked_target(&shown, &aim->row, &aim->layout, &plain, false);
    string_out(json, "shown", shown.bytes);
    tiles_out(json, "target", &aim->row.target);
    tiles_out(json, "keep", &aim->row.keep);
    tiles_out(json, "need", &aim->row.need);
    tiles_out(json, "spare", &aim->row.spare);
}

static void aim_out(struct json *json, const struct drill *drill, const struct aim_figures *aim) {
    json_open(json, '{');
    string_out(json, "pattern", nh_list_pattern(drill->list, aim->pattern)->name);
    if (aim->place > 0) {
        whole_out(json, "place", aim->place);
        whole_out(json, "away", (uint64_t)aim->away);
        whole_out(json, "replace", (uint64_t)aim->replace);
        target_out(json, aim);
    }
    json_close(json, '}');
}

static void courtesy_out(struct json *json, const struct drill_courtesy *courtesy) {
    json_key(json, "courtesy");
    json_open(json, '{');
    whole_out(json, "mine", (uint64_t)courtesy->mine);
    whole_out(json, "theirs", (uint64_t)courtesy->theirs);
    double_out(json, "seconds", courtesy->seconds);
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
    string_out(json, "session", drill->session);
    whole_out(json, "round", round->number);
    string_out(json, "list", nh_list_title(drill->list));
    string_out(json, "seed", drill->seed_text);
    whole_out(json, "deal", round->deal);
    string_out(json, "prevailing", nh_wind_name(round->prevailing));
    string_out(json, "seat", seat_name(drill->seat));
    string_out(json, "level", drill->level);
    whole_out(json, "limit", (uint64_t)drill->limit);
    string_out(json, "clock", drill->prompt.fixed >= 0 ? "fixed" : "real");
    double_out(json, "seconds", round->seconds);
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
    whole_out(json, "live", round->live);
    table_out(json, round);
    if (round->game.play.played)
        record_game(json, &round->game);
    if (round->courtesy.asked)
        courtesy_out(json, &round->courtesy);
    if (drill->own != NULL) {
        json_key(json, "own_set");
        json_bool(json, true);
        double_out(json, "apart", round->apart);
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
