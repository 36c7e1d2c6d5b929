/* The task survey: whole games, counted. */
#ifndef CLI_SURVEY_SURVEY_TASK_H
#define CLI_SURVEY_SURVEY_TASK_H

#include "io/page.h"
#include "survey/counts.h"

/* Words of the ways of playing, as options and answers have them; the last is NULL. */
extern const char *const survey_passes[], *const survey_discards[], *const survey_claims[];

/* Which games to play, and where to keep what was counted. */
struct survey_plan {
    const struct survey_key *key;
    const nh_list *list;
    struct game_range games;
    unsigned jobs;
    const char *out; /* NULL: nowhere */
};

/* Plays the games of the plan that the counts do not have yet, in threads, and adds them.
 * Ends early after whole games when a stop is asked for. A status other than
 * STATUS_ANSWERED comes with a message. */
int survey_run(const struct survey_plan *plan, struct counts *counts);

/* One game, each event as a line of JSON. False with a message. */
bool survey_record(const struct survey_key *key, const nh_list *list, uint64_t number);

/* The survey as one JSON object; for people, and as a page for browsers, in an order as of
 * patterns_by_wins. */
void survey_json(const struct survey_key *key, const struct counts *counts);
void survey_text(const struct survey_key *key, const struct counts *counts, const size_t *order);
void survey_page(const struct survey_key *key, const struct counts *counts, const size_t *order);

/* Writes the JSON to a file, whole or not at all. False with a message. */
bool survey_keep(const char *path, const struct survey_key *key, const struct counts *counts);

/* Adds the part of a survey that a file holds. False with a message that says why it is no
 * part of this survey, with nothing added. */
bool part_read(const char *path, const struct survey_key *key, struct counts *counts);

/* Whether all that a part says follows from these counts, which are its own. False without
 * a message, unless memory is short. */
struct cJSON;
bool part_agrees(const struct survey_key *key, const struct counts *counts,
                 const struct cJSON *part);

/* What is read of a part before its counts, so that a merge knows its settings: the key,
 * whose list is the title in `title`. */
#define PART_TITLE_SIZE 1024
bool part_key(const char *path, struct survey_key *key, char title[PART_TITLE_SIZE]);

#endif
