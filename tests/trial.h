/*
 * One list, read by the library and by the plain reference, and one question to
 * both.
 */
#ifndef TRIAL_H
#define TRIAL_H

#include "random_list.h"
#include "reference.h"

#include <check.h>

enum { PATTERNS_MOST = 160 }; /* in a shipped list */

typedef struct trial {
    random_source *source;
    uint64_t seed;
    char *json;
    ref_list *plain;
    nh_list *list;
    nh_workspace *workspace;
    size_t patterns;
    ref_targets targets[PATTERNS_MOST]; /* with the winds of the situation */
    nh_situation situation;
    int draws; /* for the chance */
    nh_tiles hand;
} trial;

/* What it takes to see a failure again; static. */
const char *explain(const trial *at);

/* Asserts without libcheck's note of every assertion that holds, which would
 * take most of the time. */
#define MUST(at, condition)                                                                        \
    do {                                                                                           \
        if (!(condition)) {                                                                        \
            ck_abort_msg("%s does not hold: %s", #condition, explain(at));                         \
        }                                                                                          \
    } while (0)

/* Has both read the list, whose text is the trial's from now on. */
void open_list(trial *at, char *json);
void close_list(trial *at);

/* Has the reference write out every pattern, with the winds of the situation. */
void expand(trial *at);
void release(trial *at);

/* Random lists, one after the other, and what to check of each. */
typedef struct trials {
    uint64_t seed; /* unless NEARHAND_SEED says another */
    int lists;     /* how many usually: see random_tries */
    int winds;     /* in so many per cent of them winds are drawn, which may be unknown */
    int turns;     /* how often `check` is called for each */
    char *(*make)(random_source *source);
    void (*check)(trial *at);
} trials;

/* Returns how many lists there were. */
int try_lists(trial *at, const trials *all);

/* Half of the hands are near a target, the others are whatever comes. */
void pick_hand(trial *at);

/* Tiles that are gone: none, some, or so many that targets are dead; now and then
 * jokers before all others. */
void pick_seen(trial *at);

#endif /* TRIAL_H */
