/* The benchmark of passes: the exact expectation of every pass of dealt hands, the few
 * best, and the same by listing every draw, in one run; with nothing seen, with up to
 * 105 tiles seen, and with all seen but a handful. Times are of one hand; behind them are
 * the most steps of a hand, of which PASS_WORK_MAX are allowed, and a checksum of the
 * answers, which two builds must have alike.
 *
 *     passes LIST.json ... */
#include "../../lib/workspace.h"
#include "../ask.h"
#include "nearhand.h"
#include "timing.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define HANDS 150
#define HANDS_WHOLE 40 /* for every pass */
#define LISTED 3       /* hands of which a pass has its draws listed */
#define SEED 20250615

/* Dealt hands, what is seen beside each, and one choice for each. */
struct task {
    const nh_list *list;
    nh_workspace *workspace;
    nh_tiles hand[HANDS];
    nh_situation situation[HANDS];
    nh_choice best[HANDS];
    size_t passes;
};

struct times {
    struct spread spread; /* in milliseconds */
    uint64_t steps;       /* the most of a hand */
    uint64_t checksum;
};

static uint64_t add_to_checksum(uint64_t sum, const nh_choice *choice) {
    const uint64_t figures[] = {choice->expected, choice->nearer, choice->within_one,
                                choice->nearest, choice->away};
    sum = checksum_add(sum, figures, sizeof figures / sizeof *figures);
    for (int kind = 0; kind < NH_KINDS; kind++) {
        const uint64_t copies = choice->pass.count[kind];
        sum = checksum_add(sum, &copies, 1);
    }
    return sum;
}

/* Times of the first hands. */
static struct times time_passes(struct task *task, int hands, size_t capacity) {
    static nh_choice choices[NH_PASSES_MAX];
    struct times times = {.checksum = CHECKSUM_START};
    double time[HANDS];
    task->passes = 0;
    for (int i = 0; i < hands; i++) {
        nh_passing passing;
        double start = cpu_ms();
        if (ask_pass(task->workspace, &task->hand[i], &task->situation[i], 3, NULL, choices,
                     capacity, &passing, NULL) != NH_OK)
            exit(EXIT_FAILURE);
        time[i] = cpu_ms() - start;
        uint64_t steps = task->workspace->pass.expect.work;
        times.steps = steps > times.steps ? steps : times.steps;
        task->best[i] = choices[0];
        task->passes += passing.passes;
        for (size_t row = 0; row < passing.rows; row++)
            times.checksum = add_to_checksum(times.checksum, &choices[row]);
    }
    times.spread = spread_of(time, (size_t)hands);
    return times;
}

static struct times report_times(struct task *task, const char *what, int hands, size_t capacity) {
    struct times times = time_passes(task, hands, capacity);
    printf("  %-32s median %8.2f ms, p99 %8.2f, worst %8.2f, %6.2f M steps   %016llx\n", what,
           times.spread.median, times.spread.p99, times.spread.worst, (double)times.steps / 1e6,
           (unsigned long long)times.checksum);
    return times;
}

/* Between `least` and `most` tiles beside each hand are seen, or of a negative number all
 * but so many. */
static void pick_seen(struct task *task, int least, int most) {
    for (int i = 0; i < HANDS; i++) {
        nh_random random;
        nh_tiles pool = *nh_list_set(task->list);
        int unseen = 0;
        nh_random_start(&random, SEED + 1, (uint64_t)i);
        for (int kind = 0; kind < NH_KINDS; kind++) {
            pool.count[kind] = (uint8_t)(pool.count[kind] - task->hand[i].count[kind]);
            unseen += pool.count[kind];
        }
        int seen = least + (int)nh_random_below(&random, (uint32_t)(most - least + 1));
        seen = seen < 0 ? unseen + seen : seen;
        task->situation[i] = (nh_situation)NH_SITUATION;
        nh_deal_draw(&random, &pool, seen < unseen - 3 ? seen : unseen - 3,
                     &task->situation[i].seen);
    }
}

/* Goes through all draws of `left` more tiles from `kind` on. */
static uint64_t list_draws(struct task *task, nh_tiles *hand, const nh_situation *situation,
                           const nh_tiles *unseen, int kind, int left, uint64_t ways) {
    static uint8_t away[NH_PATTERNS_MAX];
    uint64_t sum = 0;
    if (left == 0) {
        uint8_t nearest = NH_AWAY_NONE;
        nh_distances(task->workspace, hand, situation, away, NULL);
        for (size_t i = 0; i < nh_list_size(task->list); i++)
            nearest = away[i] < nearest ? away[i] : nearest;
        return ways * nearest;
    }
    if (kind == NH_KINDS)
        return 0;
    for (int drawn = 0; drawn <= left && drawn <= unseen->count[kind]; drawn++) {
        uint64_t here = ways;
        for (int i = 0; i < drawn; i++)
            here = here * (uint64_t)(unseen->count[kind] - i) / (uint64_t)(i + 1);
        hand->count[kind] = (uint8_t)(hand->count[kind] + drawn);
        sum += list_draws(task, hand, situation, unseen, kind + 1, left - drawn, here);
        hand->count[kind] = (uint8_t)(hand->count[kind] - drawn);
    }
    return sum;
}

/* The time to list the draws of one pass; says so when the sums differ. */
static double time_listing(struct task *task, int i) {
    nh_situation situation = NH_SITUATION;
    nh_tiles hand = task->hand[i], unseen;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        uint8_t passed = task->best[i].pass.count[kind];
        unseen.count[kind] = (uint8_t)(nh_list_set(task->list)->count[kind] - hand.count[kind]);
        hand.count[kind] = (uint8_t)(hand.count[kind] - passed);
        situation.seen.count[kind] = passed;
    }
    double start = cpu_ms();
    uint64_t sum = list_draws(task, &hand, &situation, &unseen, 0, 3, 1);
    if (sum != task->best[i].expected)
        printf("  listing the draws gives another expectation\n");
    return cpu_ms() - start;
}

static void report(const char *path) {
    static struct task task;
    nh_list *list;
    const char *name = strrchr(path, '/');
    if (nh_list_load(path, NULL, &list, NULL) != NH_OK ||
        nh_workspace_new(list, NULL, &task.workspace) != NH_OK)
        exit(EXIT_FAILURE);
    task.list = list;
    for (int i = 0; i < HANDS; i++) {
        nh_deal deal;
        if (nh_deal_table(list, SEED, (uint64_t)i, &deal) != NH_OK)
            exit(EXIT_FAILURE);
        task.hand[i] = deal.hand[0];
    }
    printf("%s\n", name != NULL ? name + 1 : path);
    pick_seen(&task, 0, 0);
    report_times(&task, "best", HANDS, 1);
    double five = report_times(&task, "five best", HANDS, 5).spread.median;
    double all = report_times(&task, "every pass", HANDS_WHOLE, NH_PASSES_MAX).spread.median;
    double passes = (double)task.passes / HANDS_WHOLE, listing = 0;
    for (int i = 0; i < LISTED; i++)
        listing += time_listing(&task, i) / LISTED;
    printf("  %.0f passes a hand; listing draws %.1f ms a pass: %.0f times every pass, %.0f times "
           "the five best\n",
           passes, listing, listing * passes / all, listing * passes / five);
    pick_seen(&task, 0, 105);
    report_times(&task, "0 to 105 seen, five best", HANDS, 5);
    report_times(&task, "0 to 105 seen, every pass", HANDS_WHOLE, NH_PASSES_MAX);
    pick_seen(&task, -30, -3);
    report_times(&task, "all but 3 to 30 seen, five best", HANDS, 5);
    report_times(&task, "all but 3 to 30 seen, every pass", HANDS, NH_PASSES_MAX);
    pick_seen(&task, 60, 105);
    report_times(&task, "60 to 105 seen, every pass", HANDS, NH_PASSES_MAX);
    nh_workspace_free(task.workspace);
    nh_list_free(list);
}

int main(int count, char **arguments) {
    for (int i = 1; i < count; i++)
        report(arguments[i]);
    return EXIT_SUCCESS;
}
