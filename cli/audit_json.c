/* The audit for programs: one JSON object. */
#include "audit.h"
#include "json.h"
#include "output.h"

static void natural_out(struct json *json, const char *key, const nh_natural *number) {
    char digits[NH_NATURAL_TEXT_SIZE];
    nh_natural_format(number, digits, sizeof digits);
    json_key(json, key);
    json_string(json, digits);
}

static void pattern_out(struct json *json, const nh_pattern *pattern, const nh_count *count) {
    json_open(json, '{');
    json_key(json, "pattern");
    json_string(json, pattern->name);
    natural_out(json, "targets", &count->targets);
    natural_out(json, "ways", &count->ways);
    json_key(json, "dealt");
    json_double(json, count->dealt);
    json_key(json, "section");
    json_string(json, pattern->section);
    json_key(json, "ref");
    json_string(json, pattern->ref);
    natural_out(json, "joker_only", &count->joker_only);
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
        nh_pattern pattern = nh_list_pattern(audit->list, i);
        pattern_out(&json, &pattern, &audit->counts[i]);
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
