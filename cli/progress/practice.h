/* A player's practice: the rounds of a history, summed up by session and by list and level,
 * in bounded memory however many rounds, sessions and lists there are. */
#ifndef CLI_PROGRESS_PRACTICE_H
#define CLI_PROGRESS_PRACTICE_H

#include "history/history_round.h"
#include "sorting/sorter.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Bytes that sorting takes at most, but for a record that is larger. */
#define PRACTICE_MEMORY (32u << 20)

/* Which sums: of each list, level and limit, or of each session with them. */
enum practice_kind { PRACTICE_GROUPS, PRACTICE_SESSIONS };
#define PRACTICE_KINDS 2

struct practice {
    struct sorter rounds;               /* by list, level, limit and session */
    struct sorter sums[PRACTICE_KINDS]; /* in the order of their first rounds */
    size_t values_most;                 /* of a sum, in memory */
    unsigned char *record;              /* the one that is made */
    size_t record_size, record_room;
    size_t round_count, session_count, group_count;
    size_t damaged, fixed;
    uint32_t first_day, last_day; /* 20261125 */
    bool failed;                  /* with a message: something is missing */
};

/* practice_rounds.c: starts it. Memory: PRACTICE_MEMORY, or less for tests. */
void practice_begin(struct practice *practice, size_t memory);
void practice_free(struct practice *practice);

/* practice_rounds.c: takes in a round; false with a message. */
bool practice_include(struct practice *practice, const struct history_round *round);

/* The number of a round from 0, or of a list, level and limit. */
typedef uint64_t practice_place;

#define MINUTE_NONE UINT16_MAX
#define PRACTICE_CLOCK_SIZE 6

/* Rounds that are summed up together. */
struct practice_sum {
    const char *session;             /* NULL for a group */
    const char *list, *level;        /* level NULL: a limit of the player's own */
    long limit;                      /* seconds */
    char day[HISTORY_DAY_SIZE];      /* of the first round */
    char clock[PRACTICE_CLOCK_SIZE]; /* of a session: 19:05, or nothing if it is not known */
    size_t sessions, rounds;
    double seconds; /* median of the rounds */
    double within;  /* share of the rounds */
    double cost;    /* median of the passes */
    bool has_cost;
    practice_place group;  /* another for each list, level and limit */
    practice_place latest; /* the first round of its session that began last */
};

/* practice_sums.c: sums up the rounds once they are all in; false with a message. */
bool practice_finish(struct practice *practice);

/* practice_walk.c: the sums of a kind one by one, in the order of their first rounds.
 * The strings last until the next call. False at the end, and where the practice failed. */
void practice_first(struct practice *practice, enum practice_kind kind);
bool practice_next(struct practice *practice, enum practice_kind kind, struct practice_sum *sum);

/* Lists, levels and limits whose last session began last, the latest first: at most `most`
 * of those that have so many sessions. Returns how many; `others` have them too. */
struct practice_late {
    practice_place group, latest;
};
size_t practice_latest(struct practice *practice, size_t sessions_least,
                       struct practice_late late[], size_t most, size_t *others);

void practice_day_text(uint32_t day, char text[HISTORY_DAY_SIZE]);

#endif
