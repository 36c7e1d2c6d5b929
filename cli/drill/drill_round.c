/* A round of a drill: the player answers each step of the Charleston, then says
 * which pattern the hand goes for. */
#include "deal/dealing.h"
#include "drill/drill_ask.h"
#include "drill/own_set.h"
#include "io/message.h"
#include "io/output.h"

#include <stdio.h>

/* Where a player sits, as players say it. */
static const nh_view *drill_view(const struct drill *drill) {
    return drill->own != NULL ? own_set_view(drill->own) : nh_table_view(drill->table, drill->seat);
}

static void show_tiles(const char *what, const nh_tiles *tiles) {
    char text[NH_TILES_TEXT_SIZE];
    nh_tiles_format(tiles, NH_STYLE_LETTERS, text, sizeof text);
    output_format("%s %s\n", what, text[0] != '\0' ? text : "nothing");
}

static void show_hand(const struct drill *drill) {
    show_tiles("Your hand:", &drill_view(drill)->hand);
}

/* The player's answer, then the others', and the step is played. */
static enum drill_end play_move(struct drill *drill, const nh_move *move) {
    nh_error error;
    if (drill->own != NULL) {
        own_set_play(drill->own, move);
        return DRILL_DONE;
    }
    drill->moved[drill->moves++] = *move;
    if (nh_table_answer(drill->table, drill->seat, move, &error) == NH_OK &&
        nh_table_play(drill->table, &error) == NH_OK)
        return DRILL_DONE;
    complain("the best pass could not be worked out: %s", error.text);
    return DRILL_FAILED;
}

/* In a courtesy the two players beside have no part. */
static void leave_out_neighbours(struct drill *drill) {
    const nh_move nothing = NH_MOVE;
    for (int beside = 1; beside < NH_SEATS && drill->own == NULL; beside += 2)
        nh_table_answer(drill->table, (drill->seat + beside) % NH_SEATS, &nothing, NULL);
}

/* --------------------------------------------------------- the passes --- */

/* Plays a pass, or an exchange that could have had `least` to `most` tiles. */
static enum drill_end play_tiles(struct drill *drill, struct drill_round *round,
                                 const char *question, struct drill_pass pass, int least,
                                 int most) {
    nh_move move = NH_MOVE;
    show_hand(drill);
    enum drill_end end = ask_tiles(drill, question, drill_view(drill), &move, &pass.seconds);
    if (end != DRILL_DONE)
        return end;
    pass.mine = move.tiles;
    pass.unseen = move.blind;
    if (!figures_of_pass(drill->figures, drill_view(drill), &pass.mine, least, most, &pass.figures))
        return DRILL_FAILED;
    end = play_move(drill, &move);
    if (end != DRILL_DONE)
        return end;
    if (drill->own == NULL) {
        pass.got = drill_view(drill)->received;
        show_tiles("You get", &pass.got);
    }
    round->pass[round->passes++] = pass;
    return DRILL_DONE;
}

static enum drill_end round_pass(struct drill *drill, struct drill_round *round) {
    static const char *const ways[] = {
        [NH_RIGHT] = "to the right", [NH_ACROSS] = "across", [NH_LEFT] = "to the left"};
    const nh_view *view = drill_view(drill);
    struct drill_pass pass = {.step = nh_direction_name(view->step.direction),
                              .turn = view->step.round};
    char question[96], unseen[40] = "";
    if (view->step.blind)
        snprintf(unseen, sizeof unseen, ", +1 to +%d unseen", view->count);
    snprintf(question, sizeof question, "Pass %d %s%s%s", view->count, ways[view->step.direction],
             unseen, drill->own != NULL ? ", or Enter once you know" : "");
    return play_tiles(drill, round, question, pass, view->step.blind ? 0 : view->count,
                      view->count);
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

static enum drill_end round_vote(struct drill *drill, struct drill_round *round) {
    struct drill_vote vote = {.turn = drill_view(drill)->step.round};
    nh_move move = NH_MOVE;
    char question[64];
    show_hand(drill);
    snprintf(question, sizeof question, "Go on with Charleston %u, yes or no", vote.turn);
    enum drill_end end = ask_yes(drill, question, &move.agree, &vote.seconds);
    if (end != DRILL_DONE)
        return end;
    if (!figures_of_vote(drill->figures, drill_view(drill), &vote.figures))
        return DRILL_FAILED;
    end = play_move(drill, &move);
    if (end != DRILL_DONE)
        return end;
    for (int seat = 0; seat < NH_SEATS; seat++)
        vote.agree[seat] =
            drill->own != NULL ? move.agree : nh_table_move(drill->table, seat)->agree;
    if (drill->own == NULL)
        show_vote(drill, &vote);
    round->vote[round->votes++] = vote;
    return DRILL_DONE;
}

/* ------------------------------------------------------------ courtesy --- */

/* Nothing is exchanged, though the player across wanted to: a pass of no tiles. */
static enum drill_end judge_refusal(struct drill *drill, struct drill_round *round, int theirs) {
    struct drill_pass *pass = &round->pass[round->passes++];
    *pass = (struct drill_pass){.step = "courtesy"};
    return figures_of_pass(drill->figures, drill_view(drill), &pass->mine, 0, theirs,
                           &pass->figures)
               ? DRILL_DONE
               : DRILL_FAILED;
}

static enum drill_end round_courtesy(struct drill *drill, struct drill_round *round) {
    struct drill_courtesy courtesy = {.asked = drill_view(drill)->count > 0};
    int across = nh_seat_receiver(drill->seat, NH_ACROSS);
    int most = drill_view(drill)->count < NH_PASS_MAX ? drill_view(drill)->count : NH_PASS_MAX;
    nh_move move = NH_MOVE;
    char question[80];
    enum drill_end end = DRILL_DONE;
    if (courtesy.asked) {
        show_hand(drill);
        if (drill->own != NULL)
            snprintf(question, sizeof question, "Courtesy, how many of 0 to %d", most);
        else
            snprintf(question, sizeof question, "Courtesy with the %s, how many of 0 to %d",
                     seat_name(across), most);
        end = ask_count(drill, question, most, &courtesy.mine, &courtesy.seconds);
    }
    move.count = (uint8_t)courtesy.mine;
    leave_out_neighbours(drill);
    if (end == DRILL_DONE)
        end = play_move(drill, &move);
    if (end != DRILL_DONE || !courtesy.asked)
        return end;
    courtesy.theirs = drill->own != NULL ? most : nh_table_move(drill->table, across)->count;
    if (drill->own == NULL)
        output_format("The player across wants %d: you exchange %d.\n", courtesy.theirs,
                      courtesy.theirs < courtesy.mine ? courtesy.theirs : courtesy.mine);
    round->courtesy = courtesy;
    return courtesy.mine == 0 && courtesy.theirs > 0 ? judge_refusal(drill, round, courtesy.theirs)
                                                     : DRILL_DONE;
}

static enum drill_end play_exchange(struct drill *drill, struct drill_round *round) {
    char question[64];
    leave_out_neighbours(drill);
    snprintf(question, sizeof question, "Pass %d in courtesy%s", drill_view(drill)->count,
             drill->own != NULL ? ", or Enter once you know" : "");
    return play_tiles(drill, round, question, (struct drill_pass){.step = "courtesy"}, 0,
                      round->courtesy.theirs);
}

/* -------------------------------------------------------- the choice --- */

static enum drill_end play_choice(struct drill *drill, struct drill_round *round) {
    double seconds = 0;
    show_hand(drill);
    enum drill_end end = ask_aims(drill, round, &seconds);
    if (end != DRILL_DONE)
        return end;
    round->over = true;
    if (!figures_of_aims(drill->figures, drill_view(drill), round->aim, round->aims,
                         &round->nearest, &round->reach))
        return DRILL_FAILED;
    return drill->game != NULL ? drill_play_on(drill, round) : DRILL_DONE;
}

static enum drill_end play_step(struct drill *drill, struct drill_round *round) {
    if (drill->own != NULL && own_set_draws(drill->own))
        return own_set_draw(drill, round);
    switch (drill_view(drill)->step.stage) {
    case NH_STAGE_PASS:
        return round_pass(drill, round);
    case NH_STAGE_VOTE:
        return round_vote(drill, round);
    case NH_STAGE_COURTESY:
        return round_courtesy(drill, round);
    case NH_STAGE_EXCHANGE:
        return play_exchange(drill, round);
    case NH_STAGE_OVER:
        break;
    }
    return play_choice(drill, round);
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

static void begin_own(struct drill *drill, struct drill_round *round) {
    own_set_begin(drill->own);
    round->deal = round->number;
    round->prevailing = drill->prevailing;
    output_format("You are %s, with your own set.\n", seat_name(drill->seat));
}

static enum drill_end begin_dealt(struct drill *drill, struct drill_round *round) {
    if (nh_table_deal(drill->table, drill->seed, round->deal, NULL) != NH_OK) {
        too_few_tiles(drill->list);
        return DRILL_FAILED;
    }
    const nh_deal *deal = nh_table_dealt(drill->table);
    round->prevailing = deal->prevailing;
    round->dealt = deal->hand[drill->seat];
    output_format("Dice %d and %d: %s prevails. You are %s.\n", deal->dice[0], deal->dice[1],
                  nh_wind_name(deal->prevailing), seat_name(drill->seat));
    return DRILL_DONE;
}

static void end_round(struct drill *drill, struct drill_round *round) {
    round->seconds = drill->spent;
    round->apart = drill->apart;
    if (round->game.play.played) /* which knows the hands that all of them had then */
        return;
    for (int seat = 0; seat < NH_SEATS && drill->own == NULL; seat++)
        round->hand[seat] = nh_table_view(drill->table, seat)->hand;
    if (drill->own == NULL)
        round->wall = *nh_table_wall(drill->table);
    else
        round->hand[drill->seat] = drill_view(drill)->hand;
}

enum drill_end drill_play(struct drill *drill, struct drill_round *round) {
    enum drill_end end = DRILL_DONE;
    drill->spent = drill->apart = 0;
    drill->moves = 0;
    if (drill->own != NULL)
        begin_own(drill, round);
    else
        end = begin_dealt(drill, round);
    while (end == DRILL_DONE && !round->over) {
        if (drill->own != NULL && !own_set_mark(drill->own, round)) {
            short_of_memory();
            return DRILL_FAILED;
        }
        end = play_step(drill, round);
        if (end != DRILL_UNDO)
            continue;
        own_set_undo(drill->own, round);
        end = DRILL_DONE;
    }
    end_round(drill, round);
    return end;
}
