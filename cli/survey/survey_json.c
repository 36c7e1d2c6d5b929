/* The survey for programs: one JSON object. What is counted are whole numbers; shares and
 * points follow from them. */
#include "io/json.h"
#include "io/output.h"
#include "io/output_file.h"
#include "patterns/answer_json.h"
#include "survey/figures.h"
#include "survey/fingerprint.h"
#include "survey/survey_task.h"

#include <inttypes.h>
#include <stdio.h>

static void whole_out(struct json *json, const char *key, uint64_t number) {
    json_key(json, key);
    json_unsigned(json, number);
}

static void double_out(struct json *json, const char *key, double number, bool known) {
    json_key(json, key);
    if (known)
        json_double(json, number);
    else
        json_null(json);
}

static void share_out(struct json *json, const char *key, uint64_t part, uint64_t whole) {
    struct share share = share_of(part, whole);
    json_key(json, key);
    json_open(json, '[');
    json_double(json, share.of);
    json_double(json, share.low);
    json_double(json, share.high);
    json_close(json, ']');
}

static void key_out(struct json *json, const struct survey_key *key) {
    char seed[24];
    snprintf(seed, sizeof seed, "%" PRIu64, key->seed);
    json_key(json, "list");
    json_string(json, key->list);
    json_key(json, "print");
    json_string(json, key->print);
    json_key(json, "seed");
    json_string(json, seed);
    json_key(json, "ways");
    json_open(json, '{');
    json_key(json, "passes");
    json_string(json, survey_passes[key->way.pass]);
    json_key(json, "discards");
    json_string(json, survey_discards[key->way.discard]);
    json_key(json, "claims");
    json_string(json, survey_claims[key->way.claim]);
    whole_out(json, "look", (uint64_t)key->way.look);
    json_close(json, '}');
}

static void ranges_out(struct json *json, const struct counts *counts) {
    json_key(json, "numbers");
    json_open(json, '[');
    for (size_t i = 0; i < counts->ranges; i++) {
        json_open(json, '[');
        json_unsigned(json, counts->range[i].first);
        json_unsigned(json, counts->range[i].last);
        json_close(json, ']');
    }
    json_close(json, ']');
}

static void mean_out(struct json *json, const char *key, uint64_t sum, uint64_t count) {
    double_out(json, key, count == 0 ? 0 : (double)sum / (double)count, count > 0);
}

static void list_out(struct json *json, const struct counts *counts) {
    uint64_t wins = counts->games - counts->walls, drawn = 0;
    for (size_t i = 0; i < nh_list_size(counts->list); i++)
        drawn += counts->pattern[i].drawn;
    whole_out(json, "games", counts->games);
    whole_out(json, "wins", wins);
    whole_out(json, "drawn", drawn);
    whole_out(json, "claimed", wins - drawn);
    whole_out(json, "walls", counts->walls);
    whole_out(json, "turns", counts->turns);
    whole_out(json, "wall_left", counts->wall_left);
    json_key(json, "seat_wins");
    json_open(json, '[');
    for (int seat = 0; seat < NH_SEATS; seat++)
        json_unsigned(json, counts->seat_wins[seat]);
    json_close(json, ']');
    share_out(json, "won_share", wins, counts->games);
    share_out(json, "drawn_share", drawn, wins);
    share_out(json, "first_seat_share", counts->seat_wins[0], wins);
    mean_out(json, "mean_turns", counts->turns, counts->games);
    mean_out(json, "mean_wall_left", counts->wall_left, wins);
}

static void fair_range_out(struct json *json, const struct pay *pay) {
    json_key(json, "fair_range");
    if (!pay->has_fair) {
        json_null(json);
        return;
    }
    json_open(json, '[');
    json_double(json, pay->low);
    json_double(json, pay->high);
    json_close(json, ']');
}

static void pattern_out(struct json *json, const struct counts *counts, size_t index) {
    const nh_pattern *pattern = nh_list_pattern(counts->list, index);
    const struct pattern_counts *count = &counts->pattern[index];
    uint64_t wins = counts_wins(counts, index), hands = NH_SEATS * counts->games;
    struct pay pay = pay_of(counts, index);
    json_open(json, '{');
    pattern_json(json, pattern);
    whole_out(json, "dealt", count->dealt);
    whole_out(json, "dealt_alone", count->dealt_alone);
    whole_out(json, "passed", count->passed);
    whole_out(json, "passed_alone", count->passed_alone);
    whole_out(json, "won", wins);
    whole_out(json, "drawn", count->drawn);
    whole_out(json, "turns", count->turns);
    json_key(json, "variants");
    json_open(json, '[');
    for (size_t at = counts->variant_at[index]; at < counts->variant_at[index + 1]; at++)
        json_unsigned(json, counts->variant_wins[at]);
    json_close(json, ']');
    share_out(json, "dealt_share", count->dealt, hands);
    share_out(json, "dealt_alone_share", count->dealt_alone, hands);
    share_out(json, "passed_share", count->passed, hands);
    share_out(json, "passed_alone_share", count->passed_alone, hands);
    share_out(json, "won_share", wins, counts->games - counts->walls);
    share_out(json, "drawn_share", count->drawn, wins);
    mean_out(json, "mean_turn", count->turns, wins);
    double_out(json, "points_per_100", pay.per_100, true);
    double_out(json, "fair_points", pay.fair, pay.has_fair);
    fair_range_out(json, &pay);
    json_key(json, "far_off");
    json_bool(json, pay.off != 0);
    json_close(json, '}');
}

void survey_json(const struct survey_key *key, const struct counts *counts) {
    struct json json = {0};
    char sum[FINGERPRINT_SIZE];
    fingerprint_counts(key, counts, sum);
    json_answer(&json);
    key_out(&json, key);
    json_key(&json, "sum");
    json_string(&json, sum);
    ranges_out(&json, counts);
    list_out(&json, counts);
    json_key(&json, "patterns");
    json_open(&json, '[');
    for (size_t i = 0; i < nh_list_size(counts->list); i++)
        pattern_out(&json, counts, i);
    json_close(&json, ']');
    json_close(&json, '}');
    output_text("\n");
}

bool survey_keep(const char *path, const struct survey_key *key, const struct counts *counts) {
    struct page page = {0};
    output_to(&page);
    survey_json(key, counts);
    output_to(NULL);
    bool kept = output_file_write(path, &page);
    page_free(&page);
    return kept;
}
