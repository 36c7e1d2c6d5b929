/* The questions after the passes: which tile to discard, whether to claim. */
#include "drill/drill_ask.h"
#include "io/flow.h"
#include "io/output.h"
#include "patterns/list_sets.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

/* ---------------------------------------------------------------- table --- */

static void add_shown_sets(struct text *text, const nh_shown *shown) {
    for (unsigned i = 0; i < shown->set_count; i++) {
        char set[NH_TILES_TEXT_SIZE];
        set_text(&shown->sets[i], set);
        text_add_format(text, " %s", set);
    }
}

/* The sets and discards of all players. */
static void show_table(const nh_game_view *view) {
    for (int seat = 0; seat < NH_SEATS; seat++) {
        const nh_shown *shown = nh_game_shown(view->game, seat);
        char tiles[NH_TILES_TEXT_SIZE];
        struct flow flow = {.indent = 2};
        struct text text;
        text_clear(&text);
        text_add_format(&text, "%s:", seat == view->seat ? "You" : seat_name(seat));
        add_shown_sets(&text, shown);
        nh_tiles_format(&shown->discards, NH_STYLE_LETTERS, tiles, sizeof tiles);
        text_add_format(&text, "%s discards %s", shown->set_count > 0 ? ";" : "",
                        tiles[0] != '\0' ? tiles : "none");
        flow_words(&flow, text.bytes);
        flow_end(&flow);
    }
    output_format("  %u tiles in the wall.\n", view->wall);
}

static void show_own(const nh_game_view *view) {
    const nh_shown *shown = nh_game_shown(view->game, view->seat);
    char tiles[NH_TILES_TEXT_SIZE];
    struct flow flow = {.indent = 0};
    struct text text;
    text_clear(&text);
    nh_tiles_format(&view->hand, NH_STYLE_LETTERS, tiles, sizeof tiles);
    text_add_format(&text, "Your hand: %s%s", tiles, shown->set_count > 0 ? "; on the table:" : "");
    add_shown_sets(&text, shown);
    flow_words(&flow, text.bytes);
    flow_end(&flow);
}

/* Whether the hand, with a tile more if there is one, is complete. */
static bool completes(const nh_game_view *view, int tile) {
    nh_check_question question = NH_CHECK_QUESTION;
    nh_checking checking;
    nh_tiles hand = view->hand;
    question.situation = &view->situation;
    if (tile < NH_KINDS)
        hand.count[tile]++;
    return nh_check(view->workspace, &hand, &question, NULL, 0, &checking, NULL) == NH_OK &&
           checking.completed > 0;
}

/* ----------------------------------------------------------------- turn --- */

struct play_answer {
    const nh_game_view *view;
    nh_game_move move;
};

static bool read_win(struct play_answer *answer) {
    if (!answer->view->may_win)
        explain("After a claim you discard first.");
    else if (!completes(answer->view, NH_KINDS))
        explain("Your hand is not complete.");
    else {
        answer->move.act = NH_ACT_WIN;
        return true;
    }
    return false;
}

/* The one tile of a line; false with an explanation. */
static bool read_one(const struct drill *drill, const struct play_answer *answer, const char *line,
                     int *kind) {
    nh_tiles tiles;
    nh_error error;
    if (nh_tiles_parse(drill->list, line, strlen(line), &tiles, &error) != NH_OK) {
        explain_error(line, &error);
        return false;
    }
    if (nh_tiles_total(&tiles) != 1) {
        explain("Type one tile.");
        return false;
    }
    for (*kind = 0; tiles.count[*kind] == 0;)
        ++*kind;
    if (answer->view->hand.count[*kind] > 0)
        return true;
    char text[64];
    snprintf(text, sizeof text, "The hand has no %s.", nh_kind_notation(*kind));
    explain(text);
    return false;
}

/* A joker of a set on the table, the others' first, for the tile that it stands for. */
static bool read_joker(const struct drill *drill, struct play_answer *answer, const char *line) {
    int kind;
    if (!nh_list_play(drill->list)->exchange) {
        explain("This list lets nobody take jokers from the table.");
        return false;
    }
    if (!read_one(drill, answer, line, &kind))
        return false;
    for (int places = 1; places <= NH_SEATS; places++) {
        int seat = (answer->view->seat + places) % NH_SEATS;
        const nh_shown *shown = nh_game_shown(answer->view->game, seat);
        for (unsigned i = 0; i < shown->set_count; i++) {
            if (shown->sets[i].jokers == 0 || shown->sets[i].kind != kind)
                continue;
            answer->move.act = NH_ACT_EXCHANGE;
            answer->move.kind = (uint8_t)kind;
            answer->move.from = (uint8_t)seat;
            answer->move.index = (uint8_t)i;
            return true;
        }
    }
    explain("No joker on the table stands for that tile; table shows the sets.");
    return false;
}

static bool only_jokers(const nh_tiles *hand) {
    return nh_tiles_total(hand) == hand->count[NH_JOKER];
}

static bool read_turn(const struct drill *drill, const char *line, void *taken) {
    static const char joker[] = "joker ";
    struct play_answer *answer = taken;
    int kind;
    if (is_word(line, "table")) {
        show_table(answer->view);
        return false;
    }
    if (is_word(line, "win"))
        return read_win(answer);
    if (strncasecmp(line, joker, strlen(joker)) == 0)
        return read_joker(drill, answer, line + strlen(joker));
    if (!read_one(drill, answer, line, &kind))
        return false;
    if (kind == NH_JOKER && !only_jokers(&answer->view->hand)) {
        explain("Jokers are never discarded.");
        return false;
    }
    answer->move.act = NH_ACT_DISCARD;
    answer->move.kind = (uint8_t)kind;
    return true;
}

enum drill_end ask_turn(struct drill *drill, const nh_game_view *view, nh_game_move *move,
                        double *seconds) {
    struct play_answer answer = {view, *move};
    struct question question = {
        .text = "Discard",
        .help = "Type the tile that you discard, or win if your hand is complete. table shows "
                "what all players have on the table and discarded.",
        .read = read_turn,
        .answer = &answer,
        .untimed = true};
    if (nh_list_play(drill->list)->exchange)
        question.help = "Type the tile that you discard, or win if your hand is complete; joker 5B "
                        "takes a joker from the table for a 5B. table shows what all players have "
                        "on the table and discarded.";
    if (view->tile < NH_KINDS)
        output_format("You draw %s.\n", nh_kind_notation(view->tile));
    show_own(view);
    enum drill_end end = ask(drill, &question, seconds);
    *move = answer.move;
    return end;
}

/* --------------------------------------------------------------- claims --- */

#define CLAIM_SETS_MAX 8 /* four alike, three chows */

/* What the player can do with a discard. */
struct claim_answer {
    const nh_game_view *view;
    bool wins;
    nh_set sets[CLAIM_SETS_MAX];
    size_t count;
    nh_game_move move;
};

static bool shape_allowed(const nh_play_rules *rules, int shape) {
    const bool allowed[] = {rules->pung, rules->kong, rules->quint, rules->sextet};
    return allowed[shape - NH_PUNG];
}

/* Naturals first, then jokers. */
static void add_alike(struct claim_answer *answer, int shape) {
    const nh_game_view *view = answer->view;
    unsigned needed = (unsigned)shape - 1, held = view->hand.count[view->tile];
    unsigned jokers = held < needed ? needed - held : 0;
    if (jokers > view->hand.count[NH_JOKER])
        return;
    answer->sets[answer->count++] = (nh_set){.shape = (uint8_t)shape,
                                             .kind = view->tile,
                                             .tiles = (uint8_t)shape,
                                             .jokers = (uint8_t)jokers};
}

static void add_chows(struct claim_answer *answer) {
    const nh_game_view *view = answer->view;
    int rank = view->tile % 9; /* from 0, where the tile has a suit */
    for (int back = 2; back >= 0 && view->tile < NH_EAST; back--) {
        int first = view->tile - back;
        bool held = rank >= back && rank - back <= 6;
        for (int kind = first; held && kind < first + 3; kind++)
            held = kind == view->tile || view->hand.count[kind] > 0;
        if (held)
            answer->sets[answer->count++] =
                (nh_set){.shape = NH_CHOW, .kind = (uint8_t)first, .tiles = 3};
    }
}

static void claims_open(const struct drill *drill, struct claim_answer *answer) {
    const nh_game_view *view = answer->view;
    const nh_play_rules *rules = nh_list_play(drill->list);
    answer->wins = completes(view, view->tile);
    if (nh_game_shown(view->game, view->seat)->set_count == NH_SETS_MAX)
        return;
    for (int shape = NH_PUNG; shape <= NH_SEXTET; shape++)
        if (shape_allowed(rules, shape))
            add_alike(answer, shape);
    if (rules->chow && (rules->chow_from_any || view->from == nh_seat_sender(view->seat, NH_RIGHT)))
        add_chows(answer);
}

static bool parse_claim(const struct drill *drill, const char *line, void *taken) {
    struct claim_answer *answer = taken;
    nh_set typed[1];
    size_t count;
    (void)drill;
    if (is_word(line, "table")) {
        show_table(answer->view);
        return false;
    }
    answer->move.act = NH_ACT_NONE;
    if (line[0] == '\0' || is_word(line, "no") || is_word(line, "n"))
        return true;
    answer->move.act = NH_ACT_WIN;
    if (answer->wins && is_word(line, "win"))
        return true;
    answer->move.act = NH_ACT_CLAIM;
    if (nh_sets_parse(NULL, line, strlen(line), typed, 1, &count, NULL) == NH_OK && count == 1)
        for (size_t i = 0; i < answer->count; i++)
            if (memcmp(&typed[0], &answer->sets[i], sizeof typed[0]) == 0) {
                answer->move.set = typed[0];
                return true;
            }
    explain("Type one of the sets that are offered, win if that is, or no.");
    return false;
}

enum drill_end ask_claim(struct drill *drill, const nh_game_view *view, nh_game_move *move,
                         bool *asked, double *seconds) {
    struct claim_answer answer = {.view = view, .move = *move};
    struct text text;
    struct question question = {
        .text = text.bytes,
        .help = "Type the set that you claim the discard for, as it is offered, or win; no, or "
                "Enter alone, lets it go. table shows what all players have on the table and "
                "discarded.",
        .read = parse_claim,
        .answer = &answer,
        .untimed = true};
    claims_open(drill, &answer);
    *asked = answer.wins || answer.count > 0;
    if (!*asked)
        return DRILL_DONE;
    text_clear(&text);
    text_add_format(&text, "Claim %s of the %s:", nh_kind_notation(view->tile),
                    seat_name(view->from));
    if (answer.wins)
        text_add(&text, " win,");
    for (size_t i = 0; i < answer.count; i++) {
        char set[NH_TILES_TEXT_SIZE];
        set_text(&answer.sets[i], set);
        text_add_format(&text, " %s,", set);
    }
    text_add(&text, " or no");
    show_own(view);
    enum drill_end end = ask(drill, &question, seconds);
    *move = answer.move;
    return end;
}
