/* The audit for programs: one JSON object. */
#include "audit/audit_task.h"
#include "io/json.h"
#include "io/output.h"

/* `number` is NULL where it is not known. */
static void natural_out(struct json *json, const char *key, const nh_natural *number) {
    char digits[NH_NATURAL_TEXT_SIZE];
    if (number != NULL)
        nh_natural_format(number, digits, sizeof digits);
    json_key(json, key);
    json_string(json, number != NULL ? digits : NULL);
}

static void pattern_out(struct json *json, const nh_pattern *pattern, const struct figure *figure) {
    const nh_figures *count = &figure->count;
    json_open(json, '{');
    json_key(json, "pattern");
    json_string(json, pattern->name);
    natural_out(json, "targets", figure->known ? &count->targets : NULL);
    natural_out(json, "ways", figure->known ? &count->ways : NULL);
    json_key(json, "dealt");
    if (figure->known)
        json_double(json, count->dealt);
    else
        json_null(json);
    json_key(json, "section");
    json_string(json, pattern->section);
    json_key(json, "ref");
    json_string(json, pattern->ref);
    natural_out(json, "joker_only", figure->known ? &count->joker_only : NULL);
    json_close(json, '}');
}

void audit_json(const struct audit *audit) {
    struct json json = {0};
    json_answer(&json);
    json_key(&json, "list");
    json_string(&json, nh_list_title(audit->list));
    json_key(&json, "patterns");
    json_open(&json, '[');
    for (size_t i = 0; i < audit->size; i++) {
        nh_pattern pattern = *nh_list_pattern(audit->list, i);
        pattern_out(&json, &pattern, &audit->figures[i]);
    }
    json_close(&json, ']');
    json_key(&json, "warnings");
    json_open(&json, '[');
    for (size_t i = 0; i < audit->warnings.count; i++)
        json_string(&json, audit->warnings.text[i]);
    json_close(&json, ']');
    json_close(&json, '}');
    output_text("\n");
}
