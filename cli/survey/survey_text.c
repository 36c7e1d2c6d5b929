/* The survey for people: the games, then a row for each pattern. */
#include "io/flow.h"
#include "io/output.h"
#include "io/style.h"
#include "survey/figures.h"
#include "survey/survey_task.h"

#include <stdio.h>
#include <string.h>

/* "3.2 (2.9-3.6)", in percent. */
static void share_text(uint64_t part, uint64_t whole, char *buffer, size_t size) {
    struct share share = share_of(part, whole);
    snprintf(buffer, size, "%.1f (%.1f-%.1f)", 100 * share.of, 100 * share.low, 100 * share.high);
}

static void games_out(const struct survey_key *key, const struct counts *counts) {
    char won[48], walls[48], first[48];
    uint64_t wins = counts->games - counts->walls, drawn = 0;
    struct text text;
    for (size_t i = 0; i < nh_list_size(counts->list); i++)
        drawn += counts->pattern[i].drawn;
    share_text(wins, counts->games, won, sizeof won);
    share_text(counts->walls, counts->games, walls, sizeof walls);
    share_text(counts->seat_wins[0], wins, first, sizeof first);
    text_clear(&text);
    text_add_format(&text, "%s: %llu game%s, seed %llu", key->list,
                    (unsigned long long)counts->games, plural(counts->games == 1 ? 1 : 2),
                    (unsigned long long)key->seed);
    text_print(&text);
    output_format("Passes %s, discards %s (look %d), claims %s\n\n", survey_passes[key->way.pass],
                  survey_discards[key->way.discard], key->way.look, survey_claims[key->way.claim]);
    output_format("Won          %s %%: %llu by a draw, %llu by a discard\n", won,
                  (unsigned long long)drawn, (unsigned long long)(wins - drawn));
    output_format("Wall used up %s %%\n", walls);
    if (counts->games > 0)
        output_format("Length       %.1f turns on average\n",
                      (double)counts->turns / (double)counts->games);
    if (wins > 0)
        output_format("Dealer won   %s %% of the wins; an even share is 25\n", first);
    output_text("\n");
}

/* Where each column of figures ends; a sign stands behind the last. */
enum {
    NAME_END = 20,
    DEALT_END = NAME_END + 6,
    PASSED_END = DEALT_END + 7,
    WON_END = PASSED_END + 17,
    DRAWN_END = WON_END + 6,
    TURN_END = DRAWN_END + 5,
    PER_100_END = TURN_END + 7,
    POINTS_END = PER_100_END + 5,
    FAIR_END = POINTS_END + 5,
    SIGN_END = FAIR_END + 2,
};
_Static_assert(SIGN_END <= LINE_WIDTH, "a row fits a line");

/* A figure with so many digits after the point, or a dash where there is none. */
static void figure(struct text *text, int end, bool known, int digits, double number) {
    char buffer[32] = "-";
    if (known)
        snprintf(buffer, sizeof buffer, "%.*f", digits, number);
    text_add_right(text, buffer, end);
}

static double percent(uint64_t part, uint64_t whole) {
    return 100 * share_of(part, whole).of;
}

static void pattern_out(const struct counts *counts, size_t index) {
    const char *name = nh_list_pattern(counts->list, index)->name;
    const struct pattern_counts *count = &counts->pattern[index];
    uint64_t wins = counts_wins(counts, index), hands = NH_SEATS * counts->games;
    struct pay pay = pay_of(counts, index);
    char won[48], paid[32];
    struct text text;
    share_text(wins, counts->games - counts->walls, won, sizeof won);
    snprintf(paid, sizeof paid, "%.4g", pay.paid);
    text_clear(&text);
    text_add_cut(&text, name, strlen(name), NAME_END);
    figure(&text, DEALT_END, true, 1, percent(count->dealt, hands));
    figure(&text, PASSED_END, true, 1, percent(count->passed, hands));
    text_add_right(&text, won, WON_END);
    figure(&text, DRAWN_END, wins > 0, 0, percent(count->drawn, wins));
    figure(&text, TURN_END, wins > 0, 0, wins == 0 ? 0 : (double)count->turns / (double)wins);
    figure(&text, PER_100_END, true, 1, pay.per_100);
    text_add_right(&text, pay.has_paid ? paid : "-", POINTS_END);
    figure(&text, FAIR_END, pay.has_fair, 0, pay.fair);
    text_add(&text, pay.off > 0 ? " -" : pay.off < 0 ? " +" : "");
    text_print(&text);
}

static void head_out(void) {
    struct style style = style_of_output();
    struct text text;
    text_clear(&text);
    text_add(&text, "Pattern");
    text_add_right(&text, "Dealt", DEALT_END);
    text_add_right(&text, "Passed", PASSED_END);
    text_add_right(&text, "% of wins", WON_END);
    text_add_right(&text, "Drawn", DRAWN_END);
    text_add_right(&text, "Turn", TURN_END);
    text_add_right(&text, "Per100", PER_100_END);
    text_add_right(&text, "Pays", POINTS_END);
    text_add_right(&text, "Fair", FAIR_END);
    output_format("%s%s%s\n", style.dim, text.bytes, style.plain);
}

static void key_out(void) {
    output_text(
        "\nDealt   % of hands to which it is the closest, alone or with others, when dealt\n"
        "Passed  likewise after the passes\n"
        "Drawn   % of its wins by the winner's own draw\n"
        "Turn    in which it was won, on average\n"
        "Per100  points that it brought in 100 games\n"
        "Fair    points that would make all patterns bring the same;\n"
        "        + pays far too little, - far too much, beyond what chance explains\n");
}

void survey_text(const struct survey_key *key, const struct counts *counts, const size_t *order) {
    size_t size = nh_list_size(counts->list), never = 0;
    games_out(key, counts);
    head_out();
    for (size_t i = 0; i < size; i++) {
        never += counts_wins(counts, order[i]) == 0;
        pattern_out(counts, order[i]);
    }
    key_out();
    if (never > 0)
        output_format("Never won: %zu of %zu patterns.\n", never, size);
}
