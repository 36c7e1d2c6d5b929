/* The audit for programs: one JSON object. */
#include "audit/accepted.h"
#include "io/json.h"
#include "io/output.h"
#include "patterns/answer_json.h"

#include <math.h>

/* Where accepted warnings go. */
struct accepted_json {
    struct json *json;
    const struct audit *audit;
};

/* `number` is NULL where it is not known. */
static void natural_out(struct json *json, const char *key, const nh_natural *number) {
    char digits[NH_NATURAL_TEXT_SIZE];
    if (number != NULL)
        nh_natural_format(number, digits, sizeof digits);
    json_key_string(json, key, number != NULL ? digits : NULL);
}

/* Thousandths are enough, and the same on every machine. */
static void rounded_out(struct json *json, const char *key, bool known, double number) {
    json_key(json, key);
    if (known)
        json_double(json, floor(number * 1000 + 0.5) / 1000);
    else
        json_null(json);
}

static void chance_out(struct json *json, const char *key, bool known, double chance) {
    json_key(json, key);
    if (known)
        json_double(json, chance);
    else
        json_null(json);
}

static void points_out(struct json *json, const nh_pattern *pattern,
                       const struct points_place *place, bool drawn) {
    json_key(json, "points");
    if (pattern->has_points)
        json_double(json, pattern->points);
    else
        json_null(json);
    rounded_out(json, "points_by_line", drawn && place->counts, place->by_line);
    json_key_string(json, "points_far", place->far > 0 ? "above" : place->far < 0 ? "below" : NULL);
}

static void samples_out(struct json *json, const struct audit *audit, size_t pattern) {
    const struct figure *figure = &audit->figures[pattern];
    json_key(json, "samples");
    json_open(json, '[');
    for (size_t v = 0; v < nh_audit_variants(audit->list, pattern); v++) {
        const struct sample *sample = &figure->samples[v];
        if (nh_tiles_total(&sample->target) == 0)
            continue;
        json_open(json, '{');
        json_key_unsigned(json, "variant", v + 1);
        tiles_json(json, "target", &sample->target);
        groups_json(json, &sample->layout);
        json_close(json, '}');
    }
    json_close(json, ']');
}

static void pattern_out(struct json *json, const struct audit *audit, size_t index) {
    const nh_pattern *pattern = nh_list_pattern(audit->list, index);
    const struct figure *figure = &audit->figures[index];
    const nh_figures *count = &figure->count;
    json_open(json, '{');
    json_key_string(json, "pattern", pattern->name);
    natural_out(json, "targets", figure->known ? &count->targets : NULL);
    natural_out(json, "ways", figure->known ? &count->ways : NULL);
    chance_out(json, "dealt", figure->known, count->dealt);
    json_key_string(json, "section", pattern->section);
    json_key_string(json, "ref", pattern->ref);
    natural_out(json, "joker_only", figure->known ? &count->joker_only : NULL);
    if (audit->jokers)
        chance_out(json, "dealt_with_jokers", figure->dealt_known, figure->dealt.chance);
    points_out(json, pattern, &figure->points, audit->line.drawn);
    samples_out(json, audit, index);
    json_close(json, '}');
}

static void shared_out(struct json *json, const struct audit *audit) {
    json_key(json, "overlaps");
    json_open(json, '[');
    for (size_t i = 0; i < audit->shared_count; i++) {
        const struct shared_ways *shared = &audit->shared[i];
        json_open(json, '{');
        json_key_string(json, "pattern", nh_list_pattern(audit->list, shared->a)->name);
        json_key_string(json, "other", nh_list_pattern(audit->list, shared->b)->name);
        natural_out(json, "ways", &shared->overlap.ways);
        chance_out(json, "share", true, shared->overlap.of_a);
        chance_out(json, "share_of_other", true, shared->overlap.of_b);
        json_close(json, '}');
    }
    json_close(json, ']');
}

static void points_line_out(struct json *json, const struct points_line *line) {
    json_key(json, "points_line");
    if (!line->drawn) {
        json_null(json);
        return;
    }
    json_open(json, '{');
    rounded_out(json, "odds", true, line->odds);
    rounded_out(json, "points", true, line->points);
    rounded_out(json, "doubling", true, line->doubling);
    json_close(json, '}');
}

static bool accepted_out(void *context, size_t pattern, const char *warning, bool arose) {
    struct accepted_json *to = context;
    if (arose) {
        json_open(to->json, '{');
        json_key(to->json, "pattern");
        json_string(to->json, nh_list_pattern(to->audit->list, pattern)->name);
        json_key(to->json, "warning");
        json_string(to->json, warning);
        json_close(to->json, '}');
    }
    return true;
}

static void all_accepted_out(struct json *json, const struct audit *audit) {
    struct accepted_json to = {json, audit};
    json_key(json, "accepted");
    json_open(json, '[');
    for (size_t i = 0; i < audit->size && !audit->rest; i++)
        accepted_each(audit, i, accepted_out, &to);
    json_close(json, ']');
}

void audit_json(const struct audit *audit) {
    struct json json = {0};
    json_answer(&json);
    json_key_string(&json, "list", nh_list_title(audit->list));
    json_key(&json, "patterns");
    json_open(&json, '[');
    for (size_t i = 0; i < audit->size; i++)
        pattern_out(&json, audit, i);
    json_close(&json, ']');
    json_key(&json, "warnings");
    json_open(&json, '[');
    for (size_t i = 0; i < audit->warnings.count; i++)
        json_string(&json, audit->warnings.text[i]);
    json_close(&json, ']');
    all_accepted_out(&json, audit);
    shared_out(&json, audit);
    points_line_out(&json, &audit->line);
    if (audit->rest)
        exposed_json(&json, audit->list);
    json_close(&json, '}');
    output_text("\n");
}
