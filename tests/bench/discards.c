/* The benchmark of discards: every choice of dealt hands with a tile drawn, and the best
 * one, for each way to look ahead and each order, in one run. Times are of one hand, and
 * behind them is a checksum of the answers, which two builds must have alike.
 *
 *     discards LIST.json ...
 *     discards --write HANDS LIST.json     prints hands of that many deals, to be read again */
#include "nearhand.h"
#include "timing.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define HANDS 150
#define SEED 20261126

/* Dealt hands, and what is seen beside each. */
struct task {
    nh_workspace *workspace;
    nh_tiles hand[HANDS];
    nh_situation situation[HANDS];
};

static uint64_t add_to_checksum(uint64_t sum, const nh_discard_choice *choice) {
    const uint64_t figures[] = {
        choice->kind,    choice->away,     choice->nearest,      choice->within_one,
        choice->pattern, choice->expected, choice->useful_count, choice->completing.limb[0]};
    return checksum_add(sum, figures, sizeof figures / sizeof *figures);
}

static void report(const struct task *task, const char *what, nh_discard_question question,
                   size_t capacity) {
    nh_discard_choice choices[NH_DISCARDS_MAX];
    double time[HANDS];
    uint64_t sum = CHECKSUM_START;
    for (int i = 0; i < HANDS; i++) {
        nh_discarding discarding;
        double start = cpu_ms();
        question.situation = &task->situation[i];
        if (nh_discard(task->workspace, &task->hand[i], &question, choices, capacity, &discarding,
                       NULL) != NH_OK)
            exit(EXIT_FAILURE);
        time[i] = cpu_ms() - start;
        for (size_t row = 0; row < discarding.rows; row++)
            sum = add_to_checksum(sum, &choices[row]);
    }
    struct spread spread = spread_of(time, HANDS);
    printf("  %-36s median %8.3f ms, p99 %8.3f, worst %8.3f   %016llx\n", what, spread.median,
           spread.p99, spread.worst, (unsigned long long)sum);
}

static void report_all(const struct task *task) {
    nh_discard_question question = NH_DISCARD_QUESTION;
    report(task, "every choice, 3 tiles ahead", question, NH_DISCARDS_MAX);
    report(task, "the best", question, 1);
    question.look = 1;
    report(task, "every choice, 1 tile ahead", question, NH_DISCARDS_MAX);
    report(task, "the best", question, 1);
    question.look = 3;
    question.order = NH_DISCARD_EXPECTED;
    report(task, "the best by expected", question, 1);
    question.order = NH_DISCARD_CHANCE;
    report(task, "the best by chance", question, 1);
    question.order = NH_DISCARD_WORTH;
    report(task, "the best by worth", question, 1);
}

static void deal_hands(struct task *task, const nh_list *list, int seen) {
    for (int i = 0; i < HANDS; i++) {
        nh_random random;
        nh_tiles pool = *nh_list_set(list);
        task->hand[i] = (nh_tiles){{0}};
        nh_random_start(&random, SEED, (uint64_t)i);
        nh_deal_draw(&random, &pool, nh_list_hand_size(list), &task->hand[i]);
        task->situation[i] = (nh_situation)NH_SITUATION;
        nh_deal_draw(&random, &pool, seen, &task->situation[i].seen);
    }
}

static int write_hands(const char *count, const char *path) {
    nh_list *list = NULL;
    if (nh_list_load(path, NULL, &list, NULL) != NH_OK)
        return EXIT_FAILURE;
    for (long i = 0; i < strtol(count, NULL, 10); i++) {
        nh_random random;
        nh_tiles pool = *nh_list_set(list), hand = {{0}};
        char text[NH_TILES_TEXT_SIZE];
        nh_random_start(&random, SEED, (uint64_t)i);
        nh_deal_draw(&random, &pool, nh_list_hand_size(list), &hand);
        nh_tiles_format(&hand, NH_STYLE_LETTERS, text, sizeof text);
        puts(text);
    }
    nh_list_free(list);
    return EXIT_SUCCESS;
}

int main(int count, char **paths) {
    if (count == 4 && strcmp(paths[1], "--write") == 0)
        return write_hands(paths[2], paths[3]);
    for (int i = 1; i < count; i++) {
        static struct task task;
        nh_list *list = NULL;
        if (nh_list_load(paths[i], NULL, &list, NULL) != NH_OK ||
            nh_workspace_new(list, NULL, &task.workspace) != NH_OK)
            return EXIT_FAILURE;
        for (int seen = 0; seen <= 80; seen += 40) {
            printf("%s, %d hands, %d tiles seen\n", nh_list_title(list), HANDS, seen);
            deal_hands(&task, list, seen);
            report_all(&task);
        }
        nh_workspace_free(task.workspace);
        nh_list_free(list);
    }
    return EXIT_SUCCESS;
}
