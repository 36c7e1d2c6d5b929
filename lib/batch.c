/* Batches: many hands ranked in threads. Threads take blocks of hands from a
 * common counter and write to places that belong to the hand alone, so the
 * answers do not depend on who did what. */
#define _POSIX_C_SOURCE 200809L
#include "memory.h"
#include "nearhand.h"

#include <pthread.h>
#include <stdatomic.h>
#include <unistd.h>

#define BLOCK 64

struct batch {
    const nh_list *list;
    const nh_tiles *hands;
    size_t count, top;
    const nh_situation *situation;
    const uint8_t *chosen;
    nh_ranked *rows;
    nh_ranking *rankings;
    nh_status *statuses;
    atomic_size_t next; /* the first hand that nobody has taken */
};

/* One thread's share of the work. */
struct worker {
    struct batch *batch;
    nh_workspace *workspace;
    pthread_t thread;
    bool started;
};

static void rank_one(struct batch *batch, nh_workspace *workspace, size_t i) {
    nh_ranked *rows = batch->top > 0 ? batch->rows + i * batch->top : NULL;
    nh_status status = nh_rank(batch->list, workspace, &batch->hands[i], batch->situation,
                               batch->chosen, rows, batch->top, &batch->rankings[i], NULL);
    if (status != NH_OK)
        batch->rankings[i] = (nh_ranking){.nearest = NH_AWAY_NONE};
    if (batch->statuses != NULL)
        batch->statuses[i] = status;
}

static void *work(void *argument) {
    struct worker *worker = argument;
    struct batch *batch = worker->batch;
    for (;;) {
        size_t first = atomic_fetch_add(&batch->next, BLOCK);
        if (first >= batch->count)
            return NULL;
        size_t end = batch->count - first < BLOCK ? batch->count : first + BLOCK;
        for (size_t i = first; i < end; i++)
            rank_one(batch, worker->workspace, i);
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

nh_status nh_rank_batch(const nh_list *list, const nh_allocator *allocator, const nh_tiles *hands,
                        size_t count, const nh_situation *situation, const uint8_t *chosen,
                        size_t top, unsigned jobs, nh_ranked *rows, nh_ranking *rankings,
                        nh_status *statuses) {
    if (jobs > NH_JOBS_MAX)
        return NH_ERROR_ARGUMENT;
    nh_allocator own = memory_default(allocator);
    unsigned most = (unsigned)(count / BLOCK < NH_JOBS_MAX ? count / BLOCK + 1 : NH_JOBS_MAX);
    jobs = jobs == 0 ? processors() : jobs;
    jobs = jobs < most ? jobs : most;
    struct batch batch = {.list = list,
                          .hands = hands,
                          .count = count,
                          .top = top,
                          .situation = situation,
                          .chosen = chosen,
                          .rows = rows,
                          .rankings = rankings};
    batch.statuses = statuses;
    struct worker *workers = memory_new(&own, jobs, sizeof *workers);
    if (workers == NULL)
        return NH_ERROR_MEMORY;
    workers[0].batch = &batch;
    nh_status status = nh_workspace_new(list, &own, &workers[0].workspace);
    if (status == NH_OK)
        run_workers(workers, jobs, &batch, &own);
    for (unsigned i = 0; i < jobs; i++)
        nh_workspace_free(workers[i].workspace);
    memory_release(&own, workers);
    return status;
}
