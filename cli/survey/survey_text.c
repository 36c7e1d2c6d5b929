/* The survey for people: the games, then a row for each pattern. */
#include "io/flow.h"
#include "io/output.h"
#include "io/style.h"
#include "survey/figures.h"
#include "survey/survey_task.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define NAME_MOST 26

/* "3.2 (2.9-3.6)", in percent. */
static void share_text(uint64_t part, uint64_t whole, char *buffer, size_t size) {
    struct share share = share_of(part, whole);
    snprintf(buffer, size, "%.1f (%.1f-%.1f)", 100 * share.of, 100 * share.low, 100 * share.high);
}

static void games_out(const struct survey_key *key, const struct counts *counts) {
    char won[48], first[48];
    uint64_t wins = counts->games - counts->walls, drawn = 0;
    struct text text;
    for (size_t i = 0; i < nh_list_size(counts->list); i++)
        drawn += counts->pattern[i].drawn;
    share_text(wins, counts->games, won, sizeof won);
    share_text(counts->seat_wins[0], wins, first, sizeof first);
    text_clear(&text);
    text_add_format(&text, "%s: %llu game%s, seed %llu", key->list,
                    (unsigned long long)counts->games, plural(counts->games),
                    (unsigned long long)key->seed);
    text_print(&text);
    output_format("Passes %s, discards %s (look %d), claims %s\n\n", survey_passes[key->way.pass],
                  survey_discards[key->way.discard], key->way.look, survey_claims[key->way.claim]);
    output_format("Won          %s %%: %llu by a draw, %llu by a discard\n", won,
                  (unsigned long long)drawn, (unsigned long long)(wins - drawn));
    output_format("Wall used up %llu\n", (unsigned long long)counts->walls);
    if (counts->games > 0)
        output_format("Length       %.1f turns\n", (double)counts->turns / (double)counts->games);
    if (wins > 0)
        output_format("Dealer won   %s %% of the wins\n", first);
    output_text("\n");
}

/* The order of the rows: most wins first, then as printed. */
struct order {
    uint64_t wins;
    size_t index;
};

static int compare_orders(const void *a, const void *b) {
    const struct order *left = a, *right = b;
    if (left->wins != right->wins)
        return left->wins > right->wins ? -1 : 1;
    return left->index < right->index ? -1 : left->index > right->index;
}

static void pattern_out(const struct counts *counts, size_t index) {
    const nh_pattern *pattern = nh_list_pattern(counts->list, index);
    const struct pattern_counts *count = &counts->pattern[index];
    uint64_t wins = counts_wins(counts, index), hands = NH_SEATS * counts->games;
    struct pay pay = pay_of(counts, index);
    char won[48], figure[32];
    struct text text;
    share_text(wins, counts->games - counts->walls, won, sizeof won);
    text_clear(&text);
    text_add_cut(&text, pattern->name, strlen(pattern->name), NAME_MOST);
    snprintf(figure, sizeof figure, "%.1f",
             hands == 0 ? 0 : 100 * (double)count->dealt / (double)hands);
    text_add_right(&text, figure, NAME_MOST + 7);
    text_add_right(&text, won, NAME_MOST + 25);
    snprintf(figure, sizeof figure, "%.1f", wins == 0 ? 0 : (double)count->turns / (double)wins);
    text_add_right(&text, wins == 0 ? "-" : figure, NAME_MOST + 31);
    snprintf(figure, sizeof figure, "%.1f", pay.per_100);
    text_add_right(&text, figure, NAME_MOST + 38);
    snprintf(figure, sizeof figure, "%g", pattern->points);
    text_add_right(&text, pattern->has_points ? figure : "-", NAME_MOST + 45);
    snprintf(figure, sizeof figure, "%.0f", pay.fair);
    text_add_right(&text, pay.has_fair ? figure : "-", NAME_MOST + 51);
    text_add(&text, pay.off > 0 ? " -" : pay.off < 0 ? " +" : "");
    text_print(&text);
}

static void head_out(void) {
    struct style style = style_of_output();
    struct text text;
    text_clear(&text);
    text_add(&text, "Pattern");
    text_add_right(&text, "Dealt", NAME_MOST + 7);
    text_add_right(&text, "% of wins", NAME_MOST + 25);
    text_add_right(&text, "Turn", NAME_MOST + 31);
    text_add_right(&text, "Per100", NAME_MOST + 38);
    text_add_right(&text, "Points", NAME_MOST + 45);
    text_add_right(&text, "Fair", NAME_MOST + 51);
    output_format("%s%s%s\n", style.dim, text.bytes, style.plain);
}

static void key_out(void) {
    output_text(
        "\nDealt   % of hands to which it is the nearest, alone or with others, when dealt\n"
        "Turn    in which it was won, on average\n"
        "Per100  points that it brought in 100 games\n"
        "Fair    points that would make all patterns bring the same;\n"
        "        + pays far too little, - far too much, beyond what chance explains\n");
}

void survey_text(const struct survey_key *key, const struct counts *counts) {
    size_t size = nh_list_size(counts->list), never = 0;
    struct order *orders = malloc(size * sizeof *orders);
    games_out(key, counts);
    head_out();
    for (size_t i = 0; i < size && orders != NULL; i++)
        orders[i] = (struct order){counts_wins(counts, i), i};
    if (orders != NULL)
        qsort(orders, size, sizeof *orders, compare_orders);
    for (size_t i = 0; i < size; i++) {
        size_t index = orders != NULL ? orders[i].index : i;
        never += counts_wins(counts, index) == 0;
        pattern_out(counts, index);
    }
    free(orders);
    key_out();
    if (never > 0)
        output_format("%zu of %zu patterns were never won.\n", never, size);
}
