/* The benchmark of passes: the exact expectation of every pass of dealt hands,
 * the few best, and the same by listing every draw, in one run.
 *
 *     passes LIST.json ... */
#define _POSIX_C_SOURCE 200809L
#include "../ask.h"
#include "nearhand.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define HANDS 60
#define LISTED 3 /* hands of which a pass has its draws listed */
#define SEED 20250615

static double now(void) {
    struct timespec time;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
    return (double)time.tv_sec * 1e3 + (double)time.tv_nsec / 1e6;
}

static int compare(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Dealt hands, and one choice for each. */
struct task {
    const nh_list *list;
    nh_workspace *workspace;
    nh_tiles hand[HANDS];
    nh_choice best[HANDS];
    size_t passes;
};

/* The median time of a hand, in milliseconds; `worst` too. */
static double time_passes(struct task *task, size_t capacity, double *worst) {
    static nh_choice choices[NH_PASSES_MAX];
    double time[HANDS];
    task->passes = 0;
    for (int i = 0; i < HANDS; i++) {
        nh_situation situation = NH_SITUATION;
        nh_passing passing;
        double start = now();
        if (ask_pass(task->workspace, &task->hand[i], &situation, 3, NULL, choices, capacity,
                     &passing, NULL) != NH_OK)
            exit(EXIT_FAILURE);
        time[i] = now() - start;
        task->best[i] = choices[0];
        task->passes += passing.passes;
    }
    qsort(time, HANDS, sizeof *time, compare);
    *worst = time[HANDS - 1];
    return time[HANDS / 2];
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
    double start = now();
    uint64_t sum = list_draws(task, &hand, &situation, &unseen, 0, 3, 1);
    if (sum != task->best[i].expected)
        printf("  listing the draws gives another expectation\n");
    return now() - start;
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
    double worst, worst_five, worst_one, listing = 0;
    double five = time_passes(&task, 5, &worst_five), one = time_passes(&task, 1, &worst_one);
    double all = time_passes(&task, NH_PASSES_MAX, &worst);
    for (int i = 0; i < LISTED; i++)
        listing += time_listing(&task, i) / LISTED;
    double passes = (double)task.passes / HANDS;
    printf(
        "%s: every pass %.1f ms a hand (at most %.1f), five best %.1f (%.1f), best %.1f (%.1f)\n",
        name != NULL ? name + 1 : path, all, worst, five, worst_five, one, worst_one);
    printf("  %.0f passes a hand; listing draws %.1f ms a pass: %.0f times every pass, %.0f times "
           "the five best\n",
           passes, listing, listing * passes / all, listing * passes / five);
    nh_workspace_free(task.workspace);
    nh_list_free(list);
}

int main(int count, char **arguments) {
    for (int i = 1; i < count; i++)
        report(arguments[i]);
    return EXIT_SUCCESS;
}
