/* The game after the passes. The library plays it from the deal, so the player's answers
 * of the Charleston are given again; from then on each decision is asked for. */
#include "drill/drill_ask.h"
#include "drill/play_figures.h"
#include "io/flow.h"
#include "io/message.h"
#include "io/output.h"
#include "patterns/list_sets.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

/* One game. */
struct playing {
    struct drill *drill;
    struct drill_round *round;
    size_t moves;       /* of the Charleston that were made again */
    enum drill_end end; /* why the game is left */
    struct text heard;  /* since the player was asked last */
};

/* ------------------------------------------------------- what happens --- */

static void tell_heard(struct playing *playing) {
    struct flow flow = {.indent = 0};
    struct text *heard = &playing->heard;
    if (heard->length == 0)
        return;
    text_add(heard, ".");
    heard->bytes[0] = (char)toupper((unsigned char)heard->bytes[0]);
    flow_words(&flow, heard->bytes);
    flow_end(&flow);
    text_clear(heard);
}

/* What the others do is kept until the player is asked. */
static void add_event(struct playing *playing, const nh_event *event) {
    struct text *heard = &playing->heard;
    char set[NH_TILES_TEXT_SIZE];
    if (event->seat == playing->drill->seat)
        return;
    const char *comma = heard->length > 0 ? ", " : "";
    set_text(&event->set, set);
    if (event->type == NH_EVENT_DISCARD)
        text_add_format(heard, "%s%s %s", comma, seat_name(event->seat),
                        nh_kind_notation(event->kind));
    else if (event->type == NH_EVENT_CLAIM && event->from == playing->drill->seat)
        text_add_format(heard, "%s%s claims your %s for %s", comma, seat_name(event->seat),
                        nh_kind_notation(event->kind), set);
    else if (event->type == NH_EVENT_CLAIM)
        text_add_format(heard, "%s%s claims it for %s", comma, seat_name(event->seat), set);
    else if (event->type == NH_EVENT_EXCHANGE)
        text_add_format(heard, "%s%s takes a joker for %s", comma, seat_name(event->seat),
                        nh_kind_notation(event->kind));
}

/* Where all tiles are once the passes are over. */
static void note_table(struct playing *playing, const nh_event *event) {
    struct drill_round *round = playing->round;
    round->wall = *nh_list_set(playing->drill->list);
    for (int seat = 0; seat < NH_SEATS; seat++) {
        round->hand[seat] = event->hands[seat];
        nh_tiles_take(&round->wall, &event->hands[seat]);
    }
}

static void hear(void *context, const nh_event *event) {
    struct playing *playing = context;
    if (event->type == NH_EVENT_PLAY)
        note_table(playing, event);
    else if (event->type >= NH_EVENT_EXCHANGE && event->type <= NH_EVENT_CLAIM)
        add_event(playing, event);
}

/* --------------------------------------------------------- decisions --- */

static nh_status pass_again(void *context, const nh_view *view, nh_move *move, nh_error *error) {
    struct playing *playing = context;
    (void)view, (void)error;
    if (playing->moves < playing->drill->moves)
        *move = playing->drill->moved[playing->moves++];
    return NH_OK;
}

static void note_known(const nh_game_view *view, struct drill_known *known) {
    const nh_shown *shown = nh_game_shown(view->game, view->seat);
    known->hand = view->hand;
    known->seen = view->situation.seen;
    known->set_count = shown->set_count;
    memcpy(known->sets, shown->sets, sizeof known->sets);
}

static enum drill_end play_own_turn(const struct playing *playing, const nh_game_view *view,
                                    nh_game_move *move) {
    struct drill_game *game = &playing->round->game;
    double seconds = 0;
    enum drill_end end = ask_turn(playing->drill, view, move, &seconds);
    if (end != DRILL_DONE || move->act != NH_ACT_DISCARD ||
        game->play.discards == REVIEW_DISCARDS_MAX)
        return end;
    size_t at = game->play.discards++;
    note_known(view, &game->discard[at]);
    game->discard[at].seconds = seconds;
    return figures_of_discard(view, move->kind, &game->play.discard[at]) ? DRILL_DONE
                                                                         : DRILL_FAILED;
}

static enum drill_end answer_to_discard(struct playing *playing, const nh_game_view *view,
                                        nh_game_move *move) {
    struct drill_game *game = &playing->round->game;
    double seconds = 0;
    bool asked;
    enum drill_end end = ask_claim(playing->drill, view, move, &asked, &seconds);
    if (end != DRILL_DONE || !asked || game->play.claims == REVIEW_CLAIMS_MAX)
        return end;
    size_t at = game->play.claims++;
    note_known(view, &game->claim[at]);
    game->claim[at].seconds = seconds;
    return figures_of_claim(view, move, &game->play.claim[at]) ? DRILL_DONE : DRILL_FAILED;
}

static nh_status decide(void *context, const nh_game_view *view, nh_game_move *move,
                        nh_error *error) {
    struct playing *playing = context;
    (void)error;
    if (view->in_turn)
        tell_heard(playing);
    playing->end =
        view->in_turn ? play_own_turn(playing, view, move) : answer_to_discard(playing, view, move);
    return playing->end == DRILL_DONE ? NH_OK : NH_ERROR_CANCELLED;
}

/* ------------------------------------------------------------ the end --- */

static void note_end(const struct playing *playing, const nh_game_end *end) {
    struct review_play *play = &playing->round->game.play;
    play->played = true;
    play->turns = end->turns;
    if (!end->won)
        return;
    play->winner = seat_name(end->seat);
    play->mine = end->seat == playing->drill->seat;
    play->from = end->from != end->seat ? seat_name(end->from) : NULL;
    play->pattern = nh_list_pattern(playing->drill->list, end->pattern.pattern)->name;
    play->has_points = end->pattern.has_points;
    play->points = end->pattern.points;
}

enum drill_end drill_play_on(struct drill *drill, struct drill_round *round) {
    struct playing playing = {.drill = drill, .round = round, .end = DRILL_DONE};
    nh_game_end end;
    nh_error error = {NH_OK, 0, ""};
    output_text("The passes are over; the dealer discards. The clock stands still.\n");
    text_clear(&playing.heard);
    nh_game_seat(drill->game, drill->seat, pass_again, &playing, decide, &playing);
    nh_game_listen(drill->game, hear, &playing);
    nh_status status = nh_game_run(drill->game, drill->seed, round->deal, &end, sizeof end, &error);
    nh_game_listen(drill->game, NULL, NULL);
    if (playing.end != DRILL_DONE)
        return playing.end;
    if (status != NH_OK) {
        complain("the game could not be played to its end: %s", error.text);
        return DRILL_FAILED;
    }
    note_end(&playing, &end);
    if (!round->game.play.mine)
        tell_heard(&playing);
    return DRILL_DONE;
}
