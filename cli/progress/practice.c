/* Rounds of a history taken in one by one: each finds its session and its list and
 * level by their names, in constant time. */
#include "progress/practice.h"

#include <stdlib.h>
#include <string.h>

#define COUNT_MOST (UINT32_MAX - 1) /* places are 32 bits wide */

void practice_free(struct practice *practice) {
    free(practice->rounds);
    free(practice->sessions);
    free(practice->groups);
    free(practice->costs);
    free(practice->texts);
    hash_free(&practice->session_index);
    hash_free(&practice->group_index);
}

/* Room for `count` elements of `size` bytes. */
static bool reserve(void **array, size_t *room, size_t count, size_t size) {
    if (count <= *room)
        return true;
    size_t more = *room == 0 ? 16 : *room;
    while (more < count)
        more *= 2;
    void *larger = count <= COUNT_MOST ? realloc(*array, more * size) : NULL;
    if (larger == NULL)
        return false;
    *array = larger;
    *room = more;
    return true;
}

/* A copy of a text; PRACTICE_NONE when memory is short. */
static uint32_t keep_text(struct practice *practice, const char *text) {
    size_t size = strlen(text) + 1;
    void *texts = practice->texts;
    if (!reserve(&texts, &practice->text_room, practice->text_bytes + size, 1))
        return PRACTICE_NONE;
    practice->texts = texts;
    uint32_t place = (uint32_t)practice->text_bytes;
    memcpy(practice->texts + place, text, size);
    practice->text_bytes += size;
    return place;
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

/* ------------------------------------------------------ list and level --- */

struct key {
    const struct practice *practice;
    const struct history_round *round;
    uint32_t group; /* of a session */
};

static bool is_text(const struct practice *practice, uint32_t place, const char *text) {
    if (place == PRACTICE_NONE || text == NULL)
        return place == PRACTICE_NONE && text == NULL;
    return strcmp(practice->texts + place, text) == 0;
}

static bool is_group(const void *sought, uint32_t place) {
    const struct key *key = sought;
    const struct practice_group *group = &key->practice->groups[place];
    return group->limit == (uint32_t)key->round->limit &&
           is_text(key->practice, group->level, key->round->level) &&
           is_text(key->practice, group->list, key->round->list);
}

static uint32_t hash_group(const struct history_round *round) {
    uint32_t limit = (uint32_t)round->limit;
    uint32_t hash = hash_bytes(HASH_START, &limit, sizeof limit);
    hash = hash_bytes(hash, round->list, strlen(round->list) + 1);
    return round->level == NULL ? hash : hash_bytes(hash, round->level, strlen(round->level));
}

static bool find_practice_group(struct practice *practice, const struct history_round *round,
                                uint32_t *place) {
    const struct key key = {practice, round, 0};
    uint32_t hash = hash_group(round);
    *place = hash_find(&practice->group_index, hash, is_group, &key);
    if (*place != HASH_NONE)
        return true;
    void *groups = practice->groups;
    if (!reserve(&groups, &practice->group_room, practice->group_count + 1,
                 sizeof *practice->groups))
        return false;
    practice->groups = groups;
    *place = (uint32_t)practice->group_count++;
    struct practice_group *group = &practice->groups[*place];
    *group = (struct practice_group){.limit = (uint32_t)round->limit,
                                     .day = day_of(round->time),
                                     .latest = PRACTICE_NONE,
                                     .level = PRACTICE_NONE,
                                     .list = keep_text(practice, round->list)};
    if (round->level != NULL && (group->level = keep_text(practice, round->level)) == PRACTICE_NONE)
        return false;
    return group->list != PRACTICE_NONE && hash_insert(&practice->group_index, hash, *place);
}

/* ------------------------------------------------------------- session --- */

static bool is_session(const void *sought, uint32_t place) {
    const struct key *key = sought;
    const struct practice_session *session = &key->practice->sessions[place];
    return session->group == key->group &&
           is_text(key->practice, session->name, key->round->session);
}

static bool find_session(struct practice *practice, const struct history_round *round,
                         uint32_t group, uint32_t *place) {
    const struct key key = {practice, round, group};
    uint32_t hash = hash_bytes(HASH_START, &group, sizeof group);
    hash = hash_bytes(hash, round->session, strlen(round->session));
    *place = hash_find(&practice->session_index, hash, is_session, &key);
    if (*place != HASH_NONE)
        return true;
    void *sessions = practice->sessions;
    if (!reserve(&sessions, &practice->session_room, practice->session_count + 1,
                 sizeof *practice->sessions))
        return false;
    practice->sessions = sessions;
    *place = (uint32_t)practice->session_count++;
    struct practice_session *session = &practice->sessions[*place];
    *session = (struct practice_session){.group = group,
                                         .day = day_of(round->time),
                                         .minute = minute_of(round->time),
                                         .latest = PRACTICE_NONE,
                                         .earlier = practice->groups[group].latest,
                                         .name = keep_text(practice, round->session)};
    practice->groups[group].latest = *place;
    return session->name != PRACTICE_NONE && hash_insert(&practice->session_index, hash, *place);
}

/* --------------------------------------------------------------- round --- */

static bool keep_costs(struct practice *practice, const cJSON *passes) {
    const cJSON *pass;
    cJSON_ArrayForEach(pass, passes) {
        double cost;
        void *costs = practice->costs;
        if (!history_pass_cost(pass, &cost))
            continue;
        if (!reserve(&costs, &practice->cost_room, practice->cost_count + 1,
                     sizeof *practice->costs))
            return false;
        practice->costs = costs;
        practice->costs[practice->cost_count++] = cost + 0.0; /* no negative zero */
    }
    return true;
}

bool practice_include(struct practice *practice, const struct history_round *round) {
    uint32_t group;
    uint32_t place;
    void *rounds = practice->rounds;
    if (!reserve(&rounds, &practice->round_room, practice->round_count + 1,
                 sizeof *practice->rounds))
        return false;
    practice->rounds = rounds;
    if (!find_practice_group(practice, round, &group) ||
        !find_session(practice, round, group, &place))
        return false;
    struct practice_session *session = &practice->sessions[place];
    practice->rounds[practice->round_count] =
        (struct practice_round){.seconds = round->seconds + 0.0,
                                .costs = (uint32_t)practice->cost_count,
                                .earlier = session->latest};
    session->latest = (uint32_t)practice->round_count++;
    session->within += round->seconds <= round->limit;
    practice->fixed += round->fixed;
    practice->last_day = day_of(round->time);
    return keep_costs(practice, round->passes);
}
