/* Rounds of a history taken in one by one. */
#include "progress/practice.h"
#include "progress/practice_records.h"

#include <stdlib.h>

void practice_begin(struct practice *practice, size_t memory) {
    *practice = (struct practice){.rounds.memory = memory / 2, .values_most = memory / 256 + 1};
    for (int kind = 0; kind < PRACTICE_KINDS; kind++)
        practice->sums[kind].memory = memory / 4;
}

void practice_free(struct practice *practice) {
    sorter_free(&practice->rounds);
    for (int kind = 0; kind < PRACTICE_KINDS; kind++)
        sorter_free(&practice->sums[kind]);
    free(practice->record);
}

/* 20261125 of 2026-11-25. */
static uint32_t day_of(const char *time) {
    uint32_t day = 0;
    for (int i = 0; i < HISTORY_DAY_SIZE - 1; i++)
        if (time[i] != '-')
            day = 10 * day + (uint32_t)(time[i] - '0');
    return day;
}

/* Of two digits below `most`; MINUTE_NONE for anything else. */
static unsigned two_digits(const char *text, unsigned most) {
    if (text[0] < '0' || text[0] > '9' || text[1] < '0' || text[1] > '9')
        return MINUTE_NONE;
    unsigned value = 10 * (unsigned)(text[0] - '0') + (unsigned)(text[1] - '0');
    return value < most ? value : MINUTE_NONE;
}

/* 1145 of 2026-11-25T19:05:00Z. */
static uint16_t minute_of(const char *time) {
    const char *clock = time + HISTORY_DAY_SIZE - 1;
    if (clock[0] != 'T')
        return MINUTE_NONE;
    unsigned hours = two_digits(clock + 1, 24);
    if (hours == MINUTE_NONE || clock[3] != ':')
        return MINUTE_NONE;
    unsigned minutes = two_digits(clock + 4, 60);
    return minutes == MINUTE_NONE ? MINUTE_NONE : (uint16_t)(60 * hours + minutes);
}

bool practice_include(struct practice *practice, const struct history_round *round) {
    const struct round_figures figures = {.seconds = round->seconds + 0.0, /* no negative zero */
                                          .day = day_of(round->time),
                                          .minute = minute_of(round->time),
                                          .within = round->seconds <= round->limit};
    practice->failed = !round_record_make(practice, round, &figures) ||
                       !sorter_include(&practice->rounds, practice->record, practice->record_size);
    if (practice->failed)
        return false;
    if (practice->round_count++ == 0)
        practice->first_day = figures.day;
    practice->last_day = figures.day;
    practice->fixed += round->fixed;
    return true;
}
