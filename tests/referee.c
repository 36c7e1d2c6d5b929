/* A referee of games: see referee.h. */
#include "referee.h"

#include <check.h>
#include <string.h>

static void move(nh_tiles *from, nh_tiles *to, const nh_tiles *tiles) {
    ck_assert(nh_tiles_take(from, tiles));
    ck_assert(nh_tiles_add(to, tiles));
}

static void move_one(nh_tiles *from, nh_tiles *to, uint8_t kind) {
    nh_tiles one = {{0}};
    ck_assert_uint_lt(kind, NH_KINDS);
    one.count[kind] = 1;
    move(from, to, &one);
}

/* Whole, for the sets on the table; one less between turns. A kong counts three where
 * patterns are larger than a hand. */
static int whole_hand(const referee *of, int seat) {
    int size = nh_list_hand_size(of->list);
    bool replaced = nh_list_hand_most(of->list) > size;
    for (size_t i = 0; i < of->set_count[seat]; i++)
        size -= replaced && of->sets[seat][i].shape == NH_KONG ? 3 : of->sets[seat][i].tiles;
    return size;
}

/* Every tile of the set is somewhere, once. */
static void check_tiles(const referee *of) {
    nh_tiles all = of->wall;
    for (int seat = 0; seat < NH_SEATS; seat++) {
        ck_assert(nh_tiles_add(&all, &of->hand[seat]));
        ck_assert(nh_tiles_add(&all, &of->discards[seat]));
        for (size_t i = 0; i < of->set_count[seat]; i++) {
            nh_tiles set;
            nh_set_tiles(&of->sets[seat][i], &set);
            ck_assert(nh_tiles_add(&all, &set));
        }
    }
    if (of->discarder >= 0)
        all.count[of->offered]++;
    ck_assert(nh_tiles_equal(&all, nh_list_set(of->list)));
}

static void forget_rest(referee *of, int seat) {
    nh_workspace_free(of->workspace[seat]);
    nh_list_free(of->rest[seat]);
    of->workspace[seat] = NULL;
    of->rest[seat] = NULL;
}

/* The sets of a seat are not what they were. */
static void find_rest(referee *of, int seat) {
    forget_rest(of, seat);
    ck_assert_int_eq(
        nh_list_rest(of->list, of->sets[seat], of->set_count[seat], NULL, &of->rest[seat], NULL),
        NH_OK);
    ck_assert_int_eq(nh_workspace_new(of->rest[seat], NULL, &of->workspace[seat]), NH_OK);
}

/* Whether the concealed tiles of a seat, with one more where it is not NH_KINDS, are
 * complete; the most points go to `*points`. */
static bool is_complete(const referee *of, int seat, uint8_t with, double *points) {
    nh_situation situation = NH_SITUATION;
    nh_check_question question = NH_CHECK_QUESTION;
    nh_checking checking;
    nh_completed row;
    nh_tiles hand = of->hand[seat];
    if (with != NH_KINDS)
        hand.count[with]++;
    situation.prevailing = of->prevailing;
    situation.seat = nh_seat_wind(seat);
    question.situation = &situation;
    ck_assert_int_eq(nh_check(of->workspace[seat], &hand, &question, &row, 1, &checking, NULL),
                     NH_OK);
    if (points != NULL && checking.completed > 0)
        *points = row.points;
    return checking.completed > 0;
}

void referee_leaves(referee *of) {
    for (int seat = 0; seat < NH_SEATS; seat++)
        forget_rest(of, seat);
}

/* ------------------------------------------------------ the Charleston --- */

static void deal(referee *of, const nh_event *event) {
    nh_deal again;
    ck_assert_int_eq(nh_deal_table(of->list, of->seed, of->number, &again), NH_OK);
    ck_assert_int_eq(memcmp(again.hand, event->deal->hand, sizeof again.hand), 0);
    ck_assert(nh_tiles_equal(&again.wall, &event->deal->wall));
    ck_assert_int_eq(again.prevailing, event->deal->prevailing);
    memcpy(of->hand, again.hand, sizeof of->hand);
    memset(of->discards, 0, sizeof of->discards);
    memset(of->set_count, 0, sizeof of->set_count);
    for (int seat = 0; seat < NH_SEATS; seat++)
        find_rest(of, seat);
    of->prevailing = again.prevailing;
    of->wall = again.wall;
    of->discarder = -1;
    of->over = of->to_draw = of->to_discard = false;
    of->turns = 0;
}

static void check_given(referee *of, const nh_event *event, int seat) {
    const nh_charleston *charleston = nh_list_charleston(of->list);
    const nh_tiles *gives = &event->gives[seat];
    nh_tiles passable = nh_charleston_passable(charleston, gives);
    ck_assert_int_eq(gives->count[NH_JOKER], 0);
    ck_assert(nh_tiles_equal(&passable, gives));
    if (event->type == NH_EVENT_PASS) {
        ck_assert_int_le(nh_tiles_total(gives), charleston->tiles);
        int sender = nh_seat_sender(seat, event->step.direction);
        ck_assert_int_eq(nh_tiles_total(gives), nh_tiles_total(&event->gives[sender]));
    } else {
        int across = nh_seat_receiver(seat, NH_ACROSS);
        ck_assert_int_le(nh_tiles_total(gives), charleston->courtesy);
        ck_assert_int_eq(nh_tiles_total(gives), nh_tiles_total(&event->gives[across]));
    }
    for (int kind = 0; kind < NH_KINDS; kind++)
        if (gives->count[kind] > of->hand[seat].count[kind]) {
            ck_assert(event->step.blind); /* handed on unseen */
            of->given_unseen++;
        }
}

static void pass(referee *of, const nh_event *event) {
    nh_direction direction = event->type == NH_EVENT_COURTESY ? NH_ACROSS : event->step.direction;
    nh_tiles after[NH_SEATS];
    for (int seat = 0; seat < NH_SEATS; seat++)
        check_given(of, event, seat);
    for (int seat = 0; seat < NH_SEATS; seat++) {
        after[seat] = of->hand[seat];
        ck_assert(nh_tiles_add(&after[seat], &event->gives[nh_seat_sender(seat, direction)]));
        ck_assert(nh_tiles_take(&after[seat], &event->gives[seat]));
    }
    memcpy(of->hand, after, sizeof after);
}

static void begin_play(referee *of) {
    for (int seat = 0; seat < NH_SEATS; seat++)
        ck_assert_int_eq(nh_tiles_total(&of->hand[seat]), whole_hand(of, seat) - (seat > 0));
    of->seat = 0;
    of->turns = 1;
    of->to_discard = true;
    of->changed = true;
    of->after_kong = false;
}

/* ---------------------------------------------------------------- play --- */

/* Nobody wanted the discard: the next in turn draws. */
static void let_discard_go(referee *of) {
    if (of->discarder < 0)
        return;
    if (of->takes_every_win)
        for (int seat = 0; seat < NH_SEATS; seat++)
            ck_assert(seat == of->discarder || of->offered == NH_JOKER ||
                      !is_complete(of, seat, of->offered, NULL));
    of->discards[of->discarder].count[of->offered]++;
    of->seat = (of->discarder + 1) % NH_SEATS;
    of->discarder = -1;
    of->to_draw = true;
    of->turns++;
}

static void draw(referee *of, const nh_event *event) {
    let_discard_go(of);
    ck_assert(of->to_draw);
    ck_assert_int_eq(event->seat, of->seat);
    ck_assert_int_eq(event->kong, of->after_kong);
    move_one(&of->wall, &of->hand[of->seat], event->kind);
    of->to_draw = of->after_kong = false;
    of->to_discard = of->changed = true;
}

static void discard(referee *of, const nh_event *event) {
    nh_tiles gone = {{0}};
    ck_assert(of->to_discard);
    ck_assert_int_eq(event->seat, of->seat);
    ck_assert_int_eq(nh_tiles_total(&of->hand[of->seat]), whole_hand(of, of->seat));
    if (of->takes_every_win && of->changed)
        ck_assert(!is_complete(of, of->seat, NH_KINDS, NULL));
    move_one(&of->hand[of->seat], &gone, event->kind);
    of->discarder = of->seat;
    of->offered = event->kind;
    of->to_discard = false;
}

static void exchange(referee *of, const nh_event *event) {
    ck_assert(of->to_discard);
    ck_assert_int_eq(event->seat, of->seat);
    ck_assert(nh_list_play(of->list)->exchange);
    for (size_t i = 0; i < of->set_count[event->from]; i++) {
        nh_set *set = &of->sets[event->from][i];
        if (set->kind != event->kind || set->jokers == 0 || set->shape != event->set.shape)
            continue;
        set->jokers--;
        ck_assert_int_eq(memcmp(set, &event->set, sizeof *set), 0);
        ck_assert_uint_gt(of->hand[of->seat].count[event->kind], 0);
        of->hand[of->seat].count[event->kind]--;
        of->hand[of->seat].count[NH_JOKER]++;
        of->changed = true;
        of->exchanges++;
        find_rest(of, event->from);
        return;
    }
    ck_abort_msg("there is no such set to take a joker from");
}

static void check_set(const referee *of, const nh_event *event) {
    const nh_play_rules *rules = nh_list_play(of->list);
    const nh_set *set = &event->set;
    if (set->shape == NH_CHOW) {
        ck_assert(rules->chow);
        ck_assert(rules->chow_from_any || (event->from + 1) % NH_SEATS == event->seat);
        ck_assert_int_eq(set->jokers, 0);
        ck_assert_int_lt(set->kind, NH_EAST);
        ck_assert_int_le(set->kind % 9, 6);
        ck_assert(event->kind >= set->kind && event->kind <= set->kind + 2);
        return;
    }
    ck_assert(set->shape == NH_PUNG     ? rules->pung
              : set->shape == NH_KONG   ? rules->kong
              : set->shape == NH_QUINT  ? rules->quint
              : set->shape == NH_SEXTET ? rules->sextet
                                        : false);
    ck_assert_int_eq(set->tiles, set->shape);
    ck_assert_int_eq(set->kind, event->kind);
    ck_assert_int_lt(set->jokers, set->tiles);
}

static void claim(referee *of, const nh_event *event) {
    nh_tiles tiles, away = {{0}};
    ck_assert_int_ge(of->discarder, 0);
    ck_assert_int_eq(event->from, of->discarder);
    ck_assert_int_ne(event->seat, of->discarder);
    ck_assert_int_eq(event->kind, of->offered);
    ck_assert_int_ne(event->kind, NH_JOKER);
    check_set(of, event);
    if (of->takes_every_win) /* a win goes before a set */
        for (int seat = 0; seat < NH_SEATS; seat++)
            ck_assert(seat == of->discarder || !is_complete(of, seat, event->kind, NULL));
    nh_set_tiles(&event->set, &tiles);
    tiles.count[event->kind]--;
    move(&of->hand[event->seat], &away, &tiles);
    of->sets[event->seat][of->set_count[event->seat]++] = event->set;
    find_rest(of, event->seat);
    of->discarder = -1;
    of->seat = event->seat;
    of->turns++;
    of->to_draw = nh_tiles_total(&of->hand[of->seat]) < whole_hand(of, of->seat);
    ck_assert(!of->to_draw || event->set.shape == NH_KONG);
    of->after_kong = of->to_draw;
    of->to_discard = !of->to_draw;
    of->changed = false;
    of->claims++;
}

static void win(referee *of, const nh_event *event) {
    double points = 0;
    if (event->claimed) {
        ck_assert_int_eq(event->from, of->discarder);
        ck_assert_int_eq(event->kind, of->offered);
        ck_assert_int_ne(event->kind, NH_JOKER);
        for (int next = 1; of->takes_every_win && next < NH_SEATS; next++) {
            int seat = (of->discarder + next) % NH_SEATS;
            if (seat == event->seat)
                break;
            ck_assert(!is_complete(of, seat, of->offered, NULL));
        }
        of->hand[event->seat].count[event->kind]++;
        of->discarder = -1;
    } else {
        ck_assert(of->to_discard && of->changed);
        ck_assert_int_eq(event->seat, of->seat);
        ck_assert_int_eq(event->from, of->seat);
    }
    ck_assert(is_complete(of, event->seat, NH_KINDS, &points));
    ck_assert(points == event->won->points);
    of->over = true;
    of->wins++;
}

static void end_of_wall(referee *of) {
    bool begins = of->discarder >= 0;
    let_discard_go(of);
    ck_assert(of->to_draw);
    ck_assert_int_eq(nh_tiles_total(&of->wall), 0);
    of->turns -= begins;
    of->over = true;
    of->walls++;
}

void referee_hears(void *context, const nh_event *event) {
    referee *of = context;
    ck_assert(!of->over || event->type == NH_EVENT_DEAL);
    switch (event->type) {
    case NH_EVENT_DEAL:
        deal(of, event);
        break;
    case NH_EVENT_PASS:
    case NH_EVENT_COURTESY:
        pass(of, event);
        break;
    case NH_EVENT_VOTE:
        break;
    case NH_EVENT_PLAY:
        begin_play(of);
        break;
    case NH_EVENT_DRAW:
        draw(of, event);
        break;
    case NH_EVENT_EXCHANGE:
        exchange(of, event);
        break;
    case NH_EVENT_DISCARD:
        discard(of, event);
        break;
    case NH_EVENT_CLAIM:
        claim(of, event);
        break;
    case NH_EVENT_WIN:
        win(of, event);
        break;
    case NH_EVENT_WALL:
        end_of_wall(of);
        break;
    }
    of->events++;
    ck_assert_uint_eq(event->turn, of->turns);
    ck_assert_int_eq((int)event->wall, nh_tiles_total(&of->wall));
    ck_assert_int_eq(memcmp(event->hands, of->hand, sizeof of->hand), 0);
    check_tiles(of);
}
