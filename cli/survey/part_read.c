/* A part of a survey, read from the JSON that another run wrote. Only the counts are read;
 * the figures beside them must be what follows from them. Nothing of a part counts unless
 * all of it is sound. */
#include "io/message.h"
#include "io/whole_file.h"
#include "survey/survey_task.h"

#include <cjson/cJSON.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define PART_BYTES_MAX ((size_t)16 << 20)

/* Sums of more games than this could pass what JSON's numbers hold exactly. */
#define GAMES_MAX UINT64_C(1000000000000)
#define WHOLE_MAX 9007199254740991.0 /* 2^53 - 1 */

static bool refuse_part(const char *path, const char *why) {
    complain("%s: %s", path, why);
    return false;
}

static cJSON *parse(const char *path) {
    size_t length;
    char *bytes = file_bytes(path, PART_BYTES_MAX, &length);
    if (bytes == NULL)
        return NULL;
    cJSON *json = strlen(bytes) == length ? cJSON_ParseWithOpts(bytes, NULL, true) : NULL;
    free(bytes);
    if (json == NULL)
        refuse_part(path, "it is not the JSON of a survey");
    return json;
}

static const cJSON *member(const cJSON *object, const char *key) {
    return cJSON_GetObjectItemCaseSensitive(object, key);
}

static bool whole_of(const cJSON *item, uint64_t *number) {
    if (!cJSON_IsNumber(item) || item->valuedouble < 0 || item->valuedouble > WHOLE_MAX)
        return false;
    *number = (uint64_t)item->valuedouble;
    return (double)*number == item->valuedouble;
}

static bool whole(const cJSON *object, const char *key, uint64_t *number) {
    return whole_of(member(object, key), number);
}

/* ------------------------------------------------------------- settings --- */

static bool word(const cJSON *object, const char *key, const char *const *words, int *place) {
    const char *text = cJSON_GetStringValue(member(object, key));
    for (*place = 0; text != NULL && words[*place] != NULL; (*place)++)
        if (strcmp(words[*place], text) == 0)
            return true;
    return false;
}

static bool read_way(const cJSON *ways, nh_way *way) {
    int passes, discards, claims;
    uint64_t look;
    *way = (nh_way)NH_WAY;
    if (!word(ways, "passes", survey_passes, &passes) ||
        !word(ways, "discards", survey_discards, &discards) ||
        !word(ways, "claims", survey_claims, &claims) || !whole(ways, "look", &look) || look < 1 ||
        look > NH_LOOK_MAX)
        return false;
    way->pass = (nh_way_pass)passes;
    way->discard = (nh_discard_order)discards;
    way->claim = (nh_way_claim)claims;
    way->look = (int)look;
    return true;
}

static bool read_seed(const cJSON *json, uint64_t *seed) {
    const char *digits = cJSON_GetStringValue(member(json, "seed"));
    char *end;
    if (digits == NULL || *digits < '0' || *digits > '9')
        return false;
    errno = 0;
    *seed = strtoull(digits, &end, 10);
    return *end == '\0' && errno == 0;
}

static bool read_key(const cJSON *json, struct survey_key *key, char title[PART_TITLE_SIZE]) {
    const char *list = cJSON_GetStringValue(member(json, "list"));
    const char *print = cJSON_GetStringValue(member(json, "print"));
    uint64_t format;
    if (!whole(json, "format", &format) || format != 1 || list == NULL || print == NULL ||
        strlen(print) >= sizeof key->print || !read_seed(json, &key->seed) ||
        !read_way(member(json, "ways"), &key->way))
        return false;
    snprintf(title, PART_TITLE_SIZE, "%s", list);
    key->list = title;
    snprintf(key->print, sizeof key->print, "%s", print);
    return true;
}

bool part_key(const char *path, struct survey_key *key, char title[PART_TITLE_SIZE]) {
    cJSON *json = parse(path);
    if (json == NULL)
        return false;
    bool good = read_key(json, key, title) || refuse_part(path, "it is not a part of a survey");
    cJSON_Delete(json);
    return good;
}

static bool same_key(const char *path, const struct survey_key *a, const struct survey_key *b) {
    if (strcmp(a->print, b->print) != 0)
        return refuse_part(path, "it is a survey of another list, or of another edition of it");
    if (a->seed != b->seed)
        return refuse_part(path, "it has another seed");
    if (a->way.pass != b->way.pass || a->way.discard != b->way.discard ||
        a->way.claim != b->way.claim || a->way.look != b->way.look)
        return refuse_part(path, "its players have other ways of playing");
    return true;
}

/* --------------------------------------------------------------- counts --- */

static bool read_pattern(const cJSON *json, struct counts *part, size_t index) {
    struct pattern_counts *count = &part->pattern[index];
    const char *name = cJSON_GetStringValue(member(json, "pattern"));
    uint64_t won, in_variants = 0, hands = NH_SEATS * part->games;
    size_t at = part->variant_at[index];
    const cJSON *variant;
    if (name == NULL || strcmp(name, nh_list_pattern(part->list, index)->name) != 0 ||
        !whole(json, "dealt", &count->dealt) || !whole(json, "dealt_alone", &count->dealt_alone) ||
        !whole(json, "passed", &count->passed) ||
        !whole(json, "passed_alone", &count->passed_alone) || !whole(json, "won", &won) ||
        !whole(json, "drawn", &count->drawn) || !whole(json, "turns", &count->turns))
        return false;
    cJSON_ArrayForEach(variant, member(json, "variants")) {
        if (at == part->variant_at[index + 1] || !whole_of(variant, &part->variant_wins[at]))
            return false;
        in_variants += part->variant_wins[at++];
    }
    count->claimed = won - count->drawn;
    return cJSON_IsArray(member(json, "variants")) && at == part->variant_at[index + 1] &&
           count->drawn <= won && in_variants == won && won <= part->games && count->turns >= won &&
           (won > 0 || count->turns == 0) && count->dealt <= hands &&
           count->dealt_alone <= count->dealt && count->passed <= hands &&
           count->passed_alone <= count->passed;
}

/* Turns of games that nobody won are the rest of all turns. */
static bool read_patterns(const cJSON *array, struct counts *part, uint64_t wins) {
    size_t index = 0;
    const cJSON *json;
    uint64_t won = 0, turns = 0;
    cJSON_ArrayForEach(json, array) {
        if (index == nh_list_size(part->list) || !read_pattern(json, part, index))
            return false;
        turns += part->pattern[index].turns;
        won += counts_wins(part, index++);
    }
    return cJSON_IsArray(array) && index == nh_list_size(part->list) && won == wins &&
           turns <= part->turns && part->turns - turns >= part->walls &&
           (part->walls > 0 || turns == part->turns);
}

static bool read_ranges(const cJSON *array, struct counts *part) {
    const cJSON *range;
    uint64_t games = 0, again;
    cJSON_ArrayForEach(range, array) {
        struct game_range read;
        if (cJSON_GetArraySize(range) != 2 ||
            !whole_of(cJSON_GetArrayItem(range, 0), &read.first) ||
            !whole_of(cJSON_GetArrayItem(range, 1), &read.last) || read.first < 1 ||
            read.last < read.first || !counts_add_range(part, read, &again))
            return false;
        games += read.last - read.first + 1;
    }
    return cJSON_IsArray(array) && games == part->games;
}

static bool read_counts(const cJSON *json, struct counts *part) {
    const cJSON *seats = member(json, "seat_wins");
    uint64_t wins, in_seats = 0;
    if (cJSON_GetStringValue(member(json, "sum")) == NULL || !whole(json, "games", &part->games) ||
        part->games > GAMES_MAX || !whole(json, "walls", &part->walls) ||
        part->walls > part->games || !whole(json, "turns", &part->turns) ||
        !whole(json, "wall_left", &part->wall_left) || !cJSON_IsArray(seats) ||
        cJSON_GetArraySize(seats) != NH_SEATS)
        return false;
    wins = part->games - part->walls;
    for (int seat = 0; seat < NH_SEATS; seat++) {
        if (!whole_of(cJSON_GetArrayItem(seats, seat), &part->seat_wins[seat]))
            return false;
        in_seats += part->seat_wins[seat];
    }
    return in_seats == wins && read_ranges(member(json, "numbers"), part) &&
           read_patterns(member(json, "patterns"), part, wins);
}

/* All the ranges of a part, or none. */
static bool add_ranges(const char *path, struct counts *counts, const struct counts *part) {
    for (size_t i = 0; i < part->ranges; i++)
        for (size_t j = 0; j < counts->ranges; j++) {
            const struct game_range *a = &part->range[i], *b = &counts->range[j];
            uint64_t both = a->first > b->first ? a->first : b->first;
            if (both > a->last || both > b->last)
                continue;
            complain("%s: game %llu is counted already", path, (unsigned long long)both);
            return false;
        }
    for (size_t i = 0; i < part->ranges; i++) {
        uint64_t again;
        if (!counts_add_range(counts, part->range[i], &again))
            return false;
    }
    return true;
}

static bool add_part(const char *path, const cJSON *json, const struct survey_key *key,
                     struct counts *counts) {
    struct survey_key own;
    struct counts part;
    char title[PART_TITLE_SIZE];
    bool good = counts_new(&part, counts->list);
    if (good && !read_key(json, &own, title))
        good = refuse_part(path, "it is not a part of a survey");
    good = good && same_key(path, &own, key);
    own.list = nh_list_title(counts->list);
    if (good && (!read_counts(json, &part) || !part_agrees(&own, &part, json)))
        good = refuse_part(path, "its numbers do not agree with one another");
    good = good && add_ranges(path, counts, &part);
    if (good)
        counts_add(counts, &part);
    counts_free(&part);
    return good;
}

bool part_read(const char *path, const struct survey_key *key, struct counts *counts) {
    cJSON *json = parse(path);
    if (json == NULL)
        return false;
    bool good = add_part(path, json, key, counts);
    cJSON_Delete(json);
    return good;
}
