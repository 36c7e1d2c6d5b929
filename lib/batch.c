/* Batches: many hands answered in threads. Threads take blocks of hands from a
 * common counter and write to places that belong to the hand alone, so the
 * answers do not depend on who did what. A library that is built without threads
 * (NH_NO_THREADS) works through the blocks in the caller's. */
#define _POSIX_C_SOURCE 200809L
#include "base/cancel.h"
#include "base/memory.h"
#include "base/question.h"
#include "base/status.h"
#include "distance/match.h"
#include "questions.h"

#include <stdatomic.h>
#include <string.h>
#ifndef NH_NO_THREADS
#include <pthread.h>
#include <unistd.h>
#endif

/* Work on many hands: `one` answers a hand of `question`. */
struct batch {
    const nh_list *list;
    const nh_allocator *allocator;
    void (*one)(const void *question, nh_workspace *workspace, size_t hand);
    const void *question;
    size_t hand_count;
    size_t block;       /* hands that a thread takes at a time */
    atomic_size_t next; /* the first hand that nobody has taken */
};

/* One thread's share of the work. */
struct worker {
    struct batch *batch;
    nh_workspace *workspace;
#ifndef NH_NO_THREADS
    pthread_t thread;
    bool started;
#endif
};

static void *work(void *argument) {
    struct worker *worker = argument;
    struct batch *batch = worker->batch;
    for (;;) {
        size_t first = atomic_fetch_add(&batch->next, batch->block);
        if (first >= batch->hand_count)
            return NULL;
        size_t left = batch->hand_count - first;
        size_t end = first + (left < batch->block ? left : batch->block);
        for (size_t i = first; i < end; i++)
            batch->one(batch->question, worker->workspace, i);
    }
}

#ifdef NH_NO_THREADS

static unsigned processors(void) {
    return 1;
}

static void run_workers(struct worker *workers, unsigned jobs) {
    (void)jobs;
    work(&workers[0]);
}

#else

static unsigned processors(void) {
    long online = sysconf(_SC_NPROCESSORS_ONLN);
    return online < 1 ? 1 : online > (long)NH_JOBS_MAX ? NH_JOBS_MAX : (unsigned)online;
}

/* Gives every worker a workspace, and all but the first a thread; workers that
 * cannot have them are left out. */
static void run_workers(struct worker *workers, unsigned jobs) {
    const struct batch *batch = workers[0].batch;
    for (unsigned i = 1; i < jobs; i++) {
        struct worker *worker = &workers[i];
        worker->batch = workers[0].batch;
        if (nh_workspace_new(batch->list, batch->allocator, &worker->workspace) == NH_OK)
            worker->started = pthread_create(&worker->thread, NULL, work, worker) == 0;
    }
    work(&workers[0]);
    for (unsigned i = 1; i < jobs; i++)
        if (workers[i].started)
            pthread_join(workers[i].thread, NULL);
}

#endif

static nh_status run_batch(struct batch *batch, unsigned jobs) {
    nh_allocator own = memory_default(batch->allocator);
    size_t blocks = batch->hand_count / batch->block + (batch->hand_count % batch->block != 0);
    unsigned most = blocks < NH_JOBS_MAX ? (unsigned)blocks : NH_JOBS_MAX;
    jobs = jobs == 0 ? processors() : jobs;
    jobs = jobs < most ? jobs : most;
    jobs = jobs > 0 ? jobs : 1;
    struct worker *workers = memory_new(&own, jobs, sizeof *workers);
    if (workers == NULL)
        return NH_ERROR_MEMORY;
    workers[0].batch = batch;
    /* cppcheck-suppress autoVariables ; the batch ends before this call does */
    batch->allocator = &own;
    nh_status status = nh_workspace_new(batch->list, &own, &workers[0].workspace);
    if (status == NH_OK)
        run_workers(workers, jobs);
    for (unsigned i = 0; i < jobs; i++)
        nh_workspace_free(workers[i].workspace);
    memory_release(&own, workers);
    return status;
}

/* ----------------------------------------------------------- arguments --- */

static nh_status missing(const char *which, nh_error *error) {
    return error_set(error, NH_ERROR_ARGUMENT, 0, "%s is NULL", which);
}

/* What a batch of either kind may have wrong. */
static nh_status check_batch(size_t hand_count, const nh_tiles *hands, const void *answers,
                             const char *answers_name, unsigned jobs, nh_error *error) {
    if (hand_count > 0 && hands == NULL)
        return missing("hands", error);
    if (hand_count > 0 && answers == NULL)
        return missing(answers_name, error);
    if (jobs > NH_JOBS_MAX)
        return error_set(error, NH_ERROR_ARGUMENT, 0, "jobs is %u; 0 to %u", jobs, NH_JOBS_MAX);
    return NH_OK;
}

/* What a batch that ran returns: whether it was cancelled. */
static nh_status batch_status(nh_status status, const nh_cancel *cancel, nh_error *error) {
    if (status == NH_ERROR_MEMORY)
        return error_set(error, status, 0, "%s", nh_status_text(status));
    return status == NH_OK && cancel_asked(cancel) ? cancel_error(error) : status;
}

/* ------------------------------------------------------------ rankings --- */

#define RANK_BLOCK 64

struct rank_batch {
    const nh_rank_hands *asked;
    const nh_rank_question *question;
};

static void rank_one(const void *argument, nh_workspace *workspace, size_t i) {
    const struct rank_batch *batch = argument;
    const nh_rank_hands *asked = batch->asked;
    const nh_rank_question *question = batch->question;
    char *rankings = (char *)asked->rankings, *rows = (char *)asked->rows;
    nh_ranking *ranking = (nh_ranking *)(void *)(rankings + i * question->ranking_size);
    nh_ranked *first = NULL;
    if (asked->top > 0)
        first = (nh_ranked *)(void *)(rows + i * asked->top * question->row_size);
    nh_status status =
        rank_hand(workspace, &asked->hands[i], question, first, asked->top, ranking, NULL);
    if (asked->statuses != NULL)
        asked->statuses[i] = status;
}

nh_status nh_rank_batch(const nh_list *list, const nh_rank_hands *batch, nh_error *error) {
    nh_rank_hands given = NH_RANK_HANDS;
    struct rank_asked asked;
    nh_status status = question_read(&given, sizeof given, batch,
                                     SIZE_PAST(nh_rank_hands, allocator), "NH_RANK_HANDS", error);
    if (status == NH_OK)
        status = read_rank_question(given.question, &asked, error);
    if (status == NH_OK)
        status = check_batch(given.hand_count, given.hands, given.rankings, "rankings", given.jobs,
                             error);
    if (status == NH_OK && given.hand_count > 0 && given.top > 0 && given.rows == NULL)
        status = missing("rows", error);
    if (status == NH_OK)
        status = check_winds(&asked.situation, error);
    if (status != NH_OK)
        return status;
    struct rank_batch question = {&given, &asked.question};
    struct batch work_on = {
        list, given.allocator, rank_one, &question, given.hand_count, RANK_BLOCK, 0};
    return batch_status(run_batch(&work_on, given.jobs), asked.question.cancel, error);
}

/* -------------------------------------------------------------- passes --- */

#define PASS_BLOCK 1

struct pass_batch {
    const nh_pass_hands *asked;
    const nh_pass_question *question;
};

static void pass_one(const void *argument, nh_workspace *workspace, size_t i) {
    const struct pass_batch *batch = argument;
    const nh_pass_hands *asked = batch->asked;
    const nh_pass_question *question = batch->question;
    char *passings = (char *)asked->passings, *choices = (char *)asked->choices;
    nh_passing *passing = (nh_passing *)(void *)(passings + i * question->passing_size);
    nh_choice *first = NULL;
    if (asked->top > 0)
        first = (nh_choice *)(void *)(choices + i * asked->top * question->choice_size);
    nh_status status =
        pass_hand(workspace, &asked->hands[i], question, first, asked->top, passing, NULL);
    if (asked->statuses != NULL)
        asked->statuses[i] = status;
}

nh_status nh_pass_batch(const nh_list *list, const nh_pass_hands *batch, nh_error *error) {
    nh_pass_hands given = NH_PASS_HANDS;
    struct pass_asked asked;
    nh_status status = question_read(&given, sizeof given, batch,
                                     SIZE_PAST(nh_pass_hands, allocator), "NH_PASS_HANDS", error);
    if (status == NH_OK)
        status = read_pass_question(list, given.question, &asked, error);
    if (status == NH_OK)
        status = check_batch(given.hand_count, given.hands, given.passings, "passings", given.jobs,
                             error);
    if (status == NH_OK && given.hand_count > 0 && given.top > 0 && given.choices == NULL)
        status = missing("choices", error);
    if (status == NH_OK)
        status = check_winds(&asked.situation, error);
    if (status != NH_OK)
        return status;
    struct pass_batch question = {&given, &asked.question};
    struct batch work_on = {
        list, given.allocator, pass_one, &question, given.hand_count, PASS_BLOCK, 0};
    return batch_status(run_batch(&work_on, given.jobs), asked.question.cancel, error);
}

/* ------------------------------------------------------------- discards --- */

#define DISCARD_BLOCK 1

struct discard_batch {
    const nh_discard_hands *asked;
    const nh_discard_question *question;
};

static void discard_one(const void *argument, nh_workspace *workspace, size_t i) {
    const struct discard_batch *batch = argument;
    const nh_discard_hands *asked = batch->asked;
    const nh_discard_question *question = batch->question;
    char *discardings = (char *)asked->discardings, *choices = (char *)asked->choices;
    nh_discarding *discarding =
        (nh_discarding *)(void *)(discardings + i * question->discarding_size);
    nh_discard_choice *first = NULL;
    if (asked->top > 0)
        first = (nh_discard_choice *)(void *)(choices + i * asked->top * question->choice_size);
    nh_status status =
        discard_from(workspace, &asked->hands[i], question, first, asked->top, discarding, NULL);
    if (asked->statuses != NULL)
        asked->statuses[i] = status;
}

nh_status nh_discard_batch(const nh_list *list, const nh_discard_hands *batch, nh_error *error) {
    nh_discard_hands given = NH_DISCARD_HANDS;
    struct discard_asked asked;
    nh_status status =
        question_read(&given, sizeof given, batch, SIZE_PAST(nh_discard_hands, allocator),
                      "NH_DISCARD_HANDS", error);
    if (status == NH_OK)
        status = read_discard_question(given.question, &asked, error);
    if (status == NH_OK)
        status = check_batch(given.hand_count, given.hands, given.discardings, "discardings",
                             given.jobs, error);
    if (status == NH_OK && given.hand_count > 0 && given.top > 0 && given.choices == NULL)
        status = missing("choices", error);
    if (status == NH_OK)
        status = check_winds(&asked.situation, error);
    if (status != NH_OK)
        return status;
    struct discard_batch question = {&given, &asked.question};
    struct batch work_on = {
        list, given.allocator, discard_one, &question, given.hand_count, DISCARD_BLOCK, 0};
    return batch_status(run_batch(&work_on, given.jobs), asked.question.cancel, error);
}
