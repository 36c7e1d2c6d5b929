/* The games of a survey, played in threads. Each thread takes the next game that is not
 * taken; those that were taken are always played to their end, so that whole games are
 * counted and no other. */
#define _POSIX_C_SOURCE 200809L
#include "io/message.h"
#include "survey/survey_meter.h"
#include "survey/survey_task.h"
#include "system/clock.h"
#include "system/halt.h"
#include "task.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdlib.h>

/* Seconds. A part is written when the games of a block have put it off this long, so what
 * is lost at any moment is less than both together and a game: a minute. */
#define BLOCK_LASTS 10.0
#define KEPT_EVERY 40.0

/* What one thread plays with. */
struct worker {
    struct block *block;
    bool shows; /* how far the survey is */
    nh_game *game;
    nh_workspace *workspace;
    nh_way_player *player;
    uint8_t *away;
    nh_wind prevailing;
    bool passed; /* the hands are those after the passes */
    struct counts counts;
    nh_status status;
    uint64_t number; /* of the game that failed */
    nh_error error;
    pthread_t thread;
};

/* Games that are played together, before what was counted is put together. */
struct block {
    const struct survey_plan *plan;
    atomic_uint_fast64_t next, done; /* done: in all blocks */
    double ends;
    const struct counts *before; /* its games are not played again */
    struct survey_meter meter;   /* of the thread that started the others */
};

static void count_hands(struct worker *worker, const nh_tiles *hands, bool passed) {
    for (int seat = 0; seat < NH_SEATS && worker->status == NH_OK; seat++) {
        nh_situation situation = NH_SITUATION;
        situation.prevailing = worker->prevailing;
        situation.seat = nh_seat_wind(seat);
        worker->status =
            nh_distances(worker->workspace, &hands[seat], &situation, worker->away, &worker->error);
        if (worker->status == NH_OK)
            counts_add_hand(&worker->counts, worker->away, passed);
    }
}

static void hear(void *context, const nh_event *event) {
    struct worker *worker = context;
    if (event->type == NH_EVENT_DEAL) {
        worker->prevailing = event->deal->prevailing;
        count_hands(worker, event->hands, false);
    } else if (event->type == NH_EVENT_PLAY) {
        count_hands(worker, event->hands, true);
    }
}

static void play_game(struct worker *worker, uint64_t number) {
    nh_game_end end;
    worker->number = number;
    nh_status status = nh_game_run(worker->game, worker->block->plan->key->seed, number, &end,
                                   sizeof end, &worker->error);
    if (status != NH_OK)
        worker->status = status;
    if (worker->status == NH_OK)
        counts_add_end(&worker->counts, &end);
}

static void *play_block(void *argument) {
    struct worker *worker = argument;
    struct block *block = worker->block;
    while (worker->status == NH_OK && !halted() && clock_seconds() < block->ends) {
        uint64_t number = atomic_fetch_add(&block->next, 1);
        if (number > block->plan->games.last)
            break;
        if (counts_has(block->before, number))
            continue;
        play_game(worker, number);
        uint64_t done = atomic_fetch_add(&block->done, 1) + 1;
        if (worker->shows)
            survey_meter_show(&block->meter, done);
    }
    return NULL;
}

/* ------------------------------------------------------------- workers --- */

static bool worker_new(struct worker *worker, struct block *block) {
    const struct survey_plan *plan = block->plan;
    worker->block = block;
    worker->away = malloc(nh_list_size(plan->list));
    if (!counts_new(&worker->counts, plan->list))
        return false;
    if (worker->away == NULL || nh_game_new(plan->list, NULL, &worker->game) != NH_OK ||
        nh_workspace_new(plan->list, NULL, &worker->workspace) != NH_OK ||
        nh_way_player_new(worker->workspace, &plan->key->way, NULL, &worker->player, NULL) != NH_OK)
        return short_of_memory();
    for (int seat = 0; seat < NH_SEATS; seat++)
        nh_way_player_seat(worker->player, worker->game, seat);
    nh_game_listen(worker->game, hear, worker);
    return true;
}

static void worker_free(struct worker *worker) {
    nh_way_player_free(worker->player);
    nh_workspace_free(worker->workspace);
    nh_game_free(worker->game);
    counts_free(&worker->counts);
    free(worker->away);
}

/* ---------------------------------------------------------------- games --- */

/* Notes the games of a block that were played; the others of it were counted before. */
static bool add_numbers(struct counts *counts, struct game_range played) {
    uint64_t again;
    for (uint64_t number = played.first; number <= played.last; number++)
        if (!counts_has(counts, number) &&
            !counts_add_range(counts, (struct game_range){number, number}, &again))
            return false;
    return true;
}

/* Plays the games of a block, from `*next` on; then that is the first that was not. */
static bool play_games(struct worker *workers, struct block *block, struct counts *counts,
                       uint64_t *next) {
    unsigned started = 0, jobs = block->plan->jobs;
    uint64_t first = *next, last = block->plan->games.last;
    atomic_store(&block->next, first);
    block->ends = clock_seconds() + BLOCK_LASTS;
    while (started < jobs - 1 &&
           halt_start_thread(&workers[started].thread, play_block, &workers[started]))
        started++;
    play_block(&workers[jobs - 1]);
    for (unsigned i = 0; i < started; i++)
        pthread_join(workers[i].thread, NULL);
    for (unsigned i = 0; i < jobs; i++)
        if (workers[i].status != NH_OK) {
            complain("game %llu: %s", (unsigned long long)workers[i].number, workers[i].error.text);
            return false;
        }
    *next = atomic_load(&block->next);
    *next = *next > last + 1 ? last + 1 : *next;
    if (!add_numbers(counts, (struct game_range){first, *next - 1}))
        return false;
    for (unsigned i = 0; i < jobs; i++) {
        counts_add(counts, &workers[i].counts);
        counts_clear(&workers[i].counts);
    }
    return true;
}

static bool keep(const struct survey_plan *plan, const struct counts *counts) {
    return plan->out == NULL || survey_keep(plan->out, plan->key, counts);
}

static int play_all(struct worker *workers, struct block *block, struct counts *counts) {
    const struct survey_plan *plan = block->plan;
    const struct game_range *games = &plan->games;
    double kept = clock_seconds();
    uint64_t next = games->first;
    survey_meter_start(&block->meter,
                       games->last - games->first + 1 - counts_within(counts, *games));
    while (next <= games->last && !halted()) {
        if (!play_games(workers, block, counts, &next)) {
            keep(plan, counts); /* the blocks before */
            return STATUS_USAGE;
        }
        if (clock_seconds() - kept < KEPT_EVERY)
            continue;
        kept = clock_seconds();
        if (!keep(plan, counts))
            return STATUS_OUTPUT;
    }
    meter_clear(&block->meter.meter);
    return keep(plan, counts) ? STATUS_ANSWERED : STATUS_OUTPUT;
}

int survey_run(const struct survey_plan *plan, struct counts *counts) {
    struct block block = {.plan = plan, .before = counts};
    struct worker *workers = calloc(plan->jobs, sizeof *workers);
    if (workers == NULL) {
        short_of_memory();
        return STATUS_USAGE;
    }
    bool good = true;
    for (unsigned i = 0; i < plan->jobs && good; i++)
        good = worker_new(&workers[i], &block);
    workers[plan->jobs - 1].shows = true;
    int status = good ? play_all(workers, &block, counts) : STATUS_USAGE;
    for (unsigned i = 0; i < plan->jobs; i++)
        worker_free(&workers[i]);
    free(workers);
    return status;
}
