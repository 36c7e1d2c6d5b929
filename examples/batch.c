/* Many hands at once: deals a number of hands out of a list's set, ranks them
 * in a thread for each processor and prints how far the nearest pattern is, and
 * of how many of them.
 *
 *     cc -std=c17 batch.c $(pkg-config --cflags --libs nearhand) -o batch
 *     ./batch LIST.json HANDS SEED
 */
#include <nearhand.h>
#include <stdio.h>
#include <stdlib.h>

/* The dealer's hand of each deal: the same on every machine. */
static nh_status deal(const nh_list *list, uint64_t seed, size_t count, nh_tiles *hands) {
    for (size_t i = 0; i < count; i++) {
        nh_deal dealt;
        nh_status status = nh_deal_table(list, seed, i + 1, &dealt);
        if (status != NH_OK)
            return status;
        hands[i] = dealt.hand[0];
    }
    return NH_OK;
}

static void print_counts(const nh_ranking *rankings, size_t count) {
    size_t counts[NH_AWAY_NONE + 1] = {0};
    for (size_t i = 0; i < count; i++)
        counts[rankings[i].nearest]++;
    for (size_t away = 0; away < NH_AWAY_NONE; away++) {
        if (counts[away] > 0)
            printf("%zu away: %zu\n", away, counts[away]);
    }
}

/* A ranking of each hand is enough here, so no rows are asked for: with `top`
 * of them for each hand, `batch.rows` would have count * top elements. */
static nh_status rank(const nh_list *list, uint64_t seed, size_t count) {
    nh_tiles *hands = calloc(count, sizeof *hands);
    nh_ranking *rankings = calloc(count, sizeof *rankings);
    nh_status status = hands == NULL || rankings == NULL ? NH_ERROR_MEMORY : NH_OK;
    nh_rank_hands batch = NH_RANK_HANDS;
    batch.hands = hands;
    batch.hand_count = count;
    batch.rankings = rankings;
    if (status == NH_OK)
        status = deal(list, seed, count, hands);
    if (status == NH_OK)
        status = nh_rank_batch(list, &batch, NULL);
    if (status == NH_OK)
        print_counts(rankings, count);
    free(rankings);
    free(hands);
    return status;
}

int main(int argc, char **argv) {
    if (argc != 4) {
        fprintf(stderr, "usage: batch LIST.json HANDS SEED\n");
        return EXIT_FAILURE;
    }
    nh_list *list = NULL;
    nh_status status = nh_list_load(argv[1], NULL, &list, NULL);
    if (status == NH_OK)
        status = rank(list, strtoull(argv[3], NULL, 10), strtoul(argv[2], NULL, 10));
    if (status != NH_OK)
        fprintf(stderr, "%s\n", nh_status_text(status));
    nh_list_free(list);
    return status == NH_OK ? EXIT_SUCCESS : EXIT_FAILURE;
}
