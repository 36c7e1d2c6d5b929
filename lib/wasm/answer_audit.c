/* The question "audit": the figures of each pattern. */
#include "wasm/answer_json.h"
#include "wasm/asked.h"

static void add_figures(cJSON *object, const nh_figures *figures) {
    add_natural(object, "targets", &figures->targets);
    add_natural(object, "ways", &figures->ways);
    add_double(object, "dealt", figures->dealt);
}

static void add_unknown(cJSON *object) {
    cJSON_AddNullToObject(object, "targets");
    cJSON_AddNullToObject(object, "ways");
    cJSON_AddNullToObject(object, "dealt");
}

/* A pattern that takes too much work has nothing but nulls. */
bool answer_audit(struct asked *asked, cJSON *answer) {
    nh_audit_question question = NH_AUDIT_QUESTION;
    if (!asked_read(asked, false))
        return false;
    question.prevailing = asked->situation.prevailing;
    question.seat = asked->situation.seat;
    cJSON_AddStringToObject(answer, "list", nh_list_title(asked->list));
    cJSON *patterns = cJSON_AddArrayToObject(answer, "patterns");
    for (size_t i = 0; i < nh_list_size(asked->list); i++) {
        nh_figures figures;
        if (asked->chosen != NULL && asked->chosen[i] == 0)
            continue;
        nh_status status = nh_audit_figures(asked->list, i, &question, &figures, &asked->error);
        if (status != NH_OK && status != NH_ERROR_LIMIT)
            return false;
        cJSON *object = cJSON_CreateObject();
        cJSON_AddItemToArray(patterns, object);
        cJSON_AddStringToObject(object, "pattern", nh_list_pattern(asked->list, i)->name);
        if (status == NH_OK)
            add_figures(object, &figures);
        else
            add_unknown(object);
    }
    return true;
}
