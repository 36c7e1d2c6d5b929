/* Rounds, and sums of rounds, as the bytes that they are sorted by. */
#ifndef CLI_PROGRESS_PRACTICE_RECORDS_H
#define CLI_PROGRESS_PRACTICE_RECORDS_H

#include "progress/practice.h"

/* What a round counts with. */
struct round_figures {
    double seconds;
    uint32_t day;    /* 20261125 */
    uint16_t minute; /* of that day, when the round ended, or MINUTE_NONE */
    uint16_t within; /* 1: the limit */
};

/* A round by list, level, limit and session, and within a session by its number. Strings
 * and costs are those of the bytes; `costs` doubles, not aligned. */
struct round_record {
    size_t group_size;   /* bytes of list, level and limit, which come first */
    size_t session_size; /* of these and the session */
    uint32_t limit;
    const char *list, *level, *session; /* level NULL: a limit of the player's own */
    practice_place number;
    struct round_figures figures;
    const unsigned char *cost;
    size_t costs;
};

/* Makes practice->record; false with a message. */
bool round_record_make(struct practice *practice, const struct history_round *round,
                       const struct round_figures *figures);
void round_record_read(const unsigned char *bytes, size_t size, struct round_record *record);

/* The parts of it that make a session, from their `session_size` bytes. */
void round_key_read(const unsigned char *bytes, struct round_record *record);

/* What a sum counts with. */
struct sum_figures {
    practice_place group, latest;
    uint64_t sessions, rounds;
    double seconds, within, cost;
    uint32_t limit, day;
    uint32_t minute; /* of the first round of a session, or MINUTE_NONE */
    uint32_t has_cost;
};

/* A sum by the number of its first round; `session` NULL for a group. */
bool sum_record_make(struct practice *practice, practice_place first,
                     const struct sum_figures *figures, const struct round_record *key,
                     const char *session);
void sum_record_read(const unsigned char *bytes, struct practice_sum *sum);

#endif
