/* A round of a drill: the deal, the Charleston with three players who pass as
 * well as can be, and the choice of a pattern. */
#include "deal/dealing.h"
#include "drill/drill_task.h"
#include "io/message.h"
#include "io/output.h"
#include "pass/charleston.h"

#include <stdio.h>

const char *drill_seat_name(int seat) {
    static const char *const names[NH_SEATS] = {"east", "south", "west", "north"};
    return names[seat];
}

static nh_situation situation_of(const struct drill *drill, const struct drill_round *round,
                                 int seat) {
    nh_situation situation = NH_SITUATION;
    situation.seen = charleston_gone(drill->list, &round->hand[seat], &round->passed[seat]);
    situation.prevailing = round->deal.prevailing;
    situation.seat = (nh_wind)(NH_WIND_EAST + seat);
    return situation;
}

static bool find_passes(struct drill *drill, const struct drill_round *round, int seat, int count,
                        size_t capacity, nh_passing *passing) {
    nh_situation situation = situation_of(drill, round, seat);
    nh_error error = {NH_OK, 0, ""};
    nh_pass_question question = NH_PASS_QUESTION;
    question.situation = &situation;
    question.tiles = count;
    nh_status status = nh_pass(drill->workspace, &round->hand[seat], &question, drill->choices,
                               capacity, passing, &error);
    if (status == NH_OK && passing->rows > 0)
        return true;
    complain("the best pass could not be worked out: %s",
             error.text[0] != '\0' ? error.text : nh_status_text(status));
    return false;
}

static double expectation(uint64_t expected, const nh_passing *passing) {
    return (double)expected / (double)passing->draws;
}

static bool same_tiles(const nh_tiles *a, const nh_tiles *b) {
    for (int kind = 0; kind < NH_KINDS; kind++)
        if (a->count[kind] != b->count[kind])
            return false;
    return true;
}

/* Sets the player's pass beside the best. */
static bool judge(struct drill *drill, const struct drill_round *round, struct drill_pass *pass) {
    nh_passing passing;
    if (!find_passes(drill, round, drill->seat, nh_tiles_total(&pass->mine), NH_PASSES_MAX,
                     &passing))
        return false;
    const nh_choice *best = &drill->choices[0];
    const nh_choice *mine = best;
    for (size_t i = 0; i < passing.rows; i++)
        if (same_tiles(&drill->choices[i].pass, &pass->mine))
            mine = &drill->choices[i];
    pass->best = best->pass;
    pass->judged = mine->expected != UINT64_MAX;
    if (!pass->judged)
        return true;
    pass->expected = expectation(mine->expected, &passing);
    pass->best_expected = expectation(best->expected, &passing);
    pass->cost = expectation(mine->expected - best->expected, &passing);
    return true;
}

/* --------------------------------------------------------- the passes --- */

/* All pass alike, so that hands keep their sizes: as many as everyone can. */
static int tiles_of_pass(const struct drill *drill, const struct drill_round *round) {
    int count = nh_list_charleston(drill->list)->tiles;
    for (int seat = 0; seat < NH_SEATS; seat++) {
        nh_tiles passable = charleston_passable(drill->list, &round->hand[seat]);
        if (nh_tiles_total(&passable) < count)
            count = nh_tiles_total(&passable);
    }
    return count;
}

static void tell_tiles(const char *what, const nh_tiles *tiles) {
    char text[NH_TILES_TEXT_SIZE];
    nh_tiles_format(tiles, NH_STYLE_LETTERS, text, sizeof text);
    output_format("%s %s\n", what, text);
}

static struct drill_pass *new_pass(struct drill_round *round, unsigned turn, const char *step) {
    struct drill_pass *pass = &round->pass[round->passes];
    *pass = (struct drill_pass){.turn = turn, .step = step};
    return pass;
}

static enum drill_end ask_pass(struct drill *drill, struct drill_round *round,
                               struct drill_pass *pass, const char *question, int count) {
    tell_tiles("Your hand:", &round->hand[drill->seat]);
    enum drill_end end =
        ask_tiles(drill, question, &round->hand[drill->seat], count, &pass->mine, &pass->seconds);
    if (end != DRILL_DONE)
        return end;
    round->seconds += pass->seconds;
    return judge(drill, round, pass) ? DRILL_DONE : DRILL_FAILED;
}

/* What was passed is known to be elsewhere from now on. */
static void note_passed(struct drill_round *round, int seat, const nh_tiles *pass) {
    for (int kind = 0; kind < NH_KINDS; kind++) {
        int sum = round->passed[seat].count[kind] + pass->count[kind];
        round->passed[seat].count[kind] = (uint8_t)(sum < UINT8_MAX ? sum : UINT8_MAX);
    }
}

static bool best_pass(struct drill *drill, const struct drill_round *round, int seat, int count,
                      nh_tiles *pass) {
    nh_passing passing;
    if (!find_passes(drill, round, seat, count, 1, &passing))
        return false;
    *pass = drill->choices[0].pass;
    return true;
}

static enum drill_end play_step(struct drill *drill, struct drill_round *round, unsigned turn,
                                nh_direction direction) {
    static const char *const ways[] = {
        [NH_RIGHT] = "to the right", [NH_ACROSS] = "across", [NH_LEFT] = "to the left"};
    char question[64];
    nh_tiles out[NH_SEATS];
    int count = tiles_of_pass(drill, round);
    if (count == 0)
        return DRILL_DONE;
    struct drill_pass *pass = new_pass(round, turn, charleston_direction(direction));
    snprintf(question, sizeof question, "Pass %d %s", count, ways[direction]);
    enum drill_end end = ask_pass(drill, round, pass, question, count);
    for (int seat = 0; end == DRILL_DONE && seat < NH_SEATS; seat++)
        if (seat == drill->seat)
            out[seat] = pass->mine;
        else if (!best_pass(drill, round, seat, count, &out[seat]))
            end = DRILL_FAILED;
    if (end != DRILL_DONE)
        return end;
    charleston_turn(round->hand, out, direction);
    for (int seat = 0; seat < NH_SEATS; seat++) {
        note_passed(round, seat, &out[seat]);
        if (charleston_receiver(seat, direction) == drill->seat)
            pass->got = out[seat];
    }
    round->passes++;
    tell_tiles("You get", &pass->got);
    return DRILL_DONE;
}

/* -------------------------------------------------- optional rounds --- */

/* Whether one more best pass makes a hand expect to be nearer than it is. */
static bool gains(struct drill *drill, const struct drill_round *round, int seat, int count,
                  double *expected, double *stopping) {
    nh_passing passing;
    if (!find_passes(drill, round, seat, count, 1, &passing))
        return false;
    *stopping = passing.away;
    *expected = drill->choices[0].expected == UINT64_MAX
                    ? NH_AWAY_NONE
                    : expectation(drill->choices[0].expected, &passing);
    return true;
}

static void tell_vote(const struct drill *drill, const struct drill_vote *vote, bool *all) {
    *all = true;
    for (int seat = 0; seat < NH_SEATS; seat++) {
        if (vote->agree[seat])
            continue;
        *all = false;
        if (seat != drill->seat)
            output_format("The player in the %s stops.\n", drill_seat_name(seat));
    }
    if (*all)
        output_text("All go on.\n");
}

static enum drill_end play_vote(struct drill *drill, struct drill_round *round, unsigned turn,
                                bool *all) {
    struct drill_vote *vote = &round->vote[round->votes];
    int count = tiles_of_pass(drill, round);
    char question[64];
    *vote = (struct drill_vote){.turn = turn};
    tell_tiles("Your hand:", &round->hand[drill->seat]);
    snprintf(question, sizeof question, "Go on with Charleston %u, yes or no", turn);
    enum drill_end end = ask_yes(drill, question, &vote->agree[drill->seat], &vote->seconds);
    if (end != DRILL_DONE)
        return end;
    round->seconds += vote->seconds;
    for (int seat = 0; seat < NH_SEATS; seat++) {
        double expected;
        double stopping;
        if (!gains(drill, round, seat, count, &expected, &stopping))
            return DRILL_FAILED;
        if (seat != drill->seat) {
            vote->agree[seat] = expected < stopping;
            continue;
        }
        vote->expected = expected;
        vote->stopping = stopping;
    }
    round->votes++;
    tell_vote(drill, vote, all);
    return DRILL_DONE;
}

static enum drill_end play_turns(struct drill *drill, struct drill_round *round) {
    const nh_charleston *charleston = nh_list_charleston(drill->list);
    enum drill_end end = DRILL_DONE;
    for (unsigned turn = 0; turn < charleston->rounds; turn++) {
        bool all = true;
        if (turn > 0)
            end = play_vote(drill, round, turn + 1, &all);
        if (end != DRILL_DONE || !all)
            return end;
        for (unsigned step = 0; step < charleston->steps[turn] && end == DRILL_DONE; step++)
            end =
                play_step(drill, round, turn + 1, (nh_direction)charleston->direction[turn][step]);
        if (end != DRILL_DONE)
            return end;
    }
    return end;
}

/* --------------------------------------------------------- courtesy --- */

/* The number of tiles with which the other player expects to be nearest, the
 * smaller of two alike. */
static bool wanted_number(struct drill *drill, const struct drill_round *round, int seat, int most,
                          int *wanted) {
    double least = 0;
    *wanted = 0;
    for (int count = 1; count <= most; count++) {
        double expected;
        double stopping;
        if (!gains(drill, round, seat, count, &expected, &stopping))
            return false;
        if (count == 1)
            least = stopping;
        if (expected < least) {
            least = expected;
            *wanted = count;
        }
    }
    return true;
}

static int courtesy_most(const struct drill *drill, const struct drill_round *round, int other) {
    int most = nh_list_charleston(drill->list)->courtesy;
    const int seats[2] = {drill->seat, other};
    for (int i = 0; i < 2; i++) {
        nh_tiles passable = charleston_passable(drill->list, &round->hand[seats[i]]);
        if (nh_tiles_total(&passable) < most)
            most = nh_tiles_total(&passable);
    }
    return most < NH_PASS_MAX ? most : NH_PASS_MAX;
}

static enum drill_end exchange(struct drill *drill, struct drill_round *round, int other,
                               int count) {
    struct drill_pass *pass = new_pass(round, 0, "courtesy");
    char question[64];
    snprintf(question, sizeof question, "Pass %d in courtesy", count);
    enum drill_end end = ask_pass(drill, round, pass, question, count);
    if (end != DRILL_DONE)
        return end;
    if (!best_pass(drill, round, other, count, &pass->got))
        return DRILL_FAILED;
    charleston_courtesy(round->hand, drill->seat, &pass->mine, &pass->got);
    note_passed(round, drill->seat, &pass->mine);
    note_passed(round, other, &pass->got);
    round->passes++;
    tell_tiles("You get", &pass->got);
    return DRILL_DONE;
}

static enum drill_end play_courtesy(struct drill *drill, struct drill_round *round) {
    int other = charleston_receiver(drill->seat, NH_ACROSS);
    int most = courtesy_most(drill, round, other);
    if (most == 0)
        return DRILL_DONE;
    char question[80];
    int count;
    int wanted;
    double seconds = 0;
    tell_tiles("Your hand:", &round->hand[drill->seat]);
    snprintf(question, sizeof question, "Courtesy with the %s, how many of 0 to %d",
             drill_seat_name(other), most);
    enum drill_end end = ask_count(drill, question, most, &count, &seconds);
    if (end != DRILL_DONE)
        return end;
    round->seconds += seconds;
    if (!wanted_number(drill, round, other, most, &wanted))
        return DRILL_FAILED;
    int agreed = wanted < count ? wanted : count;
    output_format("The other player wants %d: %d change%s hands.\n", wanted, agreed,
                  agreed == 1 ? "s" : "");
    return agreed > 0 ? exchange(drill, round, other, agreed) : DRILL_DONE;
}

/* -------------------------------------------------------- the choice --- */

static struct drill_aim aim_of(const struct drill *drill, uint32_t pattern, size_t live) {
    struct drill_aim aim = {.pattern = pattern};
    for (size_t i = 0; i < live; i++)
        if (drill->rows[i].pattern == pattern) {
            aim.place = i + 1;
            aim.away = drill->rows[i].away;
            aim.replace = nh_tiles_total(&drill->rows[i].spare);
        }
    return aim;
}

static bool rank_aims(struct drill *drill, struct drill_round *round) {
    nh_situation situation = situation_of(drill, round, drill->seat);
    nh_ranking ranking;
    nh_error error;
    nh_rank_question question = NH_RANK_QUESTION;
    question.situation = &situation;
    if (nh_rank(drill->workspace, &round->hand[drill->seat], &question, drill->rows,
                nh_list_size(drill->list), &ranking, &error) != NH_OK) {
        complain("the hand could not be ranked: %s", error.text);
        return false;
    }
    round->live = ranking.live;
    if (ranking.rows > 0)
        round->nearest = aim_of(drill, drill->rows[0].pattern, ranking.rows);
    for (size_t i = 0; i < round->aims; i++)
        round->aim[i] = aim_of(drill, round->aim[i].pattern, ranking.rows);
    return true;
}

static enum drill_end play_choice(struct drill *drill, struct drill_round *round) {
    double seconds = 0;
    tell_tiles("Your hand:", &round->hand[drill->seat]);
    enum drill_end end = ask_aims(drill, round, &seconds);
    if (end != DRILL_DONE)
        return end;
    round->seconds += seconds;
    return rank_aims(drill, round) ? DRILL_DONE : DRILL_FAILED;
}

/* --------------------------------------------------------- the round --- */

const struct drill_aim *drill_best_aim(const struct drill_round *round) {
    const struct drill_aim *best = NULL;
    for (size_t i = 0; i < round->aims; i++)
        if (round->aim[i].place > 0 && (best == NULL || round->aim[i].place < best->place))
            best = &round->aim[i];
    return best;
}

double drill_cost(const struct drill_round *round, size_t *judged) {
    double cost = 0;
    *judged = 0;
    for (size_t i = 0; i < round->passes; i++)
        if (round->pass[i].judged) {
            cost += round->pass[i].cost;
            *judged += 1;
        }
    return cost;
}

enum drill_end drill_play(struct drill *drill, struct drill_round *round) {
    if (nh_deal_table(drill->list, drill->seed, drill->first + round->number - 1, &round->deal) !=
        NH_OK) {
        too_few_tiles(drill->list);
        return DRILL_FAILED;
    }
    for (int seat = 0; seat < NH_SEATS; seat++)
        round->hand[seat] = round->deal.hand[seat];
    output_format("Dice %d and %d: %s prevails. You are %s.\n", round->deal.dice[0],
                  round->deal.dice[1],
                  drill_seat_name((int)round->deal.prevailing - (int)NH_WIND_EAST),
                  drill_seat_name(drill->seat));
    enum drill_end end = play_turns(drill, round);
    if (end == DRILL_DONE)
        end = play_courtesy(drill, round);
    return end == DRILL_DONE ? play_choice(drill, round) : end;
}
