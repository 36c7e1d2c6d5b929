/* Lines of input answered by several threads, some lines at a time, and written
 * in the order of the input.
 *
 * Blocks lie in a ring, by their number. A thread takes the next block of lines
 * (one thread reads at a time), answers it on the block's own page, and hands
 * it in. The thread that hands in the block due writes it, and any later blocks that
 * are done. */
#define _POSIX_C_SOURCE 200809L
#include "hands/pipeline.h"
#include "io/output.h"
#include "system/halt.h"

#include <pthread.h>
#include <stdlib.h>

#define BLOCKS_EACH 3u /* blocks in flight for each thread */

struct block {
    struct lines lines;
    struct page page;
    struct hand_sums sums;
    bool done;
    bool cut; /* a stop was asked for before its last line */
};

struct batch {
    struct input *input;
    const struct batch_work *work;
    struct hand_meter *meter;
    struct block *blocks;
    unsigned long ring; /* their number */
    unsigned jobs;

    pthread_mutex_t reading; /* guards the input and what follows */
    bool ended;
    enum input_result result;
    unsigned long taken; /* blocks so far */
    pthread_t *helpers;
    unsigned helper_count;

    pthread_mutex_t order; /* guards `done` of the blocks and what follows */
    pthread_cond_t room;
    unsigned long written; /* blocks so far */
    bool writing;
    bool closed; /* nothing more is written */
    bool begun;  /* something was */
};

static void *work_on(void *argument);

static void start_helper(struct batch *batch) {
    if (halt_start_thread(&batch->helpers[batch->helper_count], work_on, batch))
        batch->helper_count++;
}

/* ------------------------------------------------------------- taking --- */

/* The next block, once its last contents are written. */
static struct block *next_block(struct batch *batch) {
    pthread_mutex_lock(&batch->order);
    while (batch->taken - batch->written == batch->ring)
        pthread_cond_wait(&batch->room, &batch->order);
    pthread_mutex_unlock(&batch->order);
    return &batch->blocks[batch->taken % batch->ring];
}

static struct block *read_block(struct batch *batch) {
    struct block *block = next_block(batch);
    batch->result = input_read(batch->input, &block->lines);
    batch->ended = batch->result != INPUT_MORE && batch->result != INPUT_DRY;
    if (block->lines.count == 0)
        return NULL;
    batch->taken++;
    if (batch->result == INPUT_MORE && batch->helper_count + 1 < batch->jobs)
        start_helper(batch);
    return block;
}

/* NULL when there is no more to do. */
static struct block *take_block(struct batch *batch) {
    pthread_mutex_lock(&batch->reading);
    struct block *block = batch->ended ? NULL : read_block(batch);
    pthread_mutex_unlock(&batch->reading);
    return block;
}

/* ---------------------------------------------------------- answering --- */

static void answer_block(const struct batch *batch, void *worker, struct block *block) {
    block->sums = (struct hand_sums){0, 0};
    block->cut = false;
    page_clear(&block->page);
    output_to(&block->page);
    for (size_t i = 0; i < block->lines.count && !block->cut; i++) {
        bool answered = batch->work->answer(worker, &block->lines.line[i]);
        block->cut = !answered && batch->work->cancelled != NULL && batch->work->cancelled(worker);
        if (block->cut)
            break;
        block->sums.answered += answered;
        block->sums.unread += !answered;
        block->cut = halted() && i + 1 < block->lines.count;
    }
    output_to(NULL);
}

/* ------------------------------------------------------------ writing --- */

static void write_block(struct batch *batch, const struct block *block) {
    bool first = batch->work->apart && !batch->begun && block->sums.answered > 0;
    batch->begun = batch->begun || block->sums.answered > 0;
    if (page_has_error(&block->page))
        meter_clear(&batch->meter->meter);
    bool whole = first ? output_page_first(&block->page) : output_page(&block->page);
    if (!whole)
        halt();
    else
        hand_meter_add(batch->meter, block->sums);
    batch->closed = !whole || block->cut;
}

/* Writes the blocks that are due. It releases the lock while it writes, so that other
 * threads can hand in blocks; `writing` keeps them from writing. */
static void write_due(struct batch *batch) {
    batch->writing = true;
    for (;;) {
        struct block *due = &batch->blocks[batch->written % batch->ring];
        if (!due->done)
            break;
        pthread_mutex_unlock(&batch->order);
        if (!batch->closed)
            write_block(batch, due);
        pthread_mutex_lock(&batch->order);
        due->done = false;
        batch->written++;
        pthread_cond_signal(&batch->room);
    }
    batch->writing = false;
}

static void hand_in(struct batch *batch, struct block *block) {
    pthread_mutex_lock(&batch->order);
    block->done = true;
    if (!batch->writing)
        write_due(batch);
    pthread_mutex_unlock(&batch->order);
}

/* ------------------------------------------------------------ threads --- */

static void work_with(struct batch *batch, void *worker) {
    struct block *block;
    while ((block = take_block(batch)) != NULL) {
        answer_block(batch, worker, block);
        hand_in(batch, block);
    }
}

/* A helper that gets no memory leaves the work to the others. */
static void *work_on(void *argument) {
    struct batch *batch = argument;
    void *worker = batch->work->begin(batch->work->context);
    if (worker != NULL) {
        work_with(batch, worker);
        batch->work->end(worker);
    }
    return NULL;
}

/* Called at the end of the input, so no more helpers start. */
static void join_helpers(struct batch *batch) {
    for (unsigned i = 0; i < batch->helper_count; i++)
        pthread_join(batch->helpers[i], NULL);
}

static enum batch_result result_of(const struct batch *batch) {
    if (halted_by_signal())
        return BATCH_STOPPED;
    return batch->result == INPUT_FAILED ? BATCH_FAILED : BATCH_DONE;
}

static void batch_free(struct batch *batch) {
    for (unsigned long i = 0; batch->blocks != NULL && i < batch->ring; i++) {
        lines_free(&batch->blocks[i].lines);
        page_free(&batch->blocks[i].page);
    }
    free(batch->blocks);
    free(batch->helpers);
    pthread_cond_destroy(&batch->room);
    pthread_mutex_destroy(&batch->order);
    pthread_mutex_destroy(&batch->reading);
}

enum batch_result batch_run(struct input *input, const struct batch_work *work, unsigned jobs,
                            struct hand_meter *meter) {
    struct batch batch = {.input = input,
                          .work = work,
                          .meter = meter,
                          .ring = jobs == 1 ? 1 : (unsigned long)jobs * BLOCKS_EACH,
                          .jobs = jobs,
                          .reading = PTHREAD_MUTEX_INITIALIZER,
                          .order = PTHREAD_MUTEX_INITIALIZER,
                          .room = PTHREAD_COND_INITIALIZER};
    enum batch_result result = BATCH_MEMORY;
    batch.blocks = calloc(batch.ring, sizeof *batch.blocks);
    batch.helpers = calloc(jobs, sizeof *batch.helpers);
    void *worker = work->begin(work->context);
    if (batch.blocks != NULL && batch.helpers != NULL && worker != NULL) {
        work_with(&batch, worker);
        join_helpers(&batch);
        result = result_of(&batch);
    }
    if (worker != NULL)
        work->end(worker);
    batch_free(&batch);
    return result;
}
