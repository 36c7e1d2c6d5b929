/* What a history tells of a player's practice: sums of rounds, by session and by
 * list and level. */
#ifndef CLI_PROGRESS_PROGRESS_TASK_H
#define CLI_PROGRESS_PROGRESS_TASK_H

#include <stdbool.h>
#include <stddef.h>

#define PRACTICE_DAY_SIZE 11 /* 2026-11-25 */

/* A round of the history. */
struct practice_round {
    size_t session, group; /* indices below */
    double seconds;
    bool within;  /* the limit */
    bool fixed;   /* its clock did not run */
    double *cost; /* of the passes that have one */
    size_t costs;
};

/* Rounds that are summed up together; strings are the practice's own. */
struct practice_sum {
    const char *session;         /* NULL for a group */
    const char *list, *level;    /* level NULL: a limit of the player's own */
    long limit;                  /* seconds */
    char day[PRACTICE_DAY_SIZE]; /* of the first round */
    size_t sessions, rounds;
    double seconds; /* median of the rounds */
    double within;  /* share of the rounds */
    double cost;    /* median of the passes */
    bool has_cost;
};

/* Start from {0}. */
struct practice {
    struct practice_round *rounds;
    struct practice_sum *sessions, *groups; /* in the order of their first round */
    size_t round_count, session_count, group_count, damaged, fixed;
    char last_day[PRACTICE_DAY_SIZE];
    char **texts; /* that the sums point to */
    size_t text_count;
};

enum practice_result { PRACTICE_READ, PRACTICE_MISSING, PRACTICE_FAILED, PRACTICE_MEMORY };

/* practice_read.c: reads a history and sums it up. A line that is no record is
 * told, as JSON or in words, and passed over. */
enum practice_result practice_read(struct practice *practice, const char *path, bool as_json);
void practice_free(struct practice *practice);

/* practice_text.c, practice_json.c: to standard output; the table shows the
 * last `shown` sessions. */
void practice_text(const struct practice *practice, size_t shown, bool ascii);
void practice_json(const struct practice *practice);

/* practice_svg.c: a drawing for a file; false with a message. */
bool practice_svg(const struct practice *practice, const char *path);

#endif
