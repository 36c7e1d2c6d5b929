/* A round of a drill: the player answers each step of the Charleston, then says
 * which pattern the hand goes for. */
#include "deal/dealing.h"
#include "drill/drill_task.h"
#include "io/message.h"
#include "io/output.h"

#include <stdio.h>

/* Where the seat lies as a player says it. */
static const char *seat_name(int seat) {
    return nh_wind_name(nh_seat_wind(seat));
}

static const nh_view *view_of(const struct drill *drill) {
    return nh_table_view(drill->table, drill->seat);
}

static void show_tiles(const char *what, const nh_tiles *tiles) {
    char text[NH_TILES_TEXT_SIZE];
    nh_tiles_format(tiles, NH_STYLE_LETTERS, text, sizeof text);
    output_format("%s %s\n", what, text);
}

/* -------------------------------------------------------- the table --- */

static enum drill_end table_failed(const nh_error *error) {
    complain("the best pass could not be worked out: %s", error->text);
    return DRILL_FAILED;
}

/* The player's answer, then the others', and the step is played. */
static enum drill_end play_move(struct drill *drill, const nh_move *move) {
    nh_error error;
    if (nh_table_answer(drill->table, drill->seat, move, &error) != NH_OK ||
        nh_table_play(drill->table, &error) != NH_OK)
        return table_failed(&error);
    return DRILL_DONE;
}

/* In a courtesy the two players beside have no part. */
static void leave_out_neighbours(struct drill *drill) {
    const nh_move nothing = NH_MOVE;
    for (int beside = 1; beside < NH_SEATS; beside += 2)
        nh_table_answer(drill->table, (drill->seat + beside) % NH_SEATS, &nothing, NULL);
}

/* --------------------------------------------------------- the passes --- */

static enum drill_end play_tiles(struct drill *drill, struct drill_round *round,
                                 const char *question, const char *step, unsigned turn) {
    struct drill_pass *pass = &round->pass[round->passes];
    nh_move move = NH_MOVE;
    *pass = (struct drill_pass){.turn = turn, .step = step};
    show_tiles("Your hand:", &view_of(drill)->hand);
    enum drill_end end = ask_tiles(drill, question, view_of(drill), &move.tiles, &pass->seconds);
    if (end != DRILL_DONE)
        return end;
    round->seconds += pass->seconds;
    pass->mine = move.tiles;
    if (!figures_of_pass(drill->figures, view_of(drill), &pass->mine, &pass->figures))
        return DRILL_FAILED;
    end = play_move(drill, &move);
    if (end != DRILL_DONE)
        return end;
    pass->got = view_of(drill)->received;
    round->passes++;
    show_tiles("You get", &pass->got);
    return DRILL_DONE;
}

static enum drill_end play_pass(struct drill *drill, struct drill_round *round) {
    static const char *const ways[] = {
        [NH_RIGHT] = "to the right", [NH_ACROSS] = "across", [NH_LEFT] = "to the left"};
    const nh_view *view = view_of(drill);
    char question[64];
    snprintf(question, sizeof question, "Pass %d %s", view->count, ways[view->step.direction]);
    return play_tiles(drill, round, question, nh_direction_name(view->step.direction),
                      view->step.round);
}

/* ---------------------------------------------------- optional rounds --- */

static void show_vote(const struct drill *drill, const struct drill_vote *vote) {
    bool all = true;
    for (int seat = 0; seat < NH_SEATS; seat++) {
        if (!vote->agree[seat] && seat != drill->seat)
            output_format("The player in the %s stops.\n", seat_name(seat));
        all = all && vote->agree[seat];
    }
    if (all)
        output_text("All go on.\n");
}

static enum drill_end play_vote(struct drill *drill, struct drill_round *round) {
    struct drill_vote *vote = &round->vote[round->votes];
    nh_move move = NH_MOVE;
    char question[64];
    *vote = (struct drill_vote){.turn = view_of(drill)->step.round};
    show_tiles("Your hand:", &view_of(drill)->hand);
    snprintf(question, sizeof question, "Go on with Charleston %u, yes or no", vote->turn);
    enum drill_end end = ask_yes(drill, question, &move.agree, &vote->seconds);
    if (end != DRILL_DONE)
        return end;
    round->seconds += vote->seconds;
    if (!figures_of_vote(drill->figures, view_of(drill), &vote->figures))
        return DRILL_FAILED;
    end = play_move(drill, &move);
    if (end != DRILL_DONE)
        return end;
    for (int seat = 0; seat < NH_SEATS; seat++)
        vote->agree[seat] = nh_table_move(drill->table, seat)->agree;
    round->votes++;
    show_vote(drill, vote);
    return DRILL_DONE;
}

/* --------------------------------------------------------- courtesy --- */

static enum drill_end ask_courtesy(struct drill *drill, struct drill_round *round, int across,
                                   nh_move *move) {
    int most = view_of(drill)->count < NH_PASS_MAX ? view_of(drill)->count : NH_PASS_MAX;
    char question[80];
    int count = 0;
    double seconds = 0;
    show_tiles("Your hand:", &view_of(drill)->hand);
    snprintf(question, sizeof question, "Courtesy with the %s, how many of 0 to %d",
             seat_name(across), most);
    enum drill_end end = ask_count(drill, question, most, &count, &seconds);
    round->seconds += seconds;
    move->count = (uint8_t)count;
    return end;
}

static enum drill_end play_courtesy(struct drill *drill, struct drill_round *round) {
    int across = nh_seat_receiver(drill->seat, NH_ACROSS);
    bool possible = view_of(drill)->count > 0;
    nh_move move = NH_MOVE;
    enum drill_end end = possible ? ask_courtesy(drill, round, across, &move) : DRILL_DONE;
    if (end != DRILL_DONE)
        return end;
    leave_out_neighbours(drill);
    end = play_move(drill, &move);
    if (end != DRILL_DONE || !possible)
        return end;
    int wanted = nh_table_move(drill->table, across)->count;
    output_format("The player across wants %d: you exchange %d.\n", wanted,
                  wanted < move.count ? wanted : move.count);
    return DRILL_DONE;
}

static enum drill_end play_exchange(struct drill *drill, struct drill_round *round) {
    char question[64];
    leave_out_neighbours(drill);
    snprintf(question, sizeof question, "Pass %d in courtesy", view_of(drill)->count);
    return play_tiles(drill, round, question, "courtesy", 0);
}

static enum drill_end play_step(struct drill *drill, struct drill_round *round) {
    switch (nh_table_step(drill->table).stage) {
    case NH_STAGE_PASS:
        return play_pass(drill, round);
    case NH_STAGE_VOTE:
        return play_vote(drill, round);
    case NH_STAGE_COURTESY:
        return play_courtesy(drill, round);
    case NH_STAGE_EXCHANGE:
        return play_exchange(drill, round);
    case NH_STAGE_OVER:
        break;
    }
    return DRILL_FAILED;
}

/* -------------------------------------------------------- the choice --- */

static enum drill_end play_choice(struct drill *drill, struct drill_round *round) {
    double seconds = 0;
    show_tiles("Your hand:", &view_of(drill)->hand);
    enum drill_end end = ask_aims(drill, round, &seconds);
    if (end != DRILL_DONE)
        return end;
    round->seconds += seconds;
    for (int seat = 0; seat < NH_SEATS; seat++)
        round->hand[seat] = nh_table_view(drill->table, seat)->hand;
    round->wall = *nh_table_wall(drill->table);
    return figures_of_aims(drill->figures, view_of(drill), round->aim, round->aims, &round->nearest,
                           &round->live)
               ? DRILL_DONE
               : DRILL_FAILED;
}

/* --------------------------------------------------------- the round --- */

const struct aim_figures *drill_best_aim(const struct drill_round *round) {
    const struct aim_figures *best = NULL;
    for (size_t i = 0; i < round->aims; i++)
        if (round->aim[i].place > 0 && (best == NULL || round->aim[i].place < best->place))
            best = &round->aim[i];
    return best;
}

double drill_cost(const struct drill_round *round, size_t *judged) {
    double cost = 0;
    *judged = 0;
    for (size_t i = 0; i < round->passes; i++)
        if (round->pass[i].figures.judged) {
            cost += round->pass[i].figures.cost;
            *judged += 1;
        }
    return cost;
}

enum drill_end drill_play(struct drill *drill, struct drill_round *round) {
    uint64_t number = drill->first + round->number - 1;
    enum drill_end end = DRILL_DONE;
    if (nh_table_deal(drill->table, drill->seed, number, NULL) != NH_OK) {
        too_few_tiles(drill->list);
        return DRILL_FAILED;
    }
    const nh_deal *deal = nh_table_dealt(drill->table);
    round->prevailing = deal->prevailing;
    round->dealt = deal->hand[drill->seat];
    output_format("Dice %d and %d: %s prevails. You are %s.\n", deal->dice[0], deal->dice[1],
                  nh_wind_name(deal->prevailing), seat_name(drill->seat));
    while (end == DRILL_DONE && nh_table_step(drill->table).stage != NH_STAGE_OVER)
        end = play_step(drill, round);
    return end == DRILL_DONE ? play_choice(drill, round) : end;
}
