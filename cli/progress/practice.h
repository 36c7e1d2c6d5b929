/* A player's practice: the rounds of a history, by session and by list and level,
 * and their sums. Rounds may be many, so that of each only figures are kept. */
#ifndef CLI_PROGRESS_PRACTICE_H
#define CLI_PROGRESS_PRACTICE_H

#include "history/history_round.h"
#include "progress/hash_index.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define PRACTICE_NONE UINT32_MAX /* no round, session or text */

/* The costs of its passes are those from `costs` to where those of the next round
 * begin. */
struct practice_round {
    double seconds;
    uint32_t costs;
    uint32_t earlier; /* round of the same session, or PRACTICE_NONE */
};

#define MINUTE_NONE UINT16_MAX

/* Rounds of one session, list, level and limit. */
struct practice_session {
    uint32_t name;    /* a text */
    uint32_t group;   /* whose list, level and limit these are */
    uint32_t day;     /* of its first round: 20261125 */
    uint32_t latest;  /* round */
    uint32_t earlier; /* session of the same group, or PRACTICE_NONE */
    uint32_t within;  /* rounds within the limit */
    uint16_t minute;  /* of that day, when its first round ended, or MINUTE_NONE */
};

/* Sessions of one list, level and limit. */
struct practice_group {
    uint32_t list, level; /* texts; level PRACTICE_NONE: a limit of the player's own */
    uint32_t limit;       /* seconds */
    uint32_t day;
    uint32_t latest; /* session */
};

/* Start from {0}. Everything is in the order of the history. */
struct practice {
    struct practice_round *rounds;
    struct practice_session *sessions;
    struct practice_group *groups;
    double *costs;
    char *texts; /* one behind the other, each with its zero byte */
    size_t round_count, session_count, group_count, cost_count, text_bytes;
    size_t round_room, session_room, group_room, cost_room, text_room;
    struct hash_index session_index, group_index;
    size_t damaged, fixed;
    uint32_t last_day;
};

/* practice.c: takes in a round; false when memory is short. */
bool practice_include(struct practice *practice, const struct history_round *round);
void practice_free(struct practice *practice);

/* Rounds that are summed up together; strings are those of the practice. */
struct practice_sum {
    const char *session;        /* NULL for a group */
    const char *list, *level;   /* level NULL: a limit of the player's own */
    long limit;                 /* seconds */
    char day[HISTORY_DAY_SIZE]; /* of the first round */
    char clock[6];              /* of a session: 19:05, or nothing if it is not known */
    size_t sessions, rounds;
    double seconds; /* median of the rounds */
    double within;  /* share of the rounds */
    double cost;    /* median of the passes */
    bool has_cost;
};

/* practice_sums.c: the sums of a session, and of all rounds of a list, level and
 * limit. The time is proportional to the number of their rounds. */
struct practice_sum practice_session(const struct practice *practice, size_t session);
struct practice_sum practice_group(const struct practice *practice, size_t group);
void practice_day_text(uint32_t day, char text[HISTORY_DAY_SIZE]);

#endif
