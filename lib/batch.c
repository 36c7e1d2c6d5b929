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

/* Where answers of one kind go: one behind the other, `size` bytes each. */
struct places {
    const char *name; /* as the caller knows them */
    void *first;
    size_t size;
};

/* Answers one hand, with as many rows as there is room for. */
typedef nh_status answer_hand(nh_workspace *workspace, const nh_tiles *hand, const void *question,
                              void *rows, size_t top, void *answer);

/* Many hands and one question about them. */
struct batch {
    const nh_list *list;
    const nh_allocator *allocator;
    answer_hand *answer;
    const void *question;
    const nh_situation *situation; /* of the question */
    const nh_cancel *cancel;
    const nh_tiles *hands;
    size_t hand_count;
    size_t top; /* rows of a hand */
    struct places rows, answers;
    nh_status *statuses; /* NULL for none */
    unsigned jobs;
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

static void *place(struct places places, size_t i) {
    return places.first == NULL ? NULL : (char *)places.first + i * places.size;
}

static void answer_one(const struct batch *batch, nh_workspace *workspace, size_t i) {
    nh_status status =
        batch->answer(workspace, &batch->hands[i], batch->question,
                      place(batch->rows, i * batch->top), batch->top, place(batch->answers, i));
    if (batch->statuses != NULL)
        batch->statuses[i] = status;
}

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
            answer_one(batch, worker->workspace, i);
    }
}

#ifdef NH_NO_THREADS

static unsigned processors_online(void) {
    return 1;
}

static void run_workers(struct worker *workers, unsigned jobs) {
    (void)jobs;
    work(&workers[0]);
}

#else

static unsigned processors_online(void) {
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

static unsigned thread_count(const struct batch *batch) {
    size_t blocks = batch->hand_count / batch->block + (batch->hand_count % batch->block != 0);
    size_t jobs = batch->jobs == 0 ? processors_online() : batch->jobs;
    jobs = jobs < blocks ? jobs : blocks;
    return jobs > 0 ? (unsigned)jobs : 1;
}

static nh_status run_batch(struct batch *batch) {
    nh_allocator own = memory_default(batch->allocator);
    unsigned jobs = thread_count(batch);
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

/* What is wrong for all hands. */
static nh_status check_batch(const struct batch *batch, nh_error *error) {
    if (batch->hand_count > 0 && batch->hands == NULL)
        return missing("hands", error);
    if (batch->hand_count > 0 && batch->answers.first == NULL)
        return missing(batch->answers.name, error);
    if (batch->jobs > NH_JOBS_MAX)
        return error_set(error, NH_ERROR_ARGUMENT, 0, "jobs is %u; 0 to %u", batch->jobs,
                         NH_JOBS_MAX);
    if (batch->hand_count > 0 && batch->top > 0 && batch->rows.first == NULL)
        return missing(batch->rows.name, error);
    return check_winds(batch->situation, error);
}

static nh_status answer_all(struct batch *batch, nh_error *error) {
    nh_status status = check_batch(batch, error);
    if (status != NH_OK)
        return status;
    status = run_batch(batch);
    if (status != NH_OK)
        return error_set(error, status, 0, "%s", nh_status_text(status));
    return cancel_asked(batch->cancel) ? cancel_error(error) : NH_OK;
}

/* --------------------------------------------------------------- kinds --- */

#define RANK_BLOCK 64 /* hands that take microseconds each */

static nh_status rank_one(nh_workspace *workspace, const nh_tiles *hand, const void *question,
                          void *rows, size_t top, void *answer) {
    return rank_hand(workspace, hand, question, rows, top, answer, NULL);
}

nh_status nh_rank_batch(const nh_list *list, const nh_rank_hands *batch, nh_error *error) {
    nh_rank_hands given = NH_RANK_HANDS;
    struct rank_asked asked;
    nh_status status = question_read(&given, sizeof given, batch,
                                     SIZE_PAST(nh_rank_hands, allocator), "NH_RANK_HANDS", error);
    if (status == NH_OK)
        status = read_rank_question(given.question, &asked, error);
    if (status != NH_OK)
        return status;
    struct batch all = {.list = list,
                        .allocator = given.allocator,
                        .answer = rank_one,
                        .question = &asked.question,
                        .situation = &asked.situation,
                        .cancel = asked.question.cancel,
                        .hands = given.hands,
                        .hand_count = given.hand_count,
                        .top = given.top,
                        .rows = {"rows", given.rows, asked.question.row_size},
                        .answers = {"rankings", given.rankings, asked.question.ranking_size},
                        .statuses = given.statuses,
                        .jobs = given.jobs,
                        .block = RANK_BLOCK};
    return answer_all(&all, error);
}

static nh_status pass_one(nh_workspace *workspace, const nh_tiles *hand, const void *question,
                          void *rows, size_t top, void *answer) {
    return pass_hand(workspace, hand, question, rows, top, answer, NULL);
}

nh_status nh_pass_batch(const nh_list *list, const nh_pass_hands *batch, nh_error *error) {
    nh_pass_hands given = NH_PASS_HANDS;
    struct pass_asked asked;
    nh_status status = question_read(&given, sizeof given, batch,
                                     SIZE_PAST(nh_pass_hands, allocator), "NH_PASS_HANDS", error);
    if (status == NH_OK)
        status = read_pass_question(list, given.question, &asked, error);
    if (status != NH_OK)
        return status;
    struct batch all = {.list = list,
                        .allocator = given.allocator,
                        .answer = pass_one,
                        .question = &asked.question,
                        .situation = &asked.situation,
                        .cancel = asked.question.cancel,
                        .hands = given.hands,
                        .hand_count = given.hand_count,
                        .top = given.top,
                        .rows = {"choices", given.choices, asked.question.choice_size},
                        .answers = {"passings", given.passings, asked.question.passing_size},
                        .statuses = given.statuses,
                        .jobs = given.jobs,
                        .block = 1};
    return answer_all(&all, error);
}

static nh_status discard_one(nh_workspace *workspace, const nh_tiles *hand, const void *question,
                             void *rows, size_t top, void *answer) {
    return discard_from(workspace, hand, question, rows, top, answer, NULL);
}

nh_status nh_discard_batch(const nh_list *list, const nh_discard_hands *batch, nh_error *error) {
    nh_discard_hands given = NH_DISCARD_HANDS;
    struct discard_asked asked;
    nh_status status =
        question_read(&given, sizeof given, batch, SIZE_PAST(nh_discard_hands, allocator),
                      "NH_DISCARD_HANDS", error);
    if (status == NH_OK)
        status = read_discard_question(given.question, &asked, error);
    if (status != NH_OK)
        return status;
    struct batch all = {
        .list = list,
        .allocator = given.allocator,
        .answer = discard_one,
        .question = &asked.question,
        .situation = &asked.situation,
        .cancel = asked.question.cancel,
        .hands = given.hands,
        .hand_count = given.hand_count,
        .top = given.top,
        .rows = {"choices", given.choices, asked.question.choice_size},
        .answers = {"discardings", given.discardings, asked.question.discarding_size},
        .statuses = given.statuses,
        .jobs = given.jobs,
        .block = 1};
    return answer_all(&all, error);
}
