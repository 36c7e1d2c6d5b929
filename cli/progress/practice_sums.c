/* The rounds of a practice summed up. They come by list, level and limit and within these
 * by session, so that there is one of each at a time. */
#include "io/message.h"
#include "progress/practice_records.h"
#include "progress/values.h"

#include <stdlib.h>
#include <string.h>

/* Rounds of a session, or of a group: of a list, level and limit. */
struct part {
    practice_place first, latest; /* round; the first one of the session that began last */
    uint64_t sessions, rounds, within;
    uint32_t day; /* of the first round */
    uint16_t minute;
    struct values seconds, costs;
};

struct summing {
    struct practice *practice;
    struct part part[PRACTICE_KINDS];
    practice_place group; /* groups before this one */
    unsigned char *key;   /* of the session at hand */
    size_t key_room;
    struct round_record named; /* by that key */
};

/* ----------------------------------------------------------- one part --- */

static void clear_part(struct part *part) {
    values_clear(&part->seconds);
    values_clear(&part->costs);
    *part = (struct part){.seconds = part->seconds, .costs = part->costs};
}

static bool count_round(struct part *part, const struct round_record *round) {
    part->rounds++;
    part->within += round->figures.within;
    bool good = values_include(&part->seconds, round->figures.seconds);
    for (size_t i = 0; good && i < round->costs; i++) {
        double cost;
        memcpy(&cost, round->cost + i * sizeof cost, sizeof cost);
        good = values_include(&part->costs, cost);
    }
    return good;
}

/* Its sum; then it is empty again. */
static bool end_part(struct summing *summing, enum practice_kind kind) {
    struct practice *practice = summing->practice;
    struct part *part = &summing->part[kind];
    const struct round_record *named = &summing->named;
    struct sum_figures figures = {.group = summing->group,
                                  .latest = part->latest,
                                  .sessions = part->sessions,
                                  .rounds = part->rounds,
                                  .within = (double)part->within / (double)part->rounds,
                                  .limit = named->limit,
                                  .day = part->day,
                                  .minute = part->minute,
                                  .has_cost = values_count(&part->costs) > 0};
    bool good = values_median(&part->seconds, &figures.seconds) &&
                (figures.has_cost == 0 || values_median(&part->costs, &figures.cost)) &&
                sum_record_make(practice, part->first, &figures, named,
                                kind == PRACTICE_SESSIONS ? named->session : NULL) &&
                sorter_include(&practice->sums[kind], practice->record, practice->record_size);
    clear_part(part);
    return good;
}

/* ------------------------------------------------------- one by one --- */

static bool end_session(struct summing *summing) {
    summing->practice->session_count++;
    return end_part(summing, PRACTICE_SESSIONS);
}

static bool end_group(struct summing *summing) {
    summing->practice->group_count++;
    return end_part(summing, PRACTICE_GROUPS) && ++summing->group > 0;
}

/* Keeps what the session of a round is called. */
static bool keep_key(struct summing *summing, const unsigned char *bytes, size_t size) {
    if (summing->key == NULL || size > summing->key_room) {
        unsigned char *larger = realloc(summing->key, 2 * size);
        if (larger == NULL)
            return short_of_memory();
        summing->key = larger;
        summing->key_room = 2 * size;
    }
    memcpy(summing->key, bytes, size);
    round_key_read(summing->key, &summing->named);
    /* practice_finish frees the key. */
    return true; /* NOLINT(clang-analyzer-unix.Malloc) */
}

/* The first round of a session is the one that began it. */
static bool begin_session(struct summing *summing, const unsigned char *bytes,
                          const struct round_record *round) {
    struct part *session = &summing->part[PRACTICE_SESSIONS];
    struct part *group = &summing->part[PRACTICE_GROUPS];
    session->first = session->latest = round->number;
    session->sessions = 1;
    session->day = round->figures.day;
    session->minute = round->figures.minute;
    if (group->sessions == 0 || round->number < group->first) {
        group->first = round->number;
        group->day = round->figures.day;
    }
    if (round->number > group->latest)
        group->latest = round->number;
    group->sessions++;
    return keep_key(summing, bytes, round->session_size);
}

static bool has_key(const struct summing *summing, const unsigned char *bytes, size_t size,
                    size_t own_size) {
    return size == own_size && memcmp(bytes, summing->key, size) == 0;
}

static bool sum_round(struct summing *summing, const unsigned char *bytes, size_t size) {
    struct round_record round;
    const struct round_record *named = &summing->named;
    round_record_read(bytes, size, &round);
    bool begun = summing->key != NULL;
    bool new_group = !begun || !has_key(summing, bytes, round.group_size, named->group_size);
    bool new_session =
        new_group || !has_key(summing, bytes, round.session_size, named->session_size);
    if (begun && new_session && !end_session(summing))
        return false;
    if (begun && new_group && !end_group(summing))
        return false;
    if (new_session && !begin_session(summing, bytes, &round))
        return false;
    return count_round(&summing->part[PRACTICE_SESSIONS], &round) &&
           count_round(&summing->part[PRACTICE_GROUPS], &round);
}

static bool sum_rounds(struct summing *summing) {
    struct sorter *rounds = &summing->practice->rounds;
    const unsigned char *bytes;
    size_t size;
    bool good = sorter_begin(rounds);
    while (good && (bytes = sorter_next(rounds, &size)) != NULL)
        good = sum_round(summing, bytes, size);
    if (good && summing->key != NULL && !rounds->failed)
        good = end_session(summing) && end_group(summing);
    return good && !rounds->failed;
}

bool practice_finish(struct practice *practice) {
    struct summing summing = {.practice = practice};
    for (int kind = 0; kind < PRACTICE_KINDS; kind++) {
        struct part *part = &summing.part[kind];
        part->seconds.most = part->costs.most = practice->values_most;
    }
    practice->failed = !sum_rounds(&summing);
    for (int kind = 0; kind < PRACTICE_KINDS; kind++) {
        values_free(&summing.part[kind].seconds);
        values_free(&summing.part[kind].costs);
    }
    free(summing.key);
    sorter_free(&practice->rounds);
    return !practice->failed;
}
