/* A study: does looking further ahead end nearer than the exact expectation of
 * one pass? Dealt hands go through three passes in two ways, with the same luck:
 * each time the best by one pass; or of the few best by one pass the one whose
 * simulated courses to the end come out nearest.
 *
 *     ahead LIST.json DEALS [FIRST [CANDIDATES [COURSES]]] */
#include "../ask.h"
#include "nearhand.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define PASSES 3
#define SEED 20250616
#define CANDIDATES_MAX 16

struct study {
    const nh_list *list;
    nh_workspace *workspace;
    size_t candidates;
    uint64_t courses;
};

/* A hand on its way, and the tiles that may come in. */
struct player {
    nh_tiles hand, unseen;
    nh_situation situation;
};

static void give_up(const char *what) {
    fprintf(stderr, "ahead: %s\n", what);
    exit(EXIT_FAILURE);
}

/* The pass to make when `further` passes follow. */
static nh_tiles decide(const struct study *study, const struct player *player, unsigned further,
                       bool ahead, uint64_t seed) {
    nh_choice choices[CANDIDATES_MAX];
    nh_passing passing;
    if (ask_pass(study->workspace, &player->hand, &player->situation, 3, NULL, choices,
                 ahead ? study->candidates : 1, &passing, NULL) != NH_OK)
        give_up("no pass");
    size_t best = 0;
    double least = 0;
    for (size_t i = 0; i < passing.rows && ahead && further > 0; i++) {
        nh_ahead sums;
        if (ask_ahead(study->workspace, &player->hand, &player->situation, &choices[i].pass,
                      further, NULL, seed, 0, study->courses, &sums, NULL) != NH_OK)
            give_up("no look ahead");
        double mean = (double)sums.sum / (double)sums.courses;
        if (i == 0 || mean < least) {
            least = mean;
            best = i;
        }
    }
    return choices[best].pass;
}

static int nearest(const struct study *study, const struct player *player) {
    nh_ranking ranking;
    if (ask_rank(study->workspace, &player->hand, &player->situation, NH_DRAWS_DEFAULT, NULL, NULL,
                 0, &ranking, NULL) != NH_OK)
        give_up("no ranking");
    return ranking.nearest;
}

/* Tiles away at the end. What comes in hangs on the deal and the pass's number. */
static int play(const struct study *study, uint64_t number, bool ahead) {
    nh_deal deal;
    if (nh_deal_table(study->list, SEED, number, &deal) != NH_OK)
        give_up("no deal");
    struct player player = {.hand = deal.hand[0], .situation = NH_SITUATION};
    for (int kind = 0; kind < NH_KINDS; kind++)
        player.unseen.count[kind] =
            (uint8_t)(nh_list_set(study->list)->count[kind] - player.hand.count[kind]);
    for (unsigned i = 0; i < PASSES; i++) {
        nh_random luck;
        nh_tiles pass =
            decide(study, &player, PASSES - 1 - i, ahead, SEED + 1 + number * PASSES + i);
        for (int kind = 0; kind < NH_KINDS; kind++) {
            player.hand.count[kind] = (uint8_t)(player.hand.count[kind] - pass.count[kind]);
            player.situation.seen.count[kind] =
                (uint8_t)(player.situation.seen.count[kind] + pass.count[kind]);
        }
        nh_random_start(&luck, SEED - 1, number * PASSES + i);
        nh_deal_draw(&luck, &player.unseen, 3, &player.hand);
    }
    return nearest(study, &player);
}

static uint64_t number_of(char **arguments, int count, int i, uint64_t otherwise) {
    return i < count ? strtoull(arguments[i], NULL, 10) : otherwise;
}

int main(int count, char **arguments) {
    nh_list *list = NULL;
    struct study study;
    if (count < 3 || nh_list_load(arguments[1], NULL, &list, NULL) != NH_OK)
        give_up("LIST.json DEALS [FIRST [CANDIDATES [COURSES]]]");
    uint64_t deals = number_of(arguments, count, 2, 0), first = number_of(arguments, count, 3, 0);
    study.list = list;
    study.candidates = number_of(arguments, count, 4, 3);
    study.courses = number_of(arguments, count, 5, 20);
    if (study.candidates > CANDIDATES_MAX ||
        nh_workspace_new(list, NULL, &study.workspace) != NH_OK)
        give_up("no room");
    double one = 0, two = 0, squares = 0;
    for (uint64_t i = 0; i < deals; i++) {
        int plain = play(&study, first + i, false), ahead = play(&study, first + i, true);
        one += plain;
        two += ahead;
        squares += (double)((ahead - plain) * (ahead - plain));
        if ((i + 1) % 100 == 0 || i + 1 == deals) {
            double n = (double)(i + 1), difference = (two - one) / n;
            printf("%.0f deals: %.4f away by one pass, %.4f looking ahead, difference %+.4f, "
                   "standard error %.4f\n",
                   n, one / n, two / n, difference,
                   sqrt((squares / n - difference * difference) / n));
            fflush(stdout);
        }
    }
    nh_workspace_free(study.workspace);
    nh_list_free(list);
    return EXIT_SUCCESS;
}
