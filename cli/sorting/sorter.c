/* Records in the order of their bytes, sorted in parts and merged.
 *
 * A part that fills the memory is a run: it is sorted and goes to the end of a temporary
 * file. Runs are merged so many at a time; while there are more, the oldest make a new one.
 * In the arena and in a run each record follows its length. */
#include "sorting/sorter.h"
#include "io/message.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#define WAYS 16 /* runs merged at a time */
#define HEAD sizeof(uint32_t)

/* What is read of a run; the record that comes next begins at `at`. */
struct sorter_run {
    uint64_t begin, end; /* in the file */
    uint64_t next;       /* what is read next */
    unsigned char *buffer;
    size_t room, at, filled;
};

static bool fail_short(struct sorter *sorter) {
    sorter->failed = true;
    return short_of_memory();
}

static size_t record_length(const unsigned char *record) {
    uint32_t length;
    memcpy(&length, record, HEAD);
    return length;
}

static int compare_records(const unsigned char *a, const unsigned char *b) {
    size_t a_length = record_length(a);
    size_t b_length = record_length(b);
    int order = memcmp(a + HEAD, b + HEAD, a_length < b_length ? a_length : b_length);
    return order != 0 ? order : (a_length > b_length) - (a_length < b_length);
}

/* ----------------------------------------------------------- in memory --- */

/* Where records begin, the last one included first. */
static unsigned char **places(const struct sorter *sorter) {
    return (unsigned char **)(void *)(sorter->arena + sorter->room) - sorter->count;
}

static int compare_pointed(const void *left, const void *right) {
    return compare_records(*(unsigned char *const *)left, *(unsigned char *const *)right);
}

static void sort_arena(struct sorter *sorter) {
    if (sorter->count > 0)
        qsort(places(sorter), sorter->count, sizeof(unsigned char *), compare_pointed);
}

/* An empty arena with room for a record. */
static bool make_arena(struct sorter *sorter, size_t size) {
    size_t room = sorter->memory > size ? sorter->memory : size;
    room = (room + sizeof(unsigned char *) - 1) / sizeof(unsigned char *) * sizeof(unsigned char *);
    if (sorter->arena != NULL && sorter->room >= size)
        return true;
    free(sorter->arena);
    sorter->arena = malloc(room);
    sorter->room = room;
    return sorter->arena != NULL || fail_short(sorter);
}

/* ---------------------------------------------------------------- runs --- */

static void free_run(struct sorter_run *run) {
    free(run->buffer);
    run->buffer = NULL;
    run->room = 0;
}

/* A new run, which begins at the end of the file. */
static struct sorter_run *append_run(struct sorter *sorter) {
    if (sorter->run_count == sorter->run_room) {
        size_t room = sorter->run_room == 0 ? WAYS : 2 * sorter->run_room;
        struct sorter_run *larger = realloc(sorter->runs, room * sizeof *larger);
        if (larger == NULL) {
            fail_short(sorter);
            return NULL;
        }
        sorter->runs = larger;
        sorter->run_room = room;
    }
    struct sorter_run *run = &sorter->runs[sorter->run_count++];
    *run = (struct sorter_run){.begin = sorter->file.size, .end = sorter->file.size};
    return run;
}

static bool spill_record(struct sorter *sorter, struct sorter_run *run,
                         const unsigned char *record) {
    size_t length = HEAD + record_length(record);
    sorter->failed = !spill_write(&sorter->file, record, length);
    run->end += length;
    return !sorter->failed;
}

/* The arena as a run; it is empty then. */
static bool spill_arena(struct sorter *sorter) {
    struct sorter_run *run = append_run(sorter);
    if (run == NULL)
        return false;
    sort_arena(sorter);
    for (size_t i = 0; i < sorter->count; i++)
        if (!spill_record(sorter, run, places(sorter)[i]))
            return false;
    sorter->used = sorter->count = 0;
    return true;
}

/* Has at least `size` bytes of the run at hand, or all that it still has. */
static bool fill_run(struct sorter *sorter, struct sorter_run *run, size_t size) {
    size_t left = run->filled - run->at;
    if (left >= size || run->next == run->end)
        return true;
    if (run->room < size) {
        size_t room = sorter->memory / WAYS > size ? sorter->memory / WAYS : size;
        unsigned char *larger = malloc(room);
        if (larger == NULL)
            return fail_short(sorter);
        if (left > 0)
            memcpy(larger, run->buffer + run->at, left);
        free(run->buffer);
        run->buffer = larger;
        run->room = room;
    } else {
        memmove(run->buffer, run->buffer + run->at, left);
    }
    size_t more = run->room - left;
    more = run->end - run->next < more ? (size_t)(run->end - run->next) : more;
    sorter->failed = !spill_read(&sorter->file, run->next, run->buffer + left, more);
    run->next += more;
    run->at = 0;
    run->filled = left + more;
    return !sorter->failed;
}

/* Has the whole next record of a run at hand, if there is one. */
static bool fill_record(struct sorter *sorter, struct sorter_run *run) {
    if (!fill_run(sorter, run, HEAD))
        return false;
    return run->at == run->filled ||
           fill_run(sorter, run, HEAD + record_length(run->buffer + run->at));
}

static bool begin_runs(struct sorter *sorter, size_t first, size_t count) {
    for (size_t i = first; i < first + count; i++) {
        struct sorter_run *run = &sorter->runs[i];
        run->next = run->begin;
        run->at = run->filled = 0;
        if (!fill_record(sorter, run))
            return false;
    }
    return true;
}

/* The run whose next record comes first, or NULL when all are at their end. */
static struct sorter_run *first_run(struct sorter *sorter, size_t first, size_t count) {
    struct sorter_run *best = NULL;
    for (size_t i = first; i < first + count; i++) {
        struct sorter_run *run = &sorter->runs[i];
        if (run->at < run->filled &&
            (best == NULL || compare_records(run->buffer + run->at, best->buffer + best->at) < 0))
            best = run;
    }
    return best;
}

static bool pass_record(struct sorter *sorter, struct sorter_run *run) {
    run->at += HEAD + record_length(run->buffer + run->at);
    return fill_record(sorter, run);
}

/* The oldest runs as one. */
static bool merge_oldest(struct sorter *sorter) {
    size_t first = sorter->merged;
    struct sorter_run whole;
    if (append_run(sorter) == NULL || !begin_runs(sorter, first, WAYS))
        return false;
    whole = sorter->runs[sorter->run_count - 1];
    for (struct sorter_run *run; (run = first_run(sorter, first, WAYS)) != NULL;)
        if (!spill_record(sorter, &whole, run->buffer + run->at) || !pass_record(sorter, run))
            return false;
    sorter->runs[sorter->run_count - 1] = whole;
    for (size_t i = first; i < first + WAYS; i++)
        free_run(&sorter->runs[i]);
    sorter->merged += WAYS;
    return true;
}

/* ------------------------------------------------------------- records --- */

bool sorter_include(struct sorter *sorter, const void *record, size_t length) {
    const uint32_t head = (uint32_t)length;
    size_t size = HEAD + length + sizeof(unsigned char *);
    size_t taken = sorter->used + sorter->count * sizeof(unsigned char *);
    if (sorter->count > 0 && size > sorter->room - taken && !spill_arena(sorter))
        return false;
    if (sorter->count == 0 && !make_arena(sorter, size))
        return false;
    unsigned char *place = sorter->arena + sorter->used;
    memcpy(place, &head, HEAD);
    memcpy(place + HEAD, record, length);
    sorter->used += HEAD + length;
    sorter->count++;
    places(sorter)[0] = place;
    return true;
}

bool sorter_begin(struct sorter *sorter) {
    sorter->given = 0;
    sorter->given_of = NULL;
    if (sorter->failed)
        return false;
    if (sorter->run_count == 0) {
        sort_arena(sorter);
        return true;
    }
    if (sorter->count > 0 && !spill_arena(sorter))
        return false;
    free(sorter->arena);
    sorter->arena = NULL;
    while (sorter->run_count - sorter->merged > WAYS)
        if (!merge_oldest(sorter))
            return false;
    return begin_runs(sorter, sorter->merged, sorter->run_count - sorter->merged);
}

/* The record given last goes only when the next one is asked for. */
static const unsigned char *next_of_runs(struct sorter *sorter) {
    if (sorter->given_of != NULL && !pass_record(sorter, sorter->given_of))
        return NULL;
    sorter->given_of = first_run(sorter, sorter->merged, sorter->run_count - sorter->merged);
    return sorter->given_of != NULL ? sorter->given_of->buffer + sorter->given_of->at : NULL;
}

const unsigned char *sorter_next(struct sorter *sorter, size_t *length) {
    const unsigned char *record = NULL;
    if (sorter->run_count > 0)
        record = next_of_runs(sorter);
    else if (sorter->given < sorter->count)
        record = places(sorter)[sorter->given++];
    if (record == NULL)
        return NULL;
    *length = record_length(record);
    return record + HEAD;
}

void sorter_free(struct sorter *sorter) {
    for (size_t i = 0; i < sorter->run_count; i++)
        free_run(&sorter->runs[i]);
    free(sorter->runs);
    free(sorter->arena);
    spill_close(&sorter->file);
    *sorter = (struct sorter){.memory = sorter->memory};
}
