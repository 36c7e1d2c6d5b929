/* A player's practice as a JSON object. */
#include "io/json.h"
#include "io/output.h"
#include "progress/progress_task.h"

static void sum_out(struct json *json, const struct practice_sum *sum) {
    json_open(json, '{');
    if (sum->session != NULL) {
        json_key(json, "session");
        json_string(json, sum->session);
    }
    json_key(json, "day");
    json_string(json, sum->day);
    json_key(json, "list");
    json_string(json, sum->list);
    json_key(json, "level");
    json_string(json, sum->level);
    json_key(json, "limit");
    json_unsigned(json, (uint64_t)sum->limit);
    json_key(json, "sessions");
    json_unsigned(json, sum->sessions);
    json_key(json, "rounds");
    json_unsigned(json, sum->rounds);
    json_key(json, "seconds");
    json_double(json, sum->seconds);
    json_key(json, "within");
    json_double(json, sum->within);
    json_key(json, "cost");
    if (sum->has_cost)
        json_double(json, sum->cost);
    else
        json_null(json);
    json_close(json, '}');
}

static void sums_out(struct json *json, const char *key, const struct practice *practice,
                     struct practice_sum (*sum_of)(const struct practice *, size_t), size_t count) {
    json_key(json, key);
    json_open(json, '[');
    for (size_t i = 0; i < count; i++) {
        const struct practice_sum sum = sum_of(practice, i);
        sum_out(json, &sum);
    }
    json_close(json, ']');
}

void practice_json(const struct practice *practice) {
    struct json json = {0};
    json_answer(&json);
    json_key(&json, "rounds");
    json_unsigned(&json, practice->round_count);
    json_key(&json, "fixed");
    json_unsigned(&json, practice->fixed);
    json_key(&json, "damaged");
    json_unsigned(&json, practice->damaged);
    sums_out(&json, "groups", practice, practice_group, practice->group_count);
    sums_out(&json, "sessions", practice, practice_session, practice->session_count);
    json_close(&json, '}');
    output_text("\n");
}
