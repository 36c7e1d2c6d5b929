/* A table: four hands from the deal to the end of the Charleston, what each player
 * knows, and the steps that they answer. */
#include "table/table.h"
#include "base/memory.h"
#include "base/question.h"
#include "base/status.h"
#include "table/deal.h"
#include "tiles/tiles.h"

struct seat {
    nh_play *play;
    void *context;
    nh_move answer; /* to the step that is to be played */
    bool answered;
    nh_move move;       /* the answer to the step before */
    nh_tiles handed_on; /* in that step, unseen */
    nh_tiles passed;
};

struct nh_table {
    nh_allocator allocator;
    const nh_list *list;
    const nh_charleston *charleston;
    nh_random random;
    nh_deal dealt;
    nh_tiles wall;
    nh_step step;
    struct seat seat[NH_SEATS];
    nh_view view[NH_SEATS];
    bool asking; /* a function of a seat is working */
};

static const nh_move no_move = NH_MOVE;

nh_status nh_table_new(const nh_list *list, const nh_allocator *allocator, nh_table **table) {
    nh_allocator own = memory_default(allocator);
    nh_table *made = memory_new(&own, 1, sizeof *made);
    *table = made;
    if (made == NULL)
        return NH_ERROR_MEMORY;
    made->allocator = own;
    made->list = list;
    made->charleston = nh_list_charleston(list);
    made->step = (nh_step){.stage = NH_STAGE_OVER};
    for (int seat = 0; seat < NH_SEATS; seat++) {
        made->seat[seat].answer = made->seat[seat].move = no_move;
        made->view[seat] = (nh_view){.list = list, .seat = seat, .step = made->step};
    }
    return NH_OK;
}

void nh_table_free(nh_table *table) {
    if (table == NULL)
        return;
    nh_allocator allocator = table->allocator;
    memory_release(&allocator, table);
}

void nh_table_seat(nh_table *table, int seat, nh_play *play, void *context) {
    if (!is_seat(seat))
        return;
    table->seat[seat].play = play;
    table->seat[seat].context = context;
}

nh_step nh_table_step(const nh_table *table) {
    return table->step;
}

const nh_view *nh_table_view(const nh_table *table, int seat) {
    return is_seat(seat) ? &table->view[seat] : NULL;
}

const nh_deal *nh_table_dealt(const nh_table *table) {
    return &table->dealt;
}

const nh_tiles *nh_table_wall(const nh_table *table) {
    return &table->wall;
}

nh_random *table_random(nh_table *table) {
    return &table->random;
}

nh_tiles table_gave(const nh_table *table, int seat) {
    return tiles_with(&table->seat[seat].move.tiles, &table->seat[seat].handed_on);
}

const nh_tiles *table_passed(const nh_table *table, int seat) {
    return &table->seat[seat].passed;
}

const nh_move *nh_table_move(const nh_table *table, int seat) {
    return is_seat(seat) ? &table->seat[seat].move : NULL;
}

nh_status check_same_list(const nh_view *view, const nh_workspace *workspace, nh_error *error) {
    if (view->list == nh_workspace_list(workspace))
        return NH_OK;
    return error_set(error, NH_ERROR_ARGUMENT, 0,
                     "the table and the player's workspace are of different lists");
}

/* ------------------------------------------------------- the next step --- */

static int passable_total(const nh_table *table, int seat) {
    nh_tiles passable = nh_charleston_passable(table->charleston, &table->view[seat].hand);
    return nh_tiles_total(&passable);
}

/* Hands keep their sizes, so all pass as many tiles as everyone can. */
static int tiles_of_pass(const nh_table *table) {
    int count = table->charleston->tiles;
    for (int seat = 0; seat < NH_SEATS; seat++) {
        int most = passable_total(table, seat);
        count = most < count ? most : count;
    }
    return count;
}

static int tiles_of_courtesy(const nh_table *table, int seat) {
    int most = passable_total(table, seat);
    int across = passable_total(table, nh_seat_receiver(seat, NH_ACROSS));
    most = across < most ? across : most;
    return most < table->charleston->courtesy ? most : table->charleston->courtesy;
}

static int tiles_of_exchange(const nh_table *table, int seat) {
    int own = table->seat[seat].move.count;
    int across = table->seat[nh_seat_receiver(seat, NH_ACROSS)].move.count;
    return own < across ? own : across;
}

/* What each player is asked for in this step; whether that is anything at all. */
static bool find_counts(nh_table *table) {
    int all = tiles_of_pass(table), most = 0;
    for (int seat = 0; seat < NH_SEATS; seat++) {
        nh_stage stage = table->step.stage;
        int count = stage == NH_STAGE_COURTESY   ? tiles_of_courtesy(table, seat)
                    : stage == NH_STAGE_EXCHANGE ? tiles_of_exchange(table, seat)
                    : stage == NH_STAGE_OVER     ? 0
                                                 : all;
        table->view[seat].count = (uint8_t)count;
        most = count > most ? count : most;
    }
    return most > 0 || table->step.stage == NH_STAGE_VOTE || table->step.stage == NH_STAGE_OVER;
}

/* Goes to a step, or past it where there is nothing to do, and lets the players know. */
static void go_to(nh_table *table, nh_step step) {
    table->step = step;
    while (!find_counts(table)) {
        const nh_step over = {.stage = NH_STAGE_OVER};
        if (table->step.stage == NH_STAGE_COURTESY)
            table->step = over;
        else
            table->step = nh_charleston_next(table->charleston, table->step, false);
    }
    for (int seat = 0; seat < NH_SEATS; seat++) {
        nh_view *view = &table->view[seat];
        view->step = table->step;
        view->gone =
            nh_charleston_gone(nh_list_set(table->list), &view->hand, &table->seat[seat].passed);
        table->seat[seat].answered = false;
    }
}

/* ------------------------------------------------------------ the deal --- */

static void seat_hands(nh_table *table, const nh_deal *deal, const nh_random *random) {
    table->random = *random;
    table->dealt = *deal;
    table->wall = deal->wall;
    for (int seat = 0; seat < NH_SEATS; seat++) {
        nh_view *view = &table->view[seat];
        table->seat[seat].passed = (nh_tiles){{0}};
        table->seat[seat].move = no_move;
        view->prevailing = deal->prevailing;
        view->hand = deal->hand[seat];
        view->received = (nh_tiles){{0}};
    }
    go_to(table, nh_charleston_first(table->charleston));
}

/* A player may look at the table and answer, nothing else. */
static nh_status refuse_while_asking(nh_error *error) {
    return error_set(error, NH_ERROR_ARGUMENT, 0,
                     "a player of this table is being asked: it cannot be dealt or played now");
}

nh_status nh_table_deal(nh_table *table, uint64_t seed, uint64_t number, nh_error *error) {
    nh_random random;
    nh_deal deal;
    if (table->asking)
        return refuse_while_asking(error);
    nh_random_start(&random, seed, number);
    if (deal_next(table->list, &random, &deal) != NH_OK)
        return error_set(error, NH_ERROR_ARGUMENT, 0,
                         "the list's set has %d tiles, too few for four hands of %d",
                         nh_tiles_total(nh_list_set(table->list)), nh_list_hand_size(table->list));
    seat_hands(table, &deal, &random);
    return NH_OK;
}

nh_status nh_table_start(nh_table *table, const nh_deal *deal, const nh_random *random,
                         nh_error *error) {
    const nh_tiles *set = nh_list_set(table->list);
    if (table->asking)
        return refuse_while_asking(error);
    nh_status status = check_wind("prevailing", deal->prevailing, error);
    if (status != NH_OK)
        return status;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        int sum = deal->wall.count[kind];
        for (int seat = 0; seat < NH_SEATS; seat++)
            sum += deal->hand[seat].count[kind];
        if (sum != set->count[kind])
            return error_set(error, NH_ERROR_TILES, 0, "the deal has %d of %s, the set %d", sum,
                             nh_kind_notation(kind), set->count[kind]);
    }
    seat_hands(table, deal, random);
    return NH_OK;
}

/* ------------------------------------------------------------- answers --- */

static nh_status check_pass(const nh_view *view, const nh_charleston *charleston,
                            const nh_move *move, nh_error *error) {
    if (move->blind > 0 && !view->step.blind)
        return error_set(error, NH_ERROR_ARGUMENT, 0,
                         "in this pass no tile that comes in may go on unseen");
    if (move->blind > view->count)
        return error_set(error, NH_ERROR_ARGUMENT, 0, "%u tiles come in: %u cannot go on",
                         view->count, move->blind);
    return nh_charleston_check(charleston, &view->hand, &move->tiles,
                               (unsigned)view->count - move->blind, error);
}

static nh_status check_move(const nh_table *table, int seat, const nh_move *move, nh_error *error) {
    const nh_view *view = &table->view[seat];
    switch (table->step.stage) {
    case NH_STAGE_PASS:
        return check_pass(view, table->charleston, move, error);
    case NH_STAGE_EXCHANGE:
        return nh_charleston_check(table->charleston, &view->hand, &move->tiles, view->count,
                                   error);
    case NH_STAGE_COURTESY:
        if (move->count > view->count)
            return error_set(error, NH_ERROR_ARGUMENT, 0,
                             "at most %u tiles can be exchanged, not %u", view->count, move->count);
        return NH_OK;
    case NH_STAGE_VOTE:
        return NH_OK;
    default:
        return error_set(error, NH_ERROR_ARGUMENT, 0, "the Charleston is over");
    }
}

nh_status nh_table_answer(nh_table *table, int seat, const nh_move *move, nh_error *error) {
    nh_move read = NH_MOVE;
    if (!is_seat(seat))
        return error_set(error, NH_ERROR_ARGUMENT, 0, "seat is %d; 0 to %d", seat, NH_SEATS - 1);
    nh_status status =
        question_read(&read, sizeof read, move, SIZE_PAST(nh_move, agree), "NH_MOVE", error);
    if (status == NH_OK)
        status = check_move(table, seat, &read, error);
    if (status != NH_OK)
        return status;
    table->seat[seat].answer = read;
    table->seat[seat].answered = true;
    return NH_OK;
}

static nh_status ask_seat(nh_table *table, int seat, nh_error *error) {
    struct seat *asked = &table->seat[seat];
    nh_move move = NH_MOVE;
    if (asked->play == NULL)
        return error_set(error, NH_ERROR_ARGUMENT, 0, "the player in the %s has not answered",
                         nh_wind_name(nh_seat_wind(seat)));
    table->asking = true;
    nh_status status = asked->play(asked->context, &table->view[seat], &move, error);
    table->asking = false;
    return status == NH_OK ? nh_table_answer(table, seat, &move, error) : status;
}

/* ---------------------------------------------------------------- play --- */

/* Tiles that a player gave are known to be elsewhere from now on. */
static void note_passed(struct seat *seat) {
    for (int kind = 0; kind < NH_KINDS; kind++) {
        int sum = seat->passed.count[kind] + seat->move.tiles.count[kind];
        seat->passed.count[kind] = (uint8_t)(sum < UINT8_MAX ? sum : UINT8_MAX);
    }
}

/* The seat that hands a tile on next: one to which all have come, else any to which
 * some have; -1 for none. */
static int next_to_hand_on(const uint8_t left[NH_SEATS], const nh_tiles came[NH_SEATS],
                           nh_direction direction) {
    int some = -1;
    for (int seat = NH_SEATS; seat-- > 0;) {
        if (left[seat] == 0 || nh_tiles_total(&came[seat]) == 0)
            continue;
        if (left[nh_seat_sender(seat, direction)] == 0)
            return seat;
        some = seat;
    }
    return some;
}

/* Tiles that came in go on, until everyone has handed on as many as they want. Where
 * all of a ring want to hand on everything, there is no tile to begin with. */
static void hand_on(nh_table *table, nh_tiles came[NH_SEATS], nh_direction direction) {
    uint8_t left[NH_SEATS];
    int seat;
    for (seat = 0; seat < NH_SEATS; seat++)
        left[seat] = table->seat[seat].move.blind;
    while ((seat = next_to_hand_on(left, came, direction)) >= 0) {
        nh_tiles one = {{0}}, *next = &came[nh_seat_receiver(seat, direction)];
        nh_deal_draw(&table->random, &came[seat], 1, &one);
        *next = tiles_with(next, &one);
        table->seat[seat].handed_on = tiles_with(&table->seat[seat].handed_on, &one);
        left[seat]--;
    }
}

static void pass_tiles(nh_table *table, nh_direction direction) {
    nh_tiles came[NH_SEATS] = {{{0}}};
    for (int seat = 0; seat < NH_SEATS; seat++) {
        const nh_tiles *pass = &table->seat[seat].move.tiles;
        nh_view *view = &table->view[seat];
        view->hand = tiles_without(&view->hand, pass);
        came[nh_seat_receiver(seat, direction)] = *pass;
        note_passed(&table->seat[seat]);
    }
    hand_on(table, came, direction);
    for (int seat = 0; seat < NH_SEATS; seat++) {
        nh_view *view = &table->view[seat];
        view->hand = tiles_with(&view->hand, &came[seat]);
        view->received = came[seat];
    }
}

nh_status nh_table_play(nh_table *table, nh_error *error) {
    nh_step step = table->step;
    bool agreed = true;
    if (table->asking)
        return refuse_while_asking(error);
    if (step.stage == NH_STAGE_OVER)
        return error_set(error, NH_ERROR_ARGUMENT, 0, "the Charleston is over");
    for (int seat = 0; seat < NH_SEATS; seat++) {
        nh_status status = table->seat[seat].answered ? NH_OK : ask_seat(table, seat, error);
        if (status != NH_OK)
            return status;
    }
    for (int seat = 0; seat < NH_SEATS; seat++) {
        table->seat[seat].move = table->seat[seat].answer;
        table->seat[seat].handed_on = (nh_tiles){{0}};
        agreed = agreed && table->seat[seat].move.agree;
    }
    if (step.stage == NH_STAGE_PASS || step.stage == NH_STAGE_EXCHANGE)
        pass_tiles(table, step.stage == NH_STAGE_PASS ? step.direction : NH_ACROSS);
    go_to(table, nh_charleston_next(table->charleston, step, agreed));
    return NH_OK;
}
