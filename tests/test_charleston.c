/* The Charleston: its rules against a plain list of its steps, and tables of four
 * against a referee that moves tiles the simplest way. */
#define _POSIX_C_SOURCE 200809L
#include "api.h"
#include "random_list.h"

static const struct {
    const char *charleston;
    uint8_t blind;
} rules[] = {
    /* all that a Charleston can have */
    {"{'rounds':[['right','across','left'],['left','across','right']],'courtesy':3,'keep':'F'}", 3},
    {"{'tiles':2,'rounds':[['left'],['across','right'],['right']],'courtesy':5}", 2},
    {"{'rounds':[],'courtesy':2}", 0},
    {"{'tiles':4,'rounds':[['across'],['across']]}", 1},
    /* few tiles may be passed */
    {"{'courtesy':3,'keep':'123456789B 123456789C 123456D ESWN R G'}", 0},
};
#define RULES ((int)(sizeof rules / sizeof *rules))

static nh_list *list_of(int which) {
    char quoted[1024];
    snprintf(quoted, sizeof quoted,
             "{'format':1,'title':'Table','tiles':{'flowers':8,'jokers':8},'charleston':%s,"
             "'patterns':[{'name':'Sets','groups':[{'set':'any','times':4},{'pair':'any'}]},"
             "{'name':'Pairs','groups':[{'pair':'any','times':7,'distinct':true}]}]}",
             rules[which].charleston);
    nh_list *list = read_list(quoted);
    ((nh_charleston *)nh_list_charleston(list))->blind = rules[which].blind;
    return list;
}

static void expect_same(const nh_tiles *a, const nh_tiles *b) {
    ck_assert_mem_eq(a->count, b->count, sizeof a->count);
}

static void expect_status(nh_status status, nh_status wanted, const nh_error *error,
                          const char *text) {
    ck_assert_int_eq(status, wanted);
    ck_assert_msg(strstr(error->text, text) != NULL, "'%s' is not in '%s'", text, error->text);
}

static nh_random begin_random(uint64_t standard) {
    const uint64_t seed = random_seed(standard);
    nh_random random;
    printf("seed %llu\n", (unsigned long long)seed);
    nh_random_start(&random, seed, 0);
    return random;
}

/* --------------------------------------------------------------- rules --- */

/* A Charleston with any numbers of rounds and passes. */
static nh_charleston random_charleston(nh_random *random) {
    nh_charleston charleston = {.tiles = 3};
    charleston.rounds = (uint8_t)nh_random_below(random, NH_CHARLESTON_ROUNDS_MAX + 1);
    charleston.courtesy = (uint8_t)nh_random_below(random, 3);
    charleston.blind = (uint8_t)nh_random_below(random, 256);
    for (int round = 0; round < charleston.rounds; round++) {
        charleston.steps[round] = (uint8_t)(1 + nh_random_below(random, NH_CHARLESTON_STEPS_MAX));
        for (int pass = 0; pass < charleston.steps[round]; pass++)
            charleston.direction[round][pass] = (uint8_t)nh_random_below(random, 3);
    }
    return charleston;
}

#define STEPS_MAX 80

/* All steps where the rounds up to `agreed` are played. */
static int list_steps(const nh_charleston *charleston, int agreed, nh_step steps[STEPS_MAX]) {
    int count = 0;
    for (int round = 1; round <= charleston->rounds; round++) {
        if (round > 1)
            steps[count++] = (nh_step){.stage = NH_STAGE_VOTE, .round = (uint8_t)round};
        if (round > agreed && round > 1)
            break;
        for (int pass = 1; pass <= charleston->steps[round - 1]; pass++)
            steps[count++] = (nh_step){
                .stage = NH_STAGE_PASS,
                .direction = (nh_direction)charleston->direction[round - 1][pass - 1],
                .round = (uint8_t)round,
                .pass = (uint8_t)pass,
                .blind = pass == charleston->steps[round - 1] &&
                         (charleston->blind & 1u << (round - 1)) != 0,
            };
    }
    if (charleston->courtesy > 0) {
        steps[count++] = (nh_step){.stage = NH_STAGE_COURTESY};
        steps[count++] = (nh_step){.stage = NH_STAGE_EXCHANGE};
    }
    steps[count++] = (nh_step){.stage = NH_STAGE_OVER};
    return count;
}

static void expect_step(nh_step step, nh_step wanted) {
    ck_assert_int_eq(step.stage, wanted.stage);
    ck_assert_int_eq(step.direction, wanted.direction);
    ck_assert_uint_eq(step.round, wanted.round);
    ck_assert_uint_eq(step.pass, wanted.pass);
    ck_assert_int_eq(step.blind, wanted.blind);
}

/* Passes behind a step of a Charleston that is played to its end, and those of
 * optional rounds. */
static void expect_left(const nh_charleston *charleston, const nh_step *steps, int count, int at) {
    unsigned left = 0, optional = 0;
    for (int i = at + 1; i < count; i++) {
        left += steps[i].stage == NH_STAGE_PASS;
        optional += steps[i].stage == NH_STAGE_PASS && steps[i].round > 1;
    }
    ck_assert_uint_eq(nh_charleston_left(charleston, steps[at]), left);
    ck_assert_uint_eq(nh_charleston_left_optional(charleston, steps[at]), optional);
}

START_TEST(steps_follow_the_list) {
    nh_random random = begin_random(101);
    for (int i = 0; i < 3000; i++) {
        const nh_charleston charleston = random_charleston(&random);
        const int agreed = (int)nh_random_below(&random, NH_CHARLESTON_ROUNDS_MAX + 1);
        nh_step steps[STEPS_MAX];
        const int count = list_steps(&charleston, agreed, steps);
        nh_step step = nh_charleston_first(&charleston);
        for (int at = 0; at < count; at++) {
            expect_step(step, steps[at]);
            if (agreed >= charleston.rounds)
                expect_left(&charleston, steps, count, at);
            if (step.stage == NH_STAGE_PASS) {
                nh_step placed;
                ck_assert_int_eq(
                    nh_charleston_pass(&charleston, step.round, step.pass, &placed, NULL), NH_OK);
                expect_step(placed, steps[at]);
            }
            step = nh_charleston_next(&charleston, step, step.round <= agreed);
        }
        expect_step(step, (nh_step){.stage = NH_STAGE_OVER});
    }
}
END_TEST

START_TEST(a_pass_that_is_not_there) {
    nh_list *list = list_of(0);
    const nh_charleston *charleston = nh_list_charleston(list);
    nh_error error;
    nh_step step;
    expect_status(nh_charleston_pass(charleston, 3, 1, &step, &error), NH_ERROR_ARGUMENT, &error,
                  "no round 3: the Charleston has 2");
    expect_status(nh_charleston_pass(charleston, 0, 1, &step, &error), NH_ERROR_ARGUMENT, &error,
                  "no round 0");
    expect_status(nh_charleston_pass(charleston, 2, 4, &step, &error), NH_ERROR_ARGUMENT, &error,
                  "no pass 4: round 2 has 3");
    expect_status(nh_charleston_pass(charleston, 2, 0, &step, &error), NH_ERROR_ARGUMENT, &error,
                  "no pass 0");
    nh_list_free(list);
}
END_TEST

/* Turns go east, south, west, north; the next in turn sits on the right. */
START_TEST(who_gets_what) {
    static const int receivers[3][NH_SEATS] = {
        [NH_RIGHT] = {1, 2, 3, 0}, [NH_ACROSS] = {2, 3, 0, 1}, [NH_LEFT] = {3, 0, 1, 2}};
    for (int direction = 0; direction < 3; direction++)
        for (int seat = 0; seat < NH_SEATS; seat++) {
            const int receiver = receivers[direction][seat];
            ck_assert_int_eq(nh_seat_receiver(seat, (nh_direction)direction), receiver);
            ck_assert_int_eq(nh_seat_sender(receiver, (nh_direction)direction), seat);
        }
    ck_assert_int_eq(nh_seat_wind(0), NH_WIND_EAST);
    ck_assert_int_eq(nh_seat_wind(3), NH_WIND_NORTH);
}
END_TEST

START_TEST(other_seats_and_steps_are_nobodys) {
    nh_list *list = list_of(0);
    const nh_charleston *charleston = nh_list_charleston(list);
    for (int seat = -1; seat <= NH_SEATS; seat += NH_SEATS + 1) {
        ck_assert_int_eq(nh_seat_wind(seat), NH_WIND_UNKNOWN);
        ck_assert_int_eq(nh_seat_receiver(seat, NH_LEFT), -1);
        ck_assert_int_eq(nh_seat_sender(seat, NH_LEFT), -1);
    }
    ck_assert_int_eq(nh_seat_receiver(0, (nh_direction)3), -1);
    ck_assert_int_eq(nh_seat_sender(0, (nh_direction)3), -1);
    nh_step vote = {.stage = NH_STAGE_VOTE}, pass = {.stage = NH_STAGE_PASS, .round = 2, .pass = 9};
    ck_assert_uint_eq(nh_charleston_left(charleston, vote), 6); /* all of both rounds */
    ck_assert_uint_eq(nh_charleston_left(charleston, pass), 0);
    vote.round = 0; /* no rounds that are not there */
    ck_assert_int_eq(nh_charleston_next(charleston, vote, true).stage, NH_STAGE_COURTESY);
    vote.round = charleston->rounds + 1;
    ck_assert_int_eq(nh_charleston_next(charleston, vote, true).stage, NH_STAGE_COURTESY);
    pass.round = charleston->rounds + 1;
    ck_assert_int_eq(nh_charleston_next(charleston, pass, true).stage, NH_STAGE_OVER);
    nh_list_free(list);
}
END_TEST

START_TEST(which_passes_are_legal) {
    nh_list *list = list_of(0); /* keeps flowers */
    const nh_charleston *charleston = nh_list_charleston(list);
    const nh_tiles hand = tiles_of("1133B 5C R FF J");
    const nh_tiles passable = nh_charleston_passable(charleston, &hand);
    const nh_tiles wanted = tiles_of("1133B 5C R");
    nh_error error;
    expect_same(&passable, &wanted);
    static const struct {
        const char *pass, *text; /* text NULL: legal */
        unsigned count;
    } cases[] = {
        {"11B R", NULL, 3},
        {"R", NULL, 1},
        {"11B", "pass 3 tiles, not 2", 3},
        {"11B R", "pass 1 tile, not 3", 1},
        {"111B", "only 2 of 1B, not 3", 3},
        {"9B", "the hand has no 9B", 1},
        {"F", "F may never be passed", 1},
        {"JJJ", "J may never be passed", 3},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const nh_tiles pass = tiles_of(cases[i].pass);
        nh_status status = nh_charleston_check(charleston, &hand, &pass, cases[i].count, &error);
        if (cases[i].text == NULL)
            ck_assert_int_eq(status, NH_OK);
        else
            expect_status(status, NH_ERROR_TILES, &error, cases[i].text);
    }
    const nh_tiles none = {{0}};
    ck_assert_int_eq(nh_charleston_check(charleston, &hand, &none, 0, NULL), NH_OK);
    nh_list_free(list);
}
END_TEST

/* Of a kind that was passed p times, the hand has h and the set s: at least
 * h + p - s of the passed ones are back. */
START_TEST(what_is_certainly_gone) {
    for (int set = 0; set <= 4; set++)
        for (int held = 0; held <= set; held++)
            for (int passed = 0; passed <= 9; passed++) {
                nh_tiles all = {{[NH_RED] = (uint8_t)set}}, hand = {{[NH_RED] = (uint8_t)held}},
                         gave = {{[NH_RED] = (uint8_t)passed}};
                int most = 0; /* tiles elsewhere that may have been passed */
                for (int elsewhere = 0; elsewhere <= passed; elsewhere++)
                    if (elsewhere + held <= set)
                        most = elsewhere;
                ck_assert_int_eq(nh_charleston_gone(&all, &hand, &gave).count[NH_RED], most);
            }
}
END_TEST

/* ------------------------------------------------------------- a referee --- */

/* Plays a seat at random; notes what it was asked and what it answered. */
struct random_player {
    const nh_charleston *charleston;
    nh_random *random;
    nh_view view;
    nh_move move;
    bool often_blind;
    long handed_on;
};

static nh_status play_at_random(void *context, const nh_view *view, nh_move *move,
                                nh_error *error) {
    struct random_player *player = context;
    nh_random *random = player->random;
    nh_tiles passable = nh_charleston_passable(player->charleston, &view->hand);
    (void)error;
    unsigned count = view->count;
    if (view->step.stage == NH_STAGE_PASS && view->step.blind) {
        move->blind = (uint8_t)(player->often_blind && nh_random_below(random, 2) == 0
                                    ? count
                                    : nh_random_below(random, count + 1));
        count -= move->blind;
        player->handed_on += move->blind;
    }
    if (view->step.stage == NH_STAGE_PASS || view->step.stage == NH_STAGE_EXCHANGE)
        nh_deal_draw(random, &passable, (int)count, &move->tiles);
    move->count =
        view->step.stage == NH_STAGE_COURTESY ? (uint8_t)nh_random_below(random, count + 1) : 0;
    move->agree = nh_random_below(random, 8) != 0;
    player->view = *view;
    player->move = *move;
    return NH_OK;
}

static int least_passable(const nh_charleston *charleston, const nh_tiles *hand, int first,
                          int apart, int most) {
    for (int seat = first; seat < NH_SEATS; seat += apart) {
        const nh_tiles passable = nh_charleston_passable(charleston, &hand[seat]);
        const int count = nh_tiles_total(&passable);
        most = count < most ? count : most;
    }
    return most;
}

/* What the table must ask a seat for, from the hands alone. */
static int count_wanted(const nh_charleston *charleston, const nh_tiles *hand,
                        const uint8_t *courtesy, nh_stage stage, int seat) {
    switch (stage) {
    case NH_STAGE_PASS:
    case NH_STAGE_VOTE:
        return least_passable(charleston, hand, 0, 1, charleston->tiles);
    case NH_STAGE_COURTESY:
        return least_passable(charleston, hand, seat % 2, 2, charleston->courtesy);
    case NH_STAGE_EXCHANGE:
        return courtesy[seat] < courtesy[(seat + 2) % 4] ? courtesy[seat]
                                                         : courtesy[(seat + 2) % 4];
    case NH_STAGE_OVER:
        break;
    }
    return 0;
}

/* One game: after every step the hands must be those that the moves make of the
 * hands before, and the next step the next one that has anything to do. */
struct referee {
    const nh_charleston *charleston;
    nh_tiles hand[NH_SEATS], passed[NH_SEATS];
    uint8_t courtesy[NH_SEATS];
    nh_step step;
};

static void skip_empty(struct referee *referee) {
    for (;;) {
        const nh_stage stage = referee->step.stage;
        int most = 0;
        for (int seat = 0; seat < NH_SEATS; seat++) {
            const int count =
                count_wanted(referee->charleston, referee->hand, referee->courtesy, stage, seat);
            most = count > most ? count : most;
        }
        if (most > 0 || stage == NH_STAGE_VOTE || stage == NH_STAGE_OVER)
            return;
        referee->step = nh_charleston_next(referee->charleston, referee->step, true);
    }
}

static void expect_asked(const struct referee *referee, const nh_list *list,
                         const struct random_player *player, int seat) {
    const nh_view *view = &player->view;
    const nh_tiles gone =
        nh_charleston_gone(nh_list_set(list), &referee->hand[seat], &referee->passed[seat]);
    expect_step(view->step, referee->step);
    ck_assert_ptr_eq(view->list, list);
    ck_assert_int_eq(view->seat, seat);
    ck_assert_int_eq(view->count, count_wanted(referee->charleston, referee->hand,
                                               referee->courtesy, view->step.stage, seat));
    expect_same(&view->hand, &referee->hand[seat]);
    expect_same(&view->gone, &gone);
}

/* Moves own tiles; what goes on unseen is taken from what the table shows. */
static void move_tiles(struct referee *referee, const nh_table *table,
                       const struct random_player *players) {
    static const int onward[] = {[NH_RIGHT] = 1, [NH_ACROSS] = 2, [NH_LEFT] = 3};
    const bool exchange = referee->step.stage == NH_STAGE_EXCHANGE;
    const int to = onward[exchange ? NH_ACROSS : referee->step.direction];
    bool blind = false;
    for (int seat = 0; seat < NH_SEATS; seat++)
        blind = blind || players[seat].move.blind > 0;
    for (int seat = 0; seat < NH_SEATS; seat++) {
        const nh_tiles *gave = &players[seat].move.tiles;
        const nh_tiles *came = &players[(seat + 4 - to) % 4].move.tiles;
        const nh_view *view = nh_table_view(table, seat);
        if (blind)
            came = &view->received;
        expect_same(&view->received, came);
        ck_assert(nh_tiles_take(&referee->hand[seat], gave));
        ck_assert(nh_tiles_add(&referee->hand[seat], came));
        ck_assert(nh_tiles_add(&referee->passed[seat], gave));
    }
}

static void expect_whole(const nh_list *list, const nh_table *table) {
    nh_tiles sum = *nh_table_wall(table);
    for (int seat = 0; seat < NH_SEATS; seat++) {
        const nh_tiles *hand = &nh_table_view(table, seat)->hand;
        ck_assert_int_eq(nh_tiles_total(hand), nh_list_hand_size(list) - (seat > 0));
        ck_assert(nh_tiles_add(&sum, hand));
    }
    expect_same(&sum, nh_list_set(list));
}

static int play_game(const nh_list *list, nh_table *table, struct random_player *players) {
    struct referee referee = {.charleston = nh_list_charleston(list)};
    nh_error error;
    int steps = 0;
    for (int seat = 0; seat < NH_SEATS; seat++)
        referee.hand[seat] = nh_table_view(table, seat)->hand;
    referee.step = nh_charleston_first(referee.charleston);
    skip_empty(&referee);
    for (; nh_table_step(table).stage != NH_STAGE_OVER; steps++) {
        bool agreed = true;
        expect_step(nh_table_step(table), referee.step);
        ck_assert_msg(nh_table_play(table, &error) == NH_OK, "%s", error.text);
        for (int seat = 0; seat < NH_SEATS; seat++) {
            expect_asked(&referee, list, &players[seat], seat);
            agreed = agreed && players[seat].move.agree;
            if (referee.step.stage == NH_STAGE_COURTESY)
                referee.courtesy[seat] = players[seat].move.count;
            ck_assert_mem_eq(nh_table_move(table, seat), &players[seat].move, sizeof(nh_move));
        }
        if (referee.step.stage == NH_STAGE_PASS || referee.step.stage == NH_STAGE_EXCHANGE)
            move_tiles(&referee, table, players);
        expect_whole(list, table);
        referee.step = nh_charleston_next(referee.charleston, referee.step, agreed);
        skip_empty(&referee);
    }
    expect_step(nh_table_step(table), referee.step);
    return steps;
}

START_TEST(a_table_moves_tiles_as_a_referee_does) {
    nh_random random = begin_random(4);
    long steps = 0, handed_on = 0;
    for (int which = 0; which < RULES; which++) {
        nh_list *list = list_of(which);
        nh_table *table;
        ck_assert_int_eq(nh_table_new(list, NULL, &table), NH_OK);
        struct random_player players[NH_SEATS];
        for (int seat = 0; seat < NH_SEATS; seat++) {
            players[seat] = (struct random_player){
                .charleston = nh_list_charleston(list), .random = &random, .often_blind = seat > 0};
            nh_table_seat(table, seat, play_at_random, &players[seat]);
        }
        for (uint64_t number = 0; number < 400; number++) {
            ck_assert_int_eq(nh_table_deal(table, 9, number, NULL), NH_OK);
            steps += play_game(list, table, players);
        }
        for (int seat = 0; seat < NH_SEATS; seat++)
            handed_on += players[seat].handed_on;
        nh_table_free(table);
        nh_list_free(list);
    }
    printf("%ld steps, %ld tiles handed on\n", steps, handed_on);
    ck_assert_int_gt(steps, 5000);
    ck_assert_int_gt(handed_on, 1000);
}
END_TEST

/* --------------------------------------------------------- unseen tiles --- */

static nh_table *table_at(const nh_list *list, uint64_t number, nh_stage stage, bool blind) {
    nh_table *table;
    nh_move agree = NH_MOVE;
    agree.agree = true;
    ck_assert_int_eq(nh_table_new(list, NULL, &table), NH_OK);
    ck_assert_int_eq(nh_table_deal(table, 5, number, NULL), NH_OK);
    nh_random random;
    nh_random_start(&random, 8, number);
    while (nh_table_step(table).stage != stage || nh_table_step(table).blind != blind) {
        ck_assert_int_ne(nh_table_step(table).stage, NH_STAGE_OVER);
        for (int seat = 0; seat < NH_SEATS; seat++) {
            nh_move move = agree;
            nh_tiles passable =
                nh_charleston_passable(nh_list_charleston(list), &nh_table_view(table, seat)->hand);
            if (nh_table_step(table).stage != NH_STAGE_VOTE)
                nh_deal_draw(&random, &passable, nh_table_view(table, seat)->count, &move.tiles);
            ck_assert_int_eq(nh_table_answer(table, seat, &move, NULL), NH_OK);
        }
        ck_assert_int_eq(nh_table_play(table, NULL), NH_OK);
    }
    return table;
}

/* Everyone but those of `senders` hands on all that comes in. */
static void play_blind(const nh_list *list, nh_table *table, unsigned senders) {
    nh_random random;
    nh_random_start(&random, 1, 1);
    for (int seat = 0; seat < NH_SEATS; seat++) {
        nh_move move = NH_MOVE;
        const nh_view *view = nh_table_view(table, seat);
        nh_tiles passable = nh_charleston_passable(nh_list_charleston(list), &view->hand);
        if ((senders >> seat & 1) != 0)
            nh_deal_draw(&random, &passable, view->count, &move.tiles);
        else
            move.blind = view->count;
        ck_assert_int_eq(nh_table_answer(table, seat, &move, NULL), NH_OK);
    }
    ck_assert_int_eq(nh_table_play(table, NULL), NH_OK);
}

/* Pass 3 of round 1 goes to the left, so that a tile comes round to the seats before:
 * one sender's tiles come back, and with two each gets those of the other. */
START_TEST(all_that_comes_in_goes_on) {
    nh_list *list = list_of(0);
    for (unsigned senders = 0; senders < 16; senders++) {
        nh_table *table = table_at(list, senders, NH_STAGE_PASS, true);
        nh_tiles before[NH_SEATS];
        for (int seat = 0; seat < NH_SEATS; seat++)
            before[seat] = nh_table_view(table, seat)->hand;
        play_blind(list, table, senders);
        for (int seat = 0; seat < NH_SEATS; seat++) {
            const nh_view *view = nh_table_view(table, seat);
            if ((senders >> seat & 1) == 0) {
                ck_assert_int_eq(nh_tiles_total(&view->received), 0);
                expect_same(&view->hand, &before[seat]);
                continue;
            }
            int sender = (seat + 1) % NH_SEATS;
            while ((senders >> sender & 1) == 0)
                sender = (sender + 1) % NH_SEATS;
            expect_same(&view->received, &nh_table_move(table, sender)->tiles);
        }
        expect_whole(list, table);
        nh_table_free(table);
    }
    nh_list_free(list);
}
END_TEST

/* One of three different tiles goes on: each in its turn, about as often. */
START_TEST(any_of_them_may_go_on) {
    enum { GAMES = 3000 };
    nh_list *list = list_of(0);
    int went[3] = {0}, games = 0;
    for (uint64_t number = 0; games < GAMES; number++) {
        nh_table *table = table_at(list, number, NH_STAGE_PASS, true);
        nh_tiles passable =
            nh_charleston_passable(nh_list_charleston(list), &nh_table_view(table, 1)->hand);
        nh_move first = NH_MOVE;
        for (int kind = 0; kind < NH_KINDS && nh_tiles_total(&first.tiles) < 3; kind++)
            first.tiles.count[kind] = passable.count[kind] > 0;
        if (nh_tiles_total(&first.tiles) == 3) {
            play_blind(list, table, 15);
            nh_table_free(table);
            table = table_at(list, number, NH_STAGE_PASS, true);
            for (int seat = 0; seat < NH_SEATS; seat++) {
                nh_move move = NH_MOVE;
                nh_tiles own = nh_charleston_passable(nh_list_charleston(list),
                                                      &nh_table_view(table, seat)->hand);
                nh_random random;
                nh_random_start(&random, 1, number);
                move.blind = seat == 0;
                nh_deal_draw(&random, &own, seat == 0 ? 2 : 3, &move.tiles);
                ck_assert_int_eq(nh_table_answer(table, seat, seat == 1 ? &first : &move, NULL),
                                 NH_OK);
            }
            ck_assert_int_eq(nh_table_play(table, NULL), NH_OK);
            nh_tiles on = first.tiles;
            ck_assert(nh_tiles_take(&on, &nh_table_view(table, 0)->received));
            int place = 0;
            for (int kind = 0; on.count[kind] == 0; kind++)
                place += first.tiles.count[kind];
            went[place]++;
            games++;
        }
        nh_table_free(table);
    }
    for (int place = 0; place < 3; place++) /* five standard deviations of 26 */
        ck_assert_msg(abs(went[place] - GAMES / 3) < 130, "%d of %d", went[place], GAMES);
    nh_list_free(list);
}
END_TEST

/* --------------------------------------------------------------- answers --- */

START_TEST(answers_that_may_not_be) {
    nh_list *list = list_of(0);
    nh_table *table = table_at(list, 1, NH_STAGE_PASS, false);
    const nh_view *view = nh_table_view(table, 2);
    nh_error error;
    nh_move move = NH_MOVE, zeroed = {.blind = 0};
    expect_status(nh_table_answer(table, 2, &zeroed, &error), NH_ERROR_ARGUMENT, &error, "NH_MOVE");
    expect_status(nh_table_answer(table, 2, &move, &error), NH_ERROR_TILES, &error,
                  "pass 3 tiles, not 0");
    move.blind = 1;
    expect_status(nh_table_answer(table, 2, &move, &error), NH_ERROR_ARGUMENT, &error,
                  "may go on unseen");
    expect_status(nh_table_play(table, &error), NH_ERROR_ARGUMENT, &error,
                  "the player in the east has not answered");
    const nh_tiles before = view->hand;
    ck_assert_int_eq(nh_table_step(table).pass, 1);
    expect_same(&view->hand, &before);
    nh_table_free(table);

    table = table_at(list, 1, NH_STAGE_PASS, true);
    move.blind = 4;
    expect_status(nh_table_answer(table, 2, &move, &error), NH_ERROR_ARGUMENT, &error,
                  "3 tiles come in: 4 cannot go on");
    move.blind = 2;
    expect_status(nh_table_answer(table, 2, &move, &error), NH_ERROR_TILES, &error,
                  "pass 1 tile, not 0");
    nh_table_free(table);

    table = table_at(list, 1, NH_STAGE_COURTESY, false);
    move = (nh_move)NH_MOVE;
    move.count = 4;
    expect_status(nh_table_answer(table, 2, &move, &error), NH_ERROR_ARGUMENT, &error,
                  "at most 3 tiles can be exchanged, not 4");
    move.count = 0;
    for (int seat = 0; seat < NH_SEATS; seat++)
        ck_assert_int_eq(nh_table_answer(table, seat, &move, NULL), NH_OK);
    ck_assert_int_eq(nh_table_play(table, NULL), NH_OK);
    ck_assert_int_eq(nh_table_step(table).stage, NH_STAGE_OVER); /* nobody wants any */
    expect_status(nh_table_answer(table, 2, &move, &error), NH_ERROR_ARGUMENT, &error, "over");
    expect_status(nh_table_play(table, &error), NH_ERROR_ARGUMENT, &error, "over");
    nh_table_free(table);
    nh_list_free(list);
}
END_TEST

static nh_status refuse(void *context, const nh_view *view, nh_move *move, nh_error *error) {
    (void)view, (void)move;
    *error = (nh_error){NH_ERROR_LIMIT, 0, "too hard"};
    ++*(int *)context;
    return NH_ERROR_LIMIT;
}

/* An answer that was given is kept until the step is played; what a function
 * returns comes back. */
START_TEST(who_is_asked) {
    nh_list *list = list_of(0);
    nh_table *table = table_at(list, 1, NH_STAGE_PASS, false);
    nh_move moves[NH_SEATS] = {NH_MOVE, NH_MOVE, NH_MOVE, NH_MOVE};
    nh_error error;
    int asked = 0;
    nh_random random;
    nh_random_start(&random, 2, 2);
    nh_table_seat(table, 3, refuse, &asked);
    for (int seat = 0; seat < NH_SEATS; seat++) {
        nh_tiles passable =
            nh_charleston_passable(nh_list_charleston(list), &nh_table_view(table, seat)->hand);
        nh_deal_draw(&random, &passable, 3, &moves[seat].tiles);
        if (seat < 3)
            ck_assert_int_eq(nh_table_answer(table, seat, &moves[seat], NULL), NH_OK);
    }
    expect_status(nh_table_play(table, &error), NH_ERROR_LIMIT, &error, "too hard");
    ck_assert_int_eq(asked, 1);
    ck_assert_int_eq(nh_table_step(table).pass, 1);
    ck_assert_int_eq(nh_table_answer(table, 3, &moves[3], NULL), NH_OK);
    ck_assert_int_eq(nh_table_play(table, &error), NH_OK);
    ck_assert_int_eq(asked, 1);
    ck_assert_int_eq(nh_table_step(table).pass, 2);
    expect_same(&nh_table_view(table, 1)->received, &moves[0].tiles);
    nh_table_free(table);
    nh_list_free(list);
}
END_TEST

/* Tries to play the table while it is asked. */
static nh_status meddle(void *context, const nh_view *view, nh_move *move, nh_error *error) {
    nh_table *table = context;
    nh_random random;
    nh_error inner;
    const nh_deal deal = *nh_table_dealt(table);
    (void)move;
    nh_random_start(&random, 1, 1);
    expect_status(nh_table_play(table, &inner), NH_ERROR_ARGUMENT, &inner, "is being asked");
    expect_status(nh_table_deal(table, 1, 1, &inner), NH_ERROR_ARGUMENT, &inner, "is being asked");
    expect_status(nh_table_start(table, &deal, &random, &inner), NH_ERROR_ARGUMENT, &inner,
                  "is being asked");
    ck_assert_ptr_eq(nh_table_view(table, view->seat), view);
    *error = (nh_error){NH_ERROR_LIMIT, 0, "seen"};
    return NH_ERROR_LIMIT;
}

START_TEST(a_table_is_not_played_while_it_asks) {
    nh_list *list = list_of(0);
    nh_table *table = table_at(list, 1, NH_STAGE_PASS, false);
    nh_move move = NH_MOVE;
    nh_error error;
    for (int seat = -1; seat <= NH_SEATS; seat++)
        nh_table_seat(table, seat, meddle, table);
    expect_status(nh_table_play(table, &error), NH_ERROR_LIMIT, &error, "seen");
    ck_assert_int_eq(nh_table_step(table).pass, 1);
    ck_assert_int_eq(nh_table_deal(table, 1, 1, &error), NH_OK);
    expect_status(nh_table_answer(table, NH_SEATS, &move, &error), NH_ERROR_ARGUMENT, &error,
                  "seat is 4; 0 to 3");
    ck_assert_ptr_null(nh_table_view(table, -1));
    ck_assert_ptr_null(nh_table_move(table, NH_SEATS));
    nh_table_free(table);
    nh_list_free(list);
}
END_TEST

START_TEST(a_game_begins_with_its_deal) {
    nh_list *list = list_of(1);
    nh_table *table;
    nh_deal deal;
    nh_error error;
    nh_random random;
    ck_assert_int_eq(nh_table_new(list, NULL, &table), NH_OK);
    ck_assert_int_eq(nh_table_step(table).stage, NH_STAGE_OVER);
    ck_assert_int_eq(nh_deal_table(list, 77, 3, &deal), NH_OK);
    ck_assert_int_eq(nh_table_deal(table, 77, 3, NULL), NH_OK);
    ck_assert_mem_eq(nh_table_dealt(table), &deal, sizeof deal);
    ck_assert_int_eq(nh_table_view(table, 1)->prevailing, deal.prevailing);
    deal.hand[2].count[NH_RED]++;
    nh_random_start(&random, 1, 1);
    expect_status(nh_table_start(table, &deal, &random, &error), NH_ERROR_TILES, &error,
                  "the deal has 5 of R, the set 4");
    deal.hand[2].count[NH_RED]--;
    ck_assert_int_eq(nh_table_start(table, &deal, &random, NULL), NH_OK);
    deal.prevailing = (nh_wind)5;
    expect_status(nh_table_start(table, &deal, &random, &error), NH_ERROR_ARGUMENT, &error,
                  "the prevailing wind is 5");
    nh_table_free(table);
    nh_list_free(list);
}
END_TEST

START_TEST(a_set_that_is_too_small_for_a_table) {
    nh_list *list = read_list("{'format':1,'title':'Short','hand':8,'tiles':{'suits':[]},"
                              "'patterns':[{'name':'P','groups':"
                              "[{'kong':'honour'},{'kong':'wind'}]}]}");
    nh_table *table;
    nh_error error;
    ck_assert_int_eq(nh_table_new(list, NULL, &table), NH_OK);
    expect_status(nh_table_deal(table, 1, 1, &error), NH_ERROR_ARGUMENT, &error,
                  "the list's set has 28 tiles, too few for four hands of 8");
    nh_table_free(table);
    nh_list_free(list);
}
END_TEST

/* Exchanges tiles of a deal so that a hand has so many of a kind. */
static void give_tiles(nh_deal *deal, int seat, int kind, int count) {
    nh_tiles *hand = &deal->hand[seat];
    for (int other = NH_SEATS; hand->count[kind] < count && other >= 0; other--) {
        nh_tiles *from = other == NH_SEATS ? &deal->wall : &deal->hand[other];
        for (int own = 0; own < NH_KINDS && other != seat; own++)
            while (own != kind && hand->count[own] > 0 && from->count[kind] > 0 &&
                   hand->count[kind] < count) {
                hand->count[own]--;
                from->count[own]++;
                from->count[kind]--;
                hand->count[kind]++;
            }
    }
    ck_assert_int_eq(hand->count[kind], count);
}

/* Two players pass each other the same flowers more often than a count holds: all of them
 * are certainly with the other. */
START_TEST(tiles_that_are_passed_without_end) {
    static const char round[] = "['across','across','across','across','across','across','across',"
                                "'across']";
    char json[2048];
    snprintf(json, sizeof json,
             "{'format':1,'title':'Ring','tiles':{'flowers':8},'charleston':{'tiles':4,"
             "'courtesy':1,'rounds':[%s,%s,%s,%s,%s,%s,%s,%s]},'patterns':[{'name':'Sets',"
             "'groups':[{'set':'any','times':4},{'pair':'any'}]}]}",
             round, round, round, round, round, round, round, round);
    nh_list *list = read_list(json);
    nh_table *table;
    nh_deal deal;
    nh_random random;
    int passes = 0;
    nh_random_start(&random, 1, 1);
    ck_assert_int_eq(nh_deal_table(list, 1, 1, &deal), NH_OK);
    give_tiles(&deal, 0, NH_FLOWER, 4);
    give_tiles(&deal, 2, NH_FLOWER, 4);
    ck_assert_int_eq(nh_table_new(list, NULL, &table), NH_OK);
    ck_assert_int_eq(nh_table_start(table, &deal, &random, NULL), NH_OK);
    while (nh_table_step(table).stage != NH_STAGE_COURTESY) {
        passes += nh_table_step(table).stage == NH_STAGE_PASS;
        for (int seat = 0; seat < NH_SEATS; seat++) {
            nh_move move = NH_MOVE;
            move.agree = true;
            move.tiles.count[NH_FLOWER] = seat % 2 == 0 ? 4 : 0;
            const nh_tiles *hand = &nh_table_view(table, seat)->hand;
            for (int kind = 0; kind < NH_FLOWER && nh_tiles_total(&move.tiles) < 4; kind++)
                while (move.tiles.count[kind] < hand->count[kind] &&
                       nh_tiles_total(&move.tiles) < 4)
                    move.tiles.count[kind]++;
            ck_assert_int_eq(nh_table_answer(table, seat, &move, NULL), NH_OK);
        }
        ck_assert_int_eq(nh_table_play(table, NULL), NH_OK);
        ck_assert_int_eq(nh_table_view(table, 0)->gone.count[NH_FLOWER], 4);
        ck_assert_int_eq(nh_table_view(table, 1)->gone.count[NH_FLOWER], 0);
    }
    ck_assert_int_eq(passes, 64);
    nh_table_free(table);
    nh_list_free(list);
}
END_TEST

/* Where a player has only tiles that are kept nothing can be passed, and yet there is a
 * vote. */
START_TEST(votes_on_rounds_without_tiles) {
    nh_list *list =
        read_list("{'format':1,'title':'Kept','tiles':{'jokers':16},'charleston':{'courtesy':3,"
                  "'rounds':[['right','left'],['across']]},'patterns':[{'name':'Sets','groups':["
                  "{'pung':'any','times':4},{'pair':'any'}]}]}");
    nh_table *table;
    nh_deal deal;
    nh_random random;
    nh_move agreed = NH_MOVE;
    agreed.agree = true;
    nh_random_start(&random, 1, 1);
    ck_assert_int_eq(nh_deal_table(list, 1, 1, &deal), NH_OK);
    give_tiles(&deal, 1, NH_JOKER, 13);
    ck_assert_int_eq(nh_table_new(list, NULL, &table), NH_OK);
    ck_assert_int_eq(nh_table_start(table, &deal, &random, NULL), NH_OK);
    ck_assert_int_eq(nh_table_step(table).stage, NH_STAGE_VOTE);
    ck_assert_uint_eq(nh_table_step(table).round, 2);
    for (int seat = 0; seat < NH_SEATS; seat++)
        ck_assert_int_eq(nh_table_answer(table, seat, &agreed, NULL), NH_OK);
    ck_assert_int_eq(nh_table_play(table, NULL), NH_OK);
    ck_assert_int_eq(nh_table_step(table).stage, NH_STAGE_COURTESY); /* of the others */
    ck_assert_int_eq(nh_table_view(table, 0)->count, 3);
    ck_assert_int_eq(nh_table_view(table, 1)->count, 0);
    nh_table_free(table);
    nh_list_free(list);
}
END_TEST

/* --------------------------------------------------------- exact player --- */

/* The best choice of one number of tiles, asked again. */
static nh_choice best_of(nh_workspace *workspace, const nh_view *view, int tiles,
                         nh_passing *passing) {
    nh_situation situation = NH_SITUATION;
    nh_pass_question question = NH_PASS_QUESTION;
    nh_choice best;
    situation.seen = view->gone;
    situation.prevailing = view->prevailing;
    situation.seat = (nh_wind)(NH_WIND_EAST + view->seat);
    question.situation = &situation;
    question.tiles = tiles;
    ck_assert_int_eq(nh_pass(workspace, &view->hand, &question, &best, 1, passing, NULL), NH_OK);
    return best;
}

/* The number of tiles, up to `most`, with the least average. */
static int number_wanted(nh_workspace *workspace, const nh_view *view, int most) {
    double least = 1e9;
    int number = 0;
    for (int count = 0; count <= most; count++) {
        nh_passing passing;
        const nh_choice best = best_of(workspace, view, count, &passing);
        const double average = (double)best.expected / (double)passing.draws;
        if (average < least - 1e-12) {
            least = average;
            number = count;
        }
    }
    return number;
}

static void expect_exact(nh_workspace *workspace, const nh_view *view, const nh_move *move) {
    nh_passing passing;
    int own = view->count;
    switch (view->step.stage) {
    case NH_STAGE_VOTE: {
        const nh_choice best = best_of(workspace, view, view->count, &passing);
        ck_assert_int_eq(move->agree, best.expected < passing.away * passing.draws);
        return;
    }
    case NH_STAGE_COURTESY:
        ck_assert_int_eq(move->count, number_wanted(workspace, view, own < 3 ? own : 3));
        return;
    default:
        if (view->step.blind)
            own = number_wanted(workspace, view, own);
        ck_assert_int_eq(move->blind, view->count - own);
        const nh_choice best = best_of(workspace, view, own, &passing);
        expect_same(&move->tiles, &best.pass);
    }
}

/* Four seats of one player, and one that is made again for each. */
static void play_exactly(int which, uint64_t number) {
    nh_list *list = list_of(which);
    nh_workspace *workspace = new_workspace(list), *other = new_workspace(list);
    nh_exact_player *player;
    nh_table *table;
    nh_error error;
    ck_assert_int_eq(nh_exact_player_new(workspace, NULL, &player), NH_OK);
    ck_assert_int_eq(nh_table_new(list, NULL, &table), NH_OK);
    for (int seat = 0; seat < NH_SEATS; seat++)
        nh_table_seat(table, seat, nh_exact_play, player);
    ck_assert_int_eq(nh_table_deal(table, 6, number, NULL), NH_OK);
    while (nh_table_step(table).stage != NH_STAGE_OVER) {
        nh_view views[NH_SEATS];
        for (int seat = 0; seat < NH_SEATS; seat++)
            views[seat] = *nh_table_view(table, seat);
        ck_assert_msg(nh_table_play(table, &error) == NH_OK, "%s", error.text);
        for (int seat = 0; seat < NH_SEATS; seat++)
            expect_exact(other, &views[seat], nh_table_move(table, seat));
    }
    nh_table_free(table);
    nh_exact_player_free(player);
    nh_workspace_free(workspace);
    nh_workspace_free(other);
    nh_list_free(list);
}

START_TEST(the_exact_player_plays_the_best_pass) {
    for (uint64_t number = 0; number < 2; number++)
        for (int which = 0; which < RULES; which++)
            if (which != 3) /* which passes four tiles */
                play_exactly(which, number);
}
END_TEST

START_TEST(what_the_exact_player_cannot_play) {
    nh_list *list = list_of(3), *other = list_of(0);
    nh_workspace *workspace = new_workspace(list);
    nh_exact_player *player;
    nh_error error;
    ck_assert_int_eq(nh_exact_player_new(workspace, NULL, &player), NH_OK);
    nh_table *table = table_at(other, 1, NH_STAGE_PASS, false);
    for (int seat = 0; seat < NH_SEATS; seat++)
        nh_table_seat(table, seat, nh_exact_play, player);
    expect_status(nh_table_play(table, &error), NH_ERROR_ARGUMENT, &error, "different lists");
    nh_table_free(table);
    ck_assert_int_eq(nh_table_new(list, NULL, &table), NH_OK);
    ck_assert_int_eq(nh_table_deal(table, 1, 1, NULL), NH_OK);
    for (int seat = 0; seat < NH_SEATS; seat++)
        nh_table_seat(table, seat, nh_exact_play, player);
    ck_assert_int_eq(nh_table_step(table).blind, true);
    ck_assert_int_eq(nh_table_play(table, &error), NH_OK); /* three own, one unseen */
    nh_table_free(table);
    nh_exact_player_free(player);
    nh_workspace_free(workspace);
    nh_list_free(list);
    nh_list_free(other);
}
END_TEST

/* Views that a program makes of its own. */
START_TEST(views_of_any_kind_are_answered) {
    static const nh_stage stages[] = {NH_STAGE_PASS, NH_STAGE_EXCHANGE, NH_STAGE_VOTE,
                                      NH_STAGE_COURTESY};
    nh_list *list =
        read_list("{'format':1,'title':'Winds','hand':5,'patterns':[{'name':'W','groups':["
                  "{'pung':'prevailing'},{'pair':'red'}]}]}");
    nh_workspace *workspace = new_workspace(list), *other = new_workspace(list);
    nh_exact_player *player;
    nh_move move = NH_MOVE;
    nh_error error;
    nh_view view = {.list = list, .seat = 1, .count = 2};
    ck_assert_int_eq(nh_exact_player_new(workspace, NULL, &player), NH_OK);
    view.hand = tiles_of("EE SS");
    view.step.stage = NH_STAGE_PASS;
    for (nh_wind prevailing = NH_WIND_EAST; prevailing <= NH_WIND_SOUTH; prevailing++) {
        nh_passing passing;
        view.prevailing = prevailing; /* what is remembered is of the other wind */
        ck_assert_int_eq(nh_exact_play(player, &view, &move, NULL), NH_OK);
        const nh_choice best = best_of(other, &view, 2, &passing);
        expect_same(&move.tiles, &best.pass);
        ck_assert_int_eq(move.tiles.count[prevailing == NH_WIND_EAST ? NH_SOUTH : NH_EAST], 2);
    }
    view.hand.count[NH_RED] = 5;
    for (size_t i = 0; i < 2 * sizeof stages / sizeof *stages; i++) {
        view.step.stage = stages[i / 2];
        view.step.blind = i % 2 != 0;
        expect_status(nh_exact_play(player, &view, &move, &error), NH_ERROR_TILES, &error,
                      "5 of R");
    }
    view.hand.count[NH_RED] = 0;
    view.step.blind = false;
    view.count = 4;
    for (size_t i = 0; i < 3; i++) {
        view.step.stage = stages[i];
        expect_status(nh_exact_play(player, &view, &move, &error), NH_ERROR_ARGUMENT, &error,
                      "tiles is 4; a pass has 0 to 3");
    }
    move = (nh_move)NH_MOVE;
    view.count = 2;
    view.gone = tiles_of("RRRR"); /* no target is left, whatever comes in */
    view.step.stage = NH_STAGE_VOTE;
    ck_assert_int_eq(nh_exact_play(player, &view, &move, NULL), NH_OK);
    ck_assert(!move.agree);
    view.step.stage = NH_STAGE_COURTESY;
    ck_assert_int_eq(nh_exact_play(player, &view, &move, NULL), NH_OK);
    ck_assert_int_eq(move.count, 0);
    view.step.stage = NH_STAGE_OVER;
    const nh_move before = move;
    ck_assert_int_eq(nh_exact_play(player, &view, &move, NULL), NH_OK);
    ck_assert_mem_eq(&move, &before, sizeof move);
    nh_exact_player_free(player);
    nh_workspace_free(workspace);
    nh_workspace_free(other);
    nh_list_free(list);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("charleston");
    ADD_TESTS(suite, "rules", steps_follow_the_list, a_pass_that_is_not_there, who_gets_what,
              other_seats_and_steps_are_nobodys, which_passes_are_legal, what_is_certainly_gone);
    ADD_TESTS(suite, "table", a_table_moves_tiles_as_a_referee_does, all_that_comes_in_goes_on,
              any_of_them_may_go_on, answers_that_may_not_be, who_is_asked,
              a_table_is_not_played_while_it_asks, a_game_begins_with_its_deal,
              a_set_that_is_too_small_for_a_table, tiles_that_are_passed_without_end,
              votes_on_rounds_without_tiles);
    ADD_TESTS(suite, "exact player", the_exact_player_plays_the_best_pass,
              what_the_exact_player_cannot_play, views_of_any_kind_are_answered);
    return run_suite(suite);
}
