/* A drill with the player's own set: what was drawn is typed and counted, and a step can
 * be taken back. */
#include "drill/own_set.h"
#include "drill/drill_ask.h"
#include "io/output.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Where a round stands. */
struct own_state {
    nh_view view;
    nh_tiles passed;
    unsigned owed; /* tiles to be drawn */
    nh_step next;  /* once they are */
    bool dealt;    /* the hand was drawn */
};

/* And what it has come to. */
struct mark {
    struct own_state state;
    struct drill_round round;
};

struct own_set {
    const nh_list *list;
    const nh_charleston *charleston;
    struct own_state state;
    struct mark *marks; /* before each question */
    size_t mark_count, mark_capacity;
};

struct own_set *own_set_new(const struct drill *drill) {
    struct own_set *own = calloc(1, sizeof *own);
    if (own == NULL)
        return NULL;
    own->list = drill->list;
    own->charleston = nh_list_charleston(drill->list);
    own->state.view =
        (nh_view){.list = drill->list, .seat = drill->seat, .prevailing = drill->prevailing};
    return own;
}

void own_set_free(struct own_set *own) {
    if (own != NULL)
        free(own->marks);
    free(own);
}

const nh_view *own_set_view(const struct own_set *own) {
    return &own->state.view;
}

bool own_set_draws(const struct own_set *own) {
    return own->state.owed > 0;
}

/* ---------------------------------------------------------------- steps --- */

static int own_passable_total(const struct own_set *own) {
    nh_tiles passable = nh_charleston_passable(own->charleston, &own->state.view.hand);
    return nh_tiles_total(&passable);
}

/* Goes to a step, or past it where no tile can be passed. */
static void own_go_to(struct own_set *own, nh_step step, int courtesy) {
    nh_view *view = &own->state.view;
    for (;; step = nh_charleston_next(own->charleston, step, false)) {
        int most = step.stage == NH_STAGE_COURTESY   ? own->charleston->courtesy
                   : step.stage == NH_STAGE_EXCHANGE ? courtesy
                                                     : own->charleston->tiles;
        int passable = own_passable_total(own);
        view->step = step;
        view->count = (uint8_t)(passable < most ? passable : most);
        if (view->count > 0 || step.stage == NH_STAGE_VOTE || step.stage == NH_STAGE_OVER)
            return;
    }
}

void own_set_begin(struct own_set *own) {
    nh_view *view = &own->state.view;
    view->hand = view->gone = view->received = (nh_tiles){{0}};
    own->state.passed = (nh_tiles){{0}};
    own->state.owed = (unsigned)nh_list_hand_size(own->list) - (view->seat == 0 ? 0 : 1);
    own->state.next = nh_charleston_first(own->charleston);
    own->state.dealt = false;
    own->mark_count = 0;
}

void own_set_play(struct own_set *own, const nh_move *move) {
    nh_view *view = &own->state.view;
    nh_step step = view->step;
    if (step.stage == NH_STAGE_PASS || step.stage == NH_STAGE_EXCHANGE) {
        nh_tiles_take(&view->hand, &move->tiles);
        nh_tiles_add(&own->state.passed, &move->tiles);
        own->state.owed = (unsigned)nh_tiles_total(&move->tiles);
    }
    own->state.next = nh_charleston_next(own->charleston, step, move->agree);
    if (own->state.owed == 0)
        own_go_to(own, own->state.next, move->count);
}

/* -------------------------------------------------------------- drawing --- */

struct drawn {
    const struct own_set *own;
    nh_tiles tiles; /* typed so far */
};

/* More tiles of a kind than the set has: one of them was mistyped, now or before. */
static bool explain_excess(const nh_tiles *hand, const nh_tiles *set) {
    for (int kind = 0; kind < NH_KINDS; kind++) {
        char text[160];
        if (hand->count[kind] <= set->count[kind])
            continue;
        snprintf(text, sizeof text,
                 "That makes %d of %s in your hand, and the set has %d: one was mistyped, now or "
                 "before. undo goes back.",
                 hand->count[kind], nh_kind_notation(kind), set->count[kind]);
        explain(text);
        return true;
    }
    return false;
}

/* Tiles that are in the hand again although they were passed. */
static void explain_back(const struct own_set *own, const nh_tiles *hand) {
    const nh_tiles *set = nh_list_set(own->list);
    for (int kind = 0; kind < NH_KINDS; kind++) {
        char text[160];
        int all = hand->count[kind] + own->state.passed.count[kind];
        if (own->state.passed.count[kind] == 0 || all <= set->count[kind])
            continue;
        snprintf(text, sizeof text,
                 "With those that you passed that makes %d of %s, and the set has %d. If none came "
                 "back, one was mistyped: undo goes back.",
                 all, nh_kind_notation(kind), set->count[kind]);
        explain(text);
    }
}

static bool read_drawn(const struct drill *drill, const char *line, void *taken) {
    struct drawn *drawn = taken;
    const struct own_set *own = drawn->own;
    nh_tiles tiles, all = drawn->tiles, hand = own->state.view.hand;
    nh_error error = {NH_OK, 0, ""};
    char text[96];
    if (nh_tiles_parse(drill->list, line, strlen(line), &tiles, &error) != NH_OK) {
        explain_error(line, &error);
        return false;
    }
    nh_tiles_add(&all, &tiles);
    nh_tiles_add(&hand, &all);
    int total = nh_tiles_total(&all), owed = (int)own->state.owed;
    if (total > owed) {
        snprintf(text, sizeof text, "You draw %d tile%s; that makes %d.", owed,
                 owed == 1 ? "" : "s", total);
        explain(text);
        return false;
    }
    if (explain_excess(&hand, nh_list_set(own->list)))
        return false;
    drawn->tiles = all;
    if (total == owed)
        return true;
    snprintf(text, sizeof text, "%d of %d; type the other%s.", total, owed,
             owed - total == 1 ? "" : "s");
    explain(text);
    return false;
}

enum drill_end own_set_draw(struct drill *drill, struct drill_round *round) {
    struct own_set *own = drill->own;
    struct own_state *state = &own->state;
    struct drawn drawn = {.own = own};
    char text[64];
    snprintf(text, sizeof text,
             state->dealt ? "Draw %u for those you passed, and type them"
                          : "Draw %u tiles, and type them",
             state->owed);
    struct question question = {.text = text,
                                .help = "Type the tiles that you drew, in any order and as many "
                                        "lines as you like.",
                                .read = read_drawn,
                                .answer = &drawn,
                                .unclocked = true};
    enum drill_end end = ask(drill, &question, NULL);
    if (end != DRILL_DONE)
        return end;
    nh_tiles_add(&state->view.hand, &drawn.tiles);
    state->view.received = drawn.tiles;
    state->owed = 0;
    if (state->dealt) {
        round->pass[round->passes - 1].got = drawn.tiles;
        explain_back(own, &state->view.hand);
    } else {
        round->dealt = drawn.tiles;
    }
    state->dealt = true;
    own_go_to(own, state->next, 0);
    state->view.gone =
        nh_charleston_gone(nh_list_set(own->list), &state->view.hand, &state->passed);
    return DRILL_DONE;
}

/* ----------------------------------------------------------------- undo --- */

bool own_set_mark(struct own_set *own, const struct drill_round *round) {
    if (own->mark_count == own->mark_capacity) {
        size_t capacity = 2 * own->mark_capacity + 8;
        struct mark *marks = realloc(own->marks, capacity * sizeof *marks);
        if (marks == NULL)
            return false;
        own->marks = marks;
        own->mark_capacity = capacity;
    }
    own->marks[own->mark_count++] = (struct mark){own->state, *round};
    return true;
}

void own_set_undo(struct own_set *own, struct drill_round *round) {
    if (own->mark_count < 2) {
        own->mark_count = 0;
        explain("There is nothing to undo.");
        return;
    }
    own->mark_count -= 2;
    own->state = own->marks[own->mark_count].state;
    *round = own->marks[own->mark_count].round;
    explain("Undone.");
}
