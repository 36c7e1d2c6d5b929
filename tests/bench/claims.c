/* The benchmark of claims: hands that wait, as dealt and after some turns, with tiles seen
 * and with a set on the table; and what is left of a list when a set lies open. Times are
 * of one hand, and behind them is a checksum of the answers, which two builds must have
 * alike.
 *
 *     claims LIST.json ... */
#include "nearhand.h"
#include "timing.h"

#include <stdio.h>
#include <stdlib.h>

#define HANDS 150
#define SEED 20261126

static void print_times(const char *what, double *time, int count, uint64_t sum) {
    struct spread spread = spread_of(time, (size_t)count);
    printf("  %-36s median %8.3f ms, p90 %8.3f, worst %8.3f   %016llx\n", what, spread.median,
           spread.p90, spread.worst, (unsigned long long)sum);
}

/* ------------------------------------------------------------------ hands --- */

/* Draws so many times, each time with the best discard one tile ahead. */
static void play_turns(nh_workspace *workspace, nh_random *random, nh_tiles *pool, int turns,
                       nh_tiles *hand, nh_situation *situation) {
    for (int turn = 0; turn < turns; turn++) {
        nh_discard_question question = NH_DISCARD_QUESTION;
        nh_discard_choice choice;
        nh_discarding discarding;
        nh_tiles tile = {{0}};
        question.look = 1;
        question.situation = situation;
        nh_deal_draw(random, pool, 1, hand);
        if (nh_discard(workspace, hand, &question, &choice, 1, &discarding, NULL) != NH_OK)
            exit(EXIT_FAILURE);
        if (discarding.rows == 0)
            return;
        tile.count[choice.kind] = 1;
        nh_tiles_take(hand, &tile);
        nh_tiles_add(&situation->seen, &tile);
    }
}

static uint64_t add_to_checksum(uint64_t sum, const nh_claim *claim) {
    const uint64_t figures[] = {claim->kind,           claim->use,      claim->away,
                                claim->discard,        claim->pattern,  claim->worth,
                                claim->given_up_count, claim->set.kind, claim->completing.limb[0]};
    return checksum_add(sum, figures, sizeof figures / sizeof *figures);
}

static void report(const nh_list *list, nh_workspace *workspace, const char *what, int turns,
                   int seen) {
    static nh_claim claims[NH_CLAIMS_MAX];
    double time[HANDS];
    uint64_t sum = CHECKSUM_START;
    for (int i = 0; i < HANDS; i++) {
        nh_random random;
        nh_tiles pool = *nh_list_set(list), hand = {{0}};
        nh_situation situation = NH_SITUATION;
        nh_claim_question question = NH_CLAIM_QUESTION;
        nh_claiming claiming;
        nh_random_start(&random, SEED, (uint64_t)i);
        nh_deal_draw(&random, &pool, nh_list_hand_size(list) - 1, &hand);
        nh_deal_draw(&random, &pool, seen, &situation.seen);
        play_turns(workspace, &random, &pool, turns, &hand, &situation);
        question.situation = &situation;
        double start = cpu_ms();
        if (nh_claims(workspace, &hand, &question, claims, NH_CLAIMS_MAX, &claiming, NULL) != NH_OK)
            exit(EXIT_FAILURE);
        time[i] = cpu_ms() - start;
        for (size_t row = 0; row < claiming.rows; row++)
            sum = add_to_checksum(sum, &claims[row]);
    }
    print_times(what, time, HANDS, sum);
}

static void report_hands(const nh_list *list, nh_workspace *workspace) {
    report(list, workspace, "as dealt", 0, 0);
    report(list, workspace, "after 8 turns", 8, 0);
    report(list, workspace, "after 16 turns, 40 tiles seen", 16, 40);
}

/* ------------------------------------------------------------------ rests --- */

/* What is left of the list when a pung of each kind lies open. */
static void report_rests(const nh_list *list) {
    double time[NH_KINDS];
    uint64_t sum = 0;
    int count = 0;
    for (int kind = 0; kind < NH_JOKER; kind++) {
        nh_set set = {NH_PUNG, (uint8_t)kind, 3, 0};
        nh_list *rest = NULL;
        double start = cpu_ms();
        if (nh_list_rest(list, &set, 1, NULL, &rest, NULL) != NH_OK)
            continue; /* the list does not have the tiles */
        time[count++] = cpu_ms() - start;
        sum += (uint64_t)nh_list_hand_size(rest);
        nh_list_free(rest);
    }
    print_times("the rest of the list, a pung open", time, count, sum);
}

int main(int count, char **paths) {
    for (int i = 1; i < count; i++) {
        nh_list *list = NULL;
        nh_workspace *workspace = NULL;
        if (nh_list_load(paths[i], NULL, &list, NULL) != NH_OK ||
            nh_workspace_new(list, NULL, &workspace) != NH_OK)
            return EXIT_FAILURE;
        printf("%s, %d hands\n", nh_list_title(list), HANDS);
        report_hands(list, workspace);
        report_rests(list);
        nh_workspace_free(workspace);
        nh_list_free(list);
    }
    return EXIT_SUCCESS;
}
