/* Batches: many hands answered in threads. Threads take blocks of hands from a
 * common counter and write to places that belong to the hand alone, so the
 * answers do not depend on who did what. */
#define _POSIX_C_SOURCE 200809L
#include "base/memory.h"
#include "nearhand.h"

#include <pthread.h>
#include <stdatomic.h>
#include <unistd.h>

/* Work on many hands: `one` answers a hand, with the questioner's `question`. */
struct batch {
    const nh_list *list;
    void (*one)(const void *question, nh_workspace *workspace, size_t hand);
    const void *question;
    size_t count;
    size_t block;       /* hands that a thread takes at a time */
    atomic_size_t next; /* the first hand that nobody has taken */
};

/* One thread's share of the work. */
struct worker {
    struct batch *batch;
    nh_workspace *workspace;
    pthread_t thread;
    bool started;
};

static void *work(void *argument) {
    struct worker *worker = argument;
    struct batch *batch = worker->batch;
    for (;;) {
        size_t first = atomic_fetch_add(&batch->next, batch->block);
        if (first >= batch->count)
            return NULL;
        size_t end = batch->count - first < batch->block ? batch->count : first + batch->block;
        for (size_t i = first; i < end; i++)
            batch->one(batch->question, worker->workspace, i);
    }
}

static unsigned processors(void) {
    long online = sysconf(_SC_NPROCESSORS_ONLN);
    return online < 1 ? 1 : online > (long)NH_JOBS_MAX ? NH_JOBS_MAX : (unsigned)online;
}

/* Gives every worker a workspace, and all but the first a thread; workers that
 * cannot have them are left out. */
static void run_workers(struct worker *workers, unsigned jobs, struct batch *batch,
                        const nh_allocator *allocator) {
    for (unsigned i = 1; i < jobs; i++) {
        struct worker *worker = &workers[i];
        worker->batch = batch;
        if (nh_workspace_new(batch->list, allocator, &worker->workspace) == NH_OK)
            worker->started = pthread_create(&worker->thread, NULL, work, worker) == 0;
    }
    work(&workers[0]);
    for (unsigned i = 1; i < jobs; i++)
        if (workers[i].started)
            pthread_join(workers[i].thread, NULL);
}

static nh_status run_batch(struct batch *batch, const nh_allocator *allocator, unsigned jobs) {
    if (jobs > NH_JOBS_MAX)
        return NH_ERROR_ARGUMENT;
    nh_allocator own = memory_default(allocator);
    size_t blocks = batch->count / batch->block + (batch->count % batch->block != 0);
    unsigned most = blocks < NH_JOBS_MAX ? (unsigned)blocks : NH_JOBS_MAX;
    jobs = jobs == 0 ? processors() : jobs;
    jobs = jobs < most ? jobs : most;
    jobs = jobs > 0 ? jobs : 1;
    struct worker *workers = memory_new(&own, jobs, sizeof *workers);
    if (workers == NULL)
        return NH_ERROR_MEMORY;
    workers[0].batch = batch;
    nh_status status = nh_workspace_new(batch->list, &own, &workers[0].workspace);
    if (status == NH_OK)
        run_workers(workers, jobs, batch, &own);
    for (unsigned i = 0; i < jobs; i++)
        nh_workspace_free(workers[i].workspace);
    memory_release(&own, workers);
    return status;
}

/* ------------------------------------------------------------ rankings --- */

#define RANK_BLOCK 64

struct rank_question {
    const nh_list *list;
    const nh_tiles *hands;
    const nh_situation *situation;
    const uint8_t *chosen;
    size_t top;
    nh_ranked *rows;
    nh_ranking *rankings;
    nh_status *statuses;
};

static void rank_one(const void *argument, nh_workspace *workspace, size_t i) {
    const struct rank_question *question = argument;
    nh_ranked *rows = question->top > 0 ? question->rows + i * question->top : NULL;
    nh_status status = nh_rank(question->list, workspace, &question->hands[i], question->situation,
                               question->chosen, rows, question->top, &question->rankings[i], NULL);
    if (status != NH_OK)
        question->rankings[i] = (nh_ranking){.nearest = NH_AWAY_NONE};
    if (question->statuses != NULL)
        question->statuses[i] = status;
}

nh_status nh_rank_batch(const nh_list *list, const nh_allocator *allocator, const nh_tiles *hands,
                        size_t count, const nh_situation *situation, const uint8_t *chosen,
                        size_t top, unsigned jobs, nh_ranked *rows, nh_ranking *rankings,
                        nh_status *statuses) {
    struct rank_question question = {.list = list,
                                     .hands = hands,
                                     .situation = situation,
                                     .chosen = chosen,
                                     .top = top,
                                     .rows = rows,
                                     .rankings = rankings};
    question.statuses = statuses;
    struct batch batch = {list, rank_one, &question, count, RANK_BLOCK, 0};
    return run_batch(&batch, allocator, jobs);
}

/* -------------------------------------------------------------- passes --- */

#define PASS_BLOCK 1

struct pass_question {
    const nh_list *list;
    const nh_tiles *hands;
    const nh_situation *situation;
    unsigned tiles;
    const uint8_t *chosen;
    size_t top;
    nh_choice *choices;
    nh_passing *passings;
    nh_status *statuses;
};

static void pass_one(const void *argument, nh_workspace *workspace, size_t i) {
    const struct pass_question *question = argument;
    nh_choice *choices = question->top > 0 ? question->choices + i * question->top : NULL;
    nh_status status = nh_pass(question->list, workspace, &question->hands[i], question->situation,
                               question->tiles, question->chosen, choices, question->top,
                               &question->passings[i], NULL);
    if (status != NH_OK)
        question->passings[i] = (nh_passing){.away = NH_AWAY_NONE};
    if (question->statuses != NULL)
        question->statuses[i] = status;
}

nh_status nh_pass_batch(const nh_list *list, const nh_allocator *allocator, const nh_tiles *hands,
                        size_t count, const nh_situation *situation, unsigned tiles,
                        const uint8_t *chosen, size_t top, unsigned jobs, nh_choice *choices,
                        nh_passing *passings, nh_status *statuses) {
    struct pass_question question = {.list = list,
                                     .hands = hands,
                                     .situation = situation,
                                     .tiles = tiles,
                                     .chosen = chosen,
                                     .top = top,
                                     .choices = choices,
                                     .passings = passings};
    question.statuses = statuses;
    struct batch batch = {list, pass_one, &question, count, PASS_BLOCK, 0};
    return run_batch(&batch, allocator, jobs);
}
