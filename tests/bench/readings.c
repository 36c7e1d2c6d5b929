/* The benchmark of readings: a player with no, one and two sets on the table, as targets of
 * the list have them, beside a dealt hand of one's own. Times are of one reading, and behind
 * them is a checksum of the answers, which two builds must have alike.
 *
 *     readings LIST.json ... */
#include "nearhand.h"
#include "timing.h"

#include <stdio.h>
#include <stdlib.h>

#define READINGS 25
#define SEED 20261126
#define SETS_MOST 2

/* The first sets of a target that a dealt hand is close to; how many there are. */
static size_t sets_near(const nh_list *list, nh_workspace *workspace, const nh_tiles *hand,
                        nh_set sets[SETS_MOST]) {
    nh_rank_question question = NH_RANK_QUESTION;
    nh_layout_question asked = NH_LAYOUT_QUESTION;
    nh_ranking ranking;
    nh_ranked row;
    nh_layout layout;
    size_t count = 0;
    if (nh_rank(workspace, hand, &question, &row, 1, &ranking, NULL) != NH_OK ||
        ranking.rows == 0 || nh_list_pattern(list, row.pattern)->concealed ||
        nh_layout_first(list, row.pattern, &row.target, &asked, &layout, NULL) != NH_OK)
        return 0;
    for (int i = 0; i < layout.pieces && count < SETS_MOST; i++) {
        const nh_piece *piece = &layout.piece[i];
        if (piece->shape >= NH_PUNG && piece->shape <= NH_CHOW)
            sets[count++] = (nh_set){piece->shape, piece->kind, piece->tiles, 0};
    }
    return count;
}

/* The time of a reading, or less than 0 when the tiles of the sets and the hand are more
 * than there are. */
static double read_once(const nh_list *list, const nh_set *sets, size_t count, const nh_tiles *mine,
                        uint64_t *sum) {
    nh_list *rest = NULL;
    nh_reading *reading = NULL;
    nh_read_question question = NH_READ_QUESTION;
    question.mine = mine;
    if (nh_list_rest(list, sets, count, NULL, &rest, NULL) != NH_OK)
        return -1.0;
    double start = cpu_ms();
    nh_status status = nh_read(rest, &question, NULL, &reading, NULL);
    double time = cpu_ms() - start;
    if (status == NH_OK) {
        *sum = checksum_add(*sum, &reading->ready.limb[0], 1);
        for (size_t i = 0; i < reading->tiles; i++)
            *sum = checksum_add(*sum, &nh_reading_tile(reading, i)->wins.limb[0], 1);
    }
    nh_reading_free(reading);
    nh_list_free(rest);
    return status == NH_OK ? time : -1.0;
}

static void report(const nh_list *list, nh_workspace *workspace, size_t count) {
    double time[READINGS];
    uint64_t sum = CHECKSUM_START;
    int done = 0;
    for (uint64_t deal = 1; done < READINGS && deal < 100000; deal++) {
        nh_set sets[SETS_MOST];
        nh_random random;
        nh_tiles wall = *nh_list_set(list), near = {{0}}, mine = {{0}};
        nh_random_start(&random, SEED, deal);
        nh_deal_draw(&random, &wall, nh_list_hand_size(list), &near);
        wall = *nh_list_set(list);
        nh_deal_draw(&random, &wall, nh_list_hand_size(list), &mine);
        if (count > 0 && sets_near(list, workspace, &near, sets) < count)
            continue;
        double taken = read_once(list, sets, count, &mine, &sum);
        if (taken >= 0)
            time[done++] = taken;
    }
    if (done == 0)
        return;
    struct spread spread = spread_of(time, (size_t)done);
    printf("  %zu set%s on the table  median %9.3f ms, worst %9.3f   %016llx\n", count,
           count == 1 ? " " : "s", spread.median, spread.worst, (unsigned long long)sum);
}

int main(int argc, char **argv) {
    for (int i = 1; i < argc; i++) {
        nh_list *list = NULL;
        nh_workspace *workspace = NULL;
        if (nh_list_load(argv[i], NULL, &list, NULL) != NH_OK ||
            nh_workspace_new(list, NULL, &workspace) != NH_OK)
            return EXIT_FAILURE;
        printf("%s: %d readings each\n", argv[i], READINGS);
        for (size_t count = SETS_MOST + 1; count-- > 0;)
            report(list, workspace, count);
        nh_workspace_free(workspace);
        nh_list_free(list);
    }
    return EXIT_SUCCESS;
}
