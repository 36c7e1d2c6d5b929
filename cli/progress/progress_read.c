/* A history read line by line, and its rounds summed up. */
#define _POSIX_C_SOURCE 200809L
#include "io/input.h"
#include "io/unread.h"
#include "nearhand.h"
#include "progress/progress_task.h"

#include <cjson/cJSON.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

void practice_free(struct practice *practice) {
    for (size_t i = 0; i < practice->round_count; i++)
        free(practice->rounds[i].cost);
    for (size_t i = 0; i < practice->text_count; i++)
        free(practice->texts[i]);
    free(practice->rounds);
    free(practice->sessions);
    free(practice->groups);
    free((void *)practice->texts);
}

/* Room for one more element of `size` bytes; arrays double at powers of two. */
static bool reserve(void **array, size_t count, size_t size) {
    if ((count & (count - 1)) != 0)
        return true;
    void *more = realloc(*array, (count == 0 ? 1 : 2 * count) * size);
    if (more == NULL)
        return false;
    *array = more;
    return true;
}

/* A copy that lives as long as the practice; NULL when memory is short. */
static const char *keep_text(struct practice *practice, const char *text) {
    void *texts = (void *)practice->texts;
    if (!reserve(&texts, practice->text_count, sizeof *practice->texts))
        return NULL;
    practice->texts = texts;
    char *copy = strdup(text);
    if (copy != NULL)
        practice->texts[practice->text_count++] = copy;
    return copy;
}

/* ------------------------------------------------------------ records --- */

/* What of a record counts here. Strings are the record's. */
struct record {
    const char *time, *session, *list, *level;
    double limit, seconds;
    bool fixed;
    const cJSON *passes;
};

static const char *string_of(const cJSON *object, const char *key) {
    return cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(object, key));
}

static double number_of(const cJSON *object, const char *key) {
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(object, key);
    return cJSON_IsNumber(item) ? item->valuedouble : -1;
}

static bool is_day(const char *time) {
    for (int i = 0; i < PRACTICE_DAY_SIZE - 1; i++)
        if (i == 4 || i == 7 ? time[i] != '-' : time[i] < '0' || time[i] > '9')
            return false;
    return true;
}

#define SECONDS_MOST 1e9
#define COST_MOST NH_TARGET_MAX /* no hand is farther from anything */

static bool has_costs(const cJSON *passes) {
    const cJSON *pass;
    cJSON_ArrayForEach(pass, passes) {
        const cJSON *cost = cJSON_GetObjectItemCaseSensitive(pass, "cost");
        bool known =
            cJSON_IsNumber(cost) && cost->valuedouble >= 0 && cost->valuedouble <= COST_MOST;
        if (!known && !cJSON_IsNull(cost))
            return false;
    }
    return cJSON_IsArray(passes);
}

/* NULL, or what is wrong with it. */
static const char *read_record(const cJSON *object, struct record *record) {
    const cJSON *level = cJSON_GetObjectItemCaseSensitive(object, "level");
    const char *clock = string_of(object, "clock");
    if (!cJSON_IsObject(object))
        return "this is no JSON object";
    if (number_of(object, "format") < 1 || number_of(object, "format") > 1)
        return "this is no record of a round in format 1";
    *record = (struct record){
        .time = string_of(object, "time"),
        .session = string_of(object, "session"),
        .list = string_of(object, "list"),
        .level = cJSON_GetStringValue(level),
        .limit = number_of(object, "limit"),
        .seconds = number_of(object, "seconds"),
        .fixed = clock != NULL && strcmp(clock, "fixed") == 0,
        .passes = cJSON_GetObjectItemCaseSensitive(object, "passes"),
    };
    bool whole = record->time != NULL && is_day(record->time) && record->session != NULL &&
                 record->list != NULL && (record->level != NULL || cJSON_IsNull(level)) &&
                 record->limit >= 1 && record->limit <= SECONDS_MOST && record->seconds >= 0 &&
                 record->seconds <= SECONDS_MOST && has_costs(record->passes);
    return whole ? NULL : "a part of the record is missing or wrong";
}

/* ----------------------------------------------------- sums of rounds --- */

static bool same_text(const char *a, const char *b) {
    return a == b || (a != NULL && b != NULL && strcmp(a, b) == 0);
}

static bool belongs(const struct practice_sum *sum, const struct record *record,
                    const char *session) {
    return same_text(sum->session, session) && sum->limit == (long)record->limit &&
           same_text(sum->level, record->level) && same_text(sum->list, record->list);
}

/* The sum that a record belongs to, a new one if there is none; the latest are
 * looked at first. False when memory is short. */
static bool find_sum(struct practice *practice, struct practice_sum **sums, size_t *count,
                     const struct record *record, const char *session, size_t *found) {
    for (size_t i = *count; i-- > 0;)
        if (belongs(&(*sums)[i], record, session)) {
            *found = i;
            return true;
        }
    void *array = *sums;
    if (!reserve(&array, *count, sizeof **sums))
        return false;
    *sums = array;
    struct practice_sum *sum = &(*sums)[*count];
    *sum = (struct practice_sum){.limit = (long)record->limit};
    memcpy(sum->day, record->time, PRACTICE_DAY_SIZE - 1);
    sum->list = keep_text(practice, record->list);
    sum->level = record->level == NULL ? NULL : keep_text(practice, record->level);
    sum->session = session == NULL ? NULL : keep_text(practice, session);
    *found = (*count)++;
    return sum->list != NULL && (record->level == NULL || sum->level != NULL) &&
           (session == NULL || sum->session != NULL);
}

static bool take_costs(struct practice_round *round, const cJSON *passes) {
    const cJSON *pass;
    round->cost = malloc(((size_t)cJSON_GetArraySize(passes) + 1) * sizeof *round->cost);
    if (round->cost == NULL)
        return false;
    cJSON_ArrayForEach(pass, passes) {
        const cJSON *cost = cJSON_GetObjectItemCaseSensitive(pass, "cost");
        if (cJSON_IsNumber(cost))
            round->cost[round->costs++] = cost->valuedouble;
    }
    return true;
}

static bool add_record(struct practice *practice, const struct record *record) {
    struct practice_round round = {.seconds = record->seconds,
                                   .within = record->seconds <= record->limit,
                                   .fixed = record->fixed};
    size_t before = practice->session_count;
    void *rounds = practice->rounds;
    if (!reserve(&rounds, practice->round_count, sizeof *practice->rounds))
        return false;
    practice->rounds = rounds;
    if (!find_sum(practice, &practice->groups, &practice->group_count, record, NULL,
                  &round.group) ||
        !find_sum(practice, &practice->sessions, &practice->session_count, record, record->session,
                  &round.session) ||
        !take_costs(&round, record->passes))
        return false;
    practice->groups[round.group].sessions += practice->session_count - before;
    practice->groups[round.group].rounds++;
    practice->sessions[round.session].sessions = 1;
    practice->sessions[round.session].rounds++;
    practice->fixed += record->fixed;
    memcpy(practice->last_day, record->time, PRACTICE_DAY_SIZE - 1);
    practice->rounds[practice->round_count++] = round;
    return true;
}

/* ------------------------------------------------------------ medians --- */

static int compare_doubles(const void *left, const void *right) {
    double a = *(const double *)left;
    double b = *(const double *)right;
    return (a > b) - (a < b);
}

static double median(double *values, size_t count) {
    qsort(values, count, sizeof *values, compare_doubles);
    return count % 2 == 1 ? values[count / 2] : (values[count / 2 - 1] + values[count / 2]) / 2;
}

static void sum_up(const struct practice *practice, struct practice_sum *sum, size_t index,
                   double *room) {
    size_t seconds = 0;
    size_t within = 0;
    size_t costs = 0;
    bool session = sum->session != NULL;
    for (size_t i = 0; i < practice->round_count; i++) {
        const struct practice_round *round = &practice->rounds[i];
        if ((session ? round->session : round->group) != index)
            continue;
        room[seconds++] = round->seconds;
        within += round->within;
    }
    sum->seconds = median(room, seconds);
    sum->within = (double)within / (double)seconds;
    for (size_t i = 0; i < practice->round_count; i++) {
        const struct practice_round *round = &practice->rounds[i];
        if ((session ? round->session : round->group) != index || round->costs == 0)
            continue;
        memcpy(room + costs, round->cost, round->costs * sizeof *room);
        costs += round->costs;
    }
    sum->has_cost = costs > 0;
    sum->cost = costs > 0 ? median(room, costs) : 0;
}

static bool sum_all(struct practice *practice) {
    size_t most = practice->round_count + 1;
    for (size_t i = 0; i < practice->round_count; i++)
        most += practice->rounds[i].costs;
    double *room = malloc(most * sizeof *room);
    if (room == NULL)
        return false;
    for (size_t i = 0; i < practice->session_count; i++)
        sum_up(practice, &practice->sessions[i], i, room);
    for (size_t i = 0; i < practice->group_count; i++)
        sum_up(practice, &practice->groups[i], i, room);
    free(room);
    return true;
}

/* ------------------------------------------------------------ reading --- */

static void tell_damaged(struct practice *practice, const struct line *line, const char *why,
                         bool as_json) {
    nh_error error = {NH_ERROR_FILE, 0, ""};
    snprintf(error.text, sizeof error.text, "%s", why);
    practice->damaged++;
    if (as_json)
        unread_json(line, &error);
    else
        unread_text(line, &error, true);
}

static bool take_line(struct practice *practice, const struct line *line, bool as_json) {
    if (strspn(line->text, " \t\r\n") >= line->length)
        return true;
    /* Zero bytes, which a crash may leave in a file, are no JSON, but cJSON takes
     * them within strings. */
    bool torn = memchr(line->text, '\0', line->length) != NULL;
    cJSON *object =
        torn ? NULL : cJSON_ParseWithLengthOpts(line->text, line->length + 1, NULL, true);
    struct record record;
    const char *wrong = read_record(object, &record);
    bool good = true;
    if (wrong != NULL)
        tell_damaged(practice, line, wrong, as_json);
    else
        good = add_record(practice, &record);
    cJSON_Delete(object);
    return good;
}

/* The whole file, with a zero byte behind it; its reading may be interrupted or
 * come in pieces. The caller frees it. NULL with errno when it cannot be had. */
static char *read_whole(int descriptor, size_t *length) {
    size_t capacity = 1u << 16;
    char *text = malloc(capacity + 1);
    ssize_t count = 1;
    *length = 0;
    if (text == NULL)
        return NULL;
    while (count != 0) {
        if (*length == capacity) {
            char *larger = realloc(text, (capacity *= 2) + 1);
            if (larger == NULL)
                break;
            text = larger;
        }
        count = read(descriptor, text + *length, capacity - *length);
        if (count > 0)
            *length += (size_t)count;
        else if (count < 0 && errno != EINTR)
            break;
    }
    if (count == 0) {
        text[*length] = '\0';
        return text;
    }
    int why = errno;
    free(text);
    errno = why;
    return NULL;
}

enum practice_result practice_read(struct practice *practice, const char *path, bool as_json) {
    int descriptor = open(path, O_RDONLY | O_CLOEXEC);
    if (descriptor < 0)
        return errno == ENOENT ? PRACTICE_MISSING : PRACTICE_FAILED;
    size_t length;
    char *text = read_whole(descriptor, &length);
    int why = errno;
    close(descriptor);
    errno = why;
    if (text == NULL)
        return errno == ENOMEM ? PRACTICE_MEMORY : PRACTICE_FAILED;
    struct line line = {.source = path};
    bool good = true;
    for (char *next = text, *end = text + length; good && next < end;) {
        char *newline = memchr(next, '\n', (size_t)(end - next));
        line.number++;
        line.text = next;
        line.length = (size_t)((newline != NULL ? newline : end) - next);
        line.tiles_length = line.length;
        next[line.length] = '\0';
        next += line.length + 1;
        good = take_line(practice, &line, as_json);
    }
    free(text);
    return good && sum_all(practice) ? PRACTICE_READ : PRACTICE_MEMORY;
}
