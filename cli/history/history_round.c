/* A line of the history as a round: what every reader of rounds needs of it. */
#include "history/history_round.h"
#include "history/history_lines.h"
#include "io/unread.h"
#include "nearhand.h"

#include <stdio.h>
#include <string.h>

#define SECONDS_MOST 1e9
#define COST_MOST NH_TARGET_MAX /* no hand is farther from anything */

static const char *string_of(const cJSON *object, const char *key) {
    return cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(object, key));
}

static double number_of(const cJSON *object, const char *key) {
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(object, key);
    return cJSON_IsNumber(item) ? item->valuedouble : -1;
}

static bool is_day(const char *time) {
    for (int i = 0; i < HISTORY_DAY_SIZE - 1; i++)
        if (i == 4 || i == 7 ? time[i] != '-' : time[i] < '0' || time[i] > '9')
            return false;
    return true;
}

bool history_pass_cost(const cJSON *pass, double *cost) {
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(pass, "cost");
    *cost = cJSON_IsNumber(item) ? item->valuedouble : 0;
    return cJSON_IsNumber(item);
}

static bool has_costs(const cJSON *passes) {
    const cJSON *pass;
    cJSON_ArrayForEach(pass, passes) {
        double cost;
        if (!history_pass_cost(pass, &cost)) {
            if (!cJSON_IsNull(cJSON_GetObjectItemCaseSensitive(pass, "cost")))
                return false;
        } else if (!(cost >= 0 && cost <= COST_MOST)) {
            return false;
        }
    }
    return cJSON_IsArray(passes);
}

static const char *read_keys(struct history_round *round) {
    const cJSON *object = round->object;
    const cJSON *level = cJSON_GetObjectItemCaseSensitive(object, "level");
    const char *clock = string_of(object, "clock");
    if (!cJSON_IsObject(object))
        return "this is no JSON object";
    if (number_of(object, "format") < 1 || number_of(object, "format") > 1)
        return "this is no record of a round in format 1";
    round->time = string_of(object, "time");
    round->session = string_of(object, "session");
    round->list = string_of(object, "list");
    round->level = cJSON_GetStringValue(level);
    round->limit = number_of(object, "limit");
    round->seconds = number_of(object, "seconds");
    round->fixed = clock != NULL && strcmp(clock, "fixed") == 0;
    round->passes = cJSON_GetObjectItemCaseSensitive(object, "passes");
    bool whole = round->time != NULL && is_day(round->time) && round->session != NULL &&
                 round->list != NULL && (round->level != NULL || cJSON_IsNull(level)) &&
                 round->limit >= 1 && round->limit <= SECONDS_MOST && round->seconds >= 0 &&
                 round->seconds <= SECONDS_MOST && has_costs(round->passes);
    return whole ? NULL : "a part of the record is missing or wrong";
}

const char *history_round_read(const struct line *line, struct history_round *round) {
    *round = (struct history_round){.object = NULL};
    if (line->too_long)
        return "the line is too long to be a round";
    /* Zero bytes, which a crash may leave in a file, are no JSON, but cJSON takes
     * them within strings. */
    if (memchr(line->text, '\0', line->length) == NULL)
        round->object = cJSON_ParseWithLengthOpts(line->text, line->length + 1, NULL, true);
    return read_keys(round);
}

void history_round_free(struct history_round *round) {
    cJSON_Delete(round->object);
}

void history_add_list(struct text *text, const char *list, const char *level, int columns) {
    text_add_cut(text, list, strlen(list), columns);
    text_add(text, ", ");
    if (level != NULL)
        text_add_cut(text, level, strlen(level), 20);
    else
        text_add(text, "own limit");
}

void history_damage(const struct line *line, const char *why, bool as_json) {
    nh_error error = {NH_ERROR_FILE, 0, ""};
    snprintf(error.text, sizeof error.text, "%s", why);
    if (as_json)
        unread_json(line, &error);
    else
        unread_text(line, &error, true);
}
