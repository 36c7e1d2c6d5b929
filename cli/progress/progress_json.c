/* A player's practice as a JSON object. */
#include "io/json.h"
#include "io/output.h"
#include "progress/progress_task.h"

static void sum_out(struct json *json, const struct practice_sum *sum) {
    json_open(json, '{');
    if (sum->session != NULL) {
        json_key_string(json, "session", sum->session);
    }
    json_key_string(json, "day", sum->day);
    json_key_string(json, "list", sum->list);
    json_key_string(json, "level", sum->level);
    json_key_unsigned(json, "limit", (uint64_t)sum->limit);
    json_key_unsigned(json, "sessions", sum->sessions);
    json_key_unsigned(json, "rounds", sum->rounds);
    json_key_double(json, "seconds", sum->seconds);
    json_key_double(json, "within", sum->within);
    json_key(json, "cost");
    if (sum->has_cost)
        json_double(json, sum->cost);
    else
        json_null(json);
    json_close(json, '}');
}

static void sums_out(struct json *json, const char *key, struct practice *practice,
                     enum practice_kind kind) {
    struct practice_sum sum;
    json_key(json, key);
    json_open(json, '[');
    practice_first(practice, kind);
    while (practice_next(practice, kind, &sum))
        sum_out(json, &sum);
    json_close(json, ']');
}

void practice_json(struct practice *practice) {
    struct json json = {0};
    json_answer(&json);
    json_key_unsigned(&json, "rounds", practice->round_count);
    json_key_unsigned(&json, "fixed", practice->fixed);
    json_key_unsigned(&json, "damaged", practice->damaged);
    sums_out(&json, "groups", practice, PRACTICE_GROUPS);
    sums_out(&json, "sessions", practice, PRACTICE_SESSIONS);
    json_close(&json, '}');
    output_text("\n");
}
