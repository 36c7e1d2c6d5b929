/* Sums of a session, and of all rounds of a list, level and limit. */
#include "progress/practice.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void practice_day_text(uint32_t day, char text[HISTORY_DAY_SIZE]) {
    snprintf(text, HISTORY_DAY_SIZE, "%04u-%02u-%02u", day / 10000 % 10000, day / 100 % 100,
             day % 100);
}

/* -------------------------------------------------------------- values --- */

/* A walk through the rounds of a session, or of it and the earlier ones of its
 * group, and through their times or the costs of their passes. */
struct walk {
    const struct practice *practice;
    uint32_t session;
    bool whole_group, costs;
    uint32_t round;      /* comes next */
    uint32_t cost, most; /* costs of a round that are left */
};

static struct walk walk_from(const struct practice *practice, uint32_t session, bool whole_group,
                             bool costs) {
    return (struct walk){.practice = practice,
                         .session = session,
                         .whole_group = whole_group,
                         .costs = costs,
                         .round = practice->sessions[session].latest};
}

/* The next round, or PRACTICE_NONE. */
static uint32_t next_round(struct walk *walk) {
    const struct practice *practice = walk->practice;
    if (walk->round == PRACTICE_NONE && walk->whole_group) {
        walk->session = practice->sessions[walk->session].earlier;
        if (walk->session == PRACTICE_NONE)
            walk->whole_group = false;
        else
            walk->round = practice->sessions[walk->session].latest;
    }
    uint32_t round = walk->round;
    if (round != PRACTICE_NONE)
        walk->round = practice->rounds[round].earlier;
    return round;
}

static bool next_value(struct walk *walk, double *value) {
    const struct practice *practice = walk->practice;
    while (walk->cost == walk->most) {
        uint32_t round = next_round(walk);
        if (round == PRACTICE_NONE)
            return false;
        if (!walk->costs) {
            *value = practice->rounds[round].seconds;
            return true;
        }
        walk->cost = practice->rounds[round].costs;
        walk->most = round + 1 < practice->round_count ? practice->rounds[round + 1].costs
                                                       : (uint32_t)practice->cost_count;
    }
    *value = practice->costs[walk->cost++];
    return true;
}

/* ------------------------------------------------------------- medians --- */

#define SORTED_MOST 4096 /* values that are sorted for their median */
#define DIGIT_BITS 16
#define DIGITS (1u << DIGIT_BITS)

static int compare_doubles(const void *left, const void *right) {
    double a = *(const double *)left;
    double b = *(const double *)right;
    return (a > b) - (a < b);
}

/* The value that `rank` others precede, without a copy of the values. Doubles that
 * are not negative are in the order of their bits: the digits of the value sought
 * are found one after the other, by counting which come next behind those known. */
static double ranked_value(struct walk start, size_t rank) {
    uint64_t known = 0;
    for (int shift = 64 - DIGIT_BITS; shift >= 0; shift -= DIGIT_BITS) {
        uint32_t count[DIGITS] = {0};
        struct walk walk = start;
        double value;
        while (next_value(&walk, &value)) {
            uint64_t bits;
            memcpy(&bits, &value, sizeof bits);
            if (shift == 64 - DIGIT_BITS || bits >> (shift + DIGIT_BITS) == known)
                count[bits >> shift & (DIGITS - 1)]++;
        }
        uint32_t digit = 0;
        while (rank >= count[digit])
            rank -= count[digit++];
        known = known << DIGIT_BITS | digit;
    }
    double value;
    memcpy(&value, &known, sizeof value);
    return value;
}

/* Of at least one value. */
static double median(struct walk start, size_t count) {
    double values[SORTED_MOST];
    if (count > SORTED_MOST) {
        double middle = ranked_value(start, count / 2);
        return count % 2 == 1 ? middle : (ranked_value(start, count / 2 - 1) + middle) / 2;
    }
    for (size_t i = 0; i < count; i++)
        next_value(&start, &values[i]);
    qsort(values, count, sizeof *values, compare_doubles);
    return count % 2 == 1 ? values[count / 2] : (values[count / 2 - 1] + values[count / 2]) / 2;
}

static size_t count_values(struct walk walk) {
    size_t count = 0;
    double value;
    while (next_value(&walk, &value))
        count++;
    return count;
}

/* ---------------------------------------------------------------- sums --- */

static struct practice_sum sum_up(const struct practice *practice, uint32_t session,
                                  bool whole_group) {
    const struct practice_group *group = &practice->groups[practice->sessions[session].group];
    struct walk seconds = walk_from(practice, session, whole_group, false);
    struct walk costs = walk_from(practice, session, whole_group, true);
    struct practice_sum sum = {
        .limit = (long)group->limit,
        .list = practice->texts + group->list,
        .level = group->level == PRACTICE_NONE ? NULL : practice->texts + group->level};
    size_t cost_count = count_values(costs);
    sum.rounds = count_values(seconds);
    sum.seconds = median(seconds, sum.rounds);
    sum.has_cost = cost_count > 0;
    sum.cost = cost_count > 0 ? median(costs, cost_count) : 0;
    return sum;
}

struct practice_sum practice_session(const struct practice *practice, size_t session) {
    const struct practice_session *own = &practice->sessions[session];
    struct practice_sum sum = sum_up(practice, (uint32_t)session, false);
    sum.session = practice->texts + own->name;
    sum.sessions = 1;
    sum.within = (double)own->within / (double)sum.rounds;
    practice_day_text(own->day, sum.day);
    if (own->minute != MINUTE_NONE)
        snprintf(sum.clock, sizeof sum.clock, "%02d:%02d", own->minute / 60 % 24, own->minute % 60);
    return sum;
}

struct practice_sum practice_group(const struct practice *practice, size_t group) {
    const struct practice_group *own = &practice->groups[group];
    struct practice_sum sum = sum_up(practice, own->latest, true);
    size_t within = 0;
    for (uint32_t at = own->latest; at != PRACTICE_NONE; at = practice->sessions[at].earlier) {
        within += practice->sessions[at].within;
        sum.sessions++;
    }
    sum.within = (double)within / (double)sum.rounds;
    practice_day_text(own->day, sum.day);
    return sum;
}
