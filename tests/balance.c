/* How evenly a list's patterns come up. Hands are dealt, and a pattern counts as nearest
 * when none is fewer tiles away from the hand; several may be. Prints for each pattern its
 * points, the odds of being dealt it, the tiles away on average, and how often it is nearest
 * and nearest alone. Fails when a pattern is nearest too often, or too few of them ever are.
 * Points follow wins, which wins.py looks at.
 *
 *     balance LIST.json MOST LEAST [DEALS [SEED]]
 *
 * MOST is a share in percent, LEAST a number of patterns. */
#include "nearhand.h"

#include <stdio.h>
#include <stdlib.h>

#define DEALS 4000
#define SEED 777

/* What was counted of one pattern. */
struct shares {
    double points, away; /* away: the sum over all deals */
    uint64_t nearest, alone;
};

static void give_up(const char *what) {
    fprintf(stderr, "balance: %s\n", what);
    exit(EXIT_FAILURE);
}

static void *memory_for(size_t count, size_t size) {
    void *memory = calloc(count + 1, size);
    if (memory == NULL)
        give_up("no memory");
    return memory;
}

/* -------------------------------------------------------------- counting --- */

static void count_hand(const uint8_t *away, struct shares *shares, size_t patterns) {
    uint8_t nearest = NH_AWAY_NONE;
    size_t ties = 0;
    for (size_t i = 0; i < patterns; i++) {
        ties = away[i] < nearest ? 1 : ties + (away[i] == nearest);
        nearest = away[i] < nearest ? away[i] : nearest;
        shares[i].away += away[i];
    }
    for (size_t i = 0; i < patterns; i++) {
        shares[i].nearest += away[i] == nearest;
        shares[i].alone += away[i] == nearest && ties == 1;
    }
}

/* The dealer's hands of deals 1 to `deals`, as `nearhand deal` deals them; winds are not known. */
static void count_deals(const nh_list *list, uint64_t seed, uint64_t deals, struct shares *shares) {
    const size_t patterns = nh_list_size(list);
    uint8_t *away = memory_for(patterns, sizeof *away);
    nh_workspace *workspace;
    if (nh_workspace_new(list, NULL, &workspace) != NH_OK)
        give_up("no memory");
    for (uint64_t number = 1; number <= deals; number++) {
        nh_deal deal;
        if (nh_deal_table(list, seed, number, &deal) != NH_OK ||
            nh_distances(workspace, &deal.hand[0], NULL, away, NULL) != NH_OK)
            give_up("the list cannot be dealt");
        count_hand(away, shares, patterns);
    }
    nh_workspace_free(workspace);
    free(away);
}

/* --------------------------------------------------------------- printing --- */

static void print_shares(const nh_list *list, const struct shares *shares, uint64_t deals) {
    const double percent = 100 / (double)deals;
    puts("Pattern                 Points    Dealt 1 in    Away   Nearest   Alone");
    for (size_t i = 0; i < nh_list_size(list); i++) {
        nh_figures figures;
        if (nh_audit_figures(list, i, NULL, &figures, NULL) != NH_OK)
            give_up("a pattern cannot be counted");
        char odds[32] = "-"; /* of a hand with a kong's replacement tile */
        if (figures.dealt > 0)
            snprintf(odds, sizeof odds, "%.3g", 1 / figures.dealt);
        printf("%-22s%8g%14s%8.2f%9.2f%%%7.2f%%\n", nh_list_pattern(list, i)->name,
               shares[i].points, odds, shares[i].away / (double)deals,
               percent * (double)shares[i].nearest, percent * (double)shares[i].alone);
    }
}

/* How many of the two limits are broken. */
static int judge(const nh_list *list, const struct shares *shares, uint64_t deals,
                 char *const *limits) {
    const double most = strtod(limits[0], NULL);
    const size_t least = strtoul(limits[1], NULL, 10), patterns = nh_list_size(list);
    size_t up = 0, top = 0;
    for (size_t i = 0; i < patterns; i++) {
        up += shares[i].nearest > 0;
        top = shares[i].nearest > shares[top].nearest ? i : top;
    }
    const double share = 100 * (double)shares[top].nearest / (double)deals;
    printf("%s is nearest most often, in %.2f %% of %llu deals; at most %g %%\n",
           nh_list_pattern(list, top)->name, share, (unsigned long long)deals, most);
    printf("%zu of %zu patterns are nearest at least once; at least %zu\n", up, patterns, least);
    return (share > most) + (up < least);
}

int main(int count, char **arguments) {
    nh_list *list;
    if (count < 4)
        give_up("LIST.json MOST LEAST [DEALS [SEED]]");
    if (nh_list_load(arguments[1], NULL, &list, NULL) != NH_OK)
        give_up("the list cannot be read");
    const uint64_t deals = count > 4 ? strtoull(arguments[4], NULL, 10) : DEALS;
    const uint64_t seed = count > 5 ? strtoull(arguments[5], NULL, 10) : SEED;
    struct shares *shares = memory_for(nh_list_size(list), sizeof *shares);
    for (size_t i = 0; i < nh_list_size(list); i++)
        shares[i].points = nh_list_pattern(list, i)->points;
    count_deals(list, seed, deals, shares);
    print_shares(list, shares, deals);
    const int broken = judge(list, shares, deals, arguments + 2);
    free(shares);
    nh_list_free(list);
    printf("%d passed, %d failed\n", 2 - broken, broken);
    return broken == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
