/* Short hashes of a list and of what was counted: FNV-1a with 64 bits (Fowler, Noll, Vo;
 * draft-eastlake-fnv). */
#include "survey/fingerprint.h"
#include "io/message.h"
#include "io/whole_file.h"
#include "numbers/double_text.h"

#include <cjson/cJSON.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define LIST_BYTES_MAX ((size_t)NH_LIST_BYTES_MAX)
#define START UINT64_C(0xcbf29ce484222325)
#define FACTOR UINT64_C(0x100000001b3)

static void hash_byte(uint64_t *hash, unsigned char byte) {
    *hash = (*hash ^ byte) * FACTOR;
}

/* With its end, so that two texts are not a longer one. */
static void hash_text(uint64_t *hash, const char *text) {
    for (; *text != '\0'; text++)
        hash_byte(hash, (unsigned char)*text);
    hash_byte(hash, 0);
}

static void hash_whole(uint64_t *hash, uint64_t number) {
    for (int i = 0; i < 8; i++, number >>= 8)
        hash_byte(hash, (unsigned char)number);
}

static void write_hash(uint64_t hash, char text[FINGERPRINT_SIZE]) {
    snprintf(text, FINGERPRINT_SIZE, "%016" PRIx64, hash);
}

/* --------------------------------------------------------------- a list --- */

static void hash_json(uint64_t *hash, const cJSON *json);

static bool changes_no_game(const char *key) {
    static const char *const keys[] = {"$schema", "edition", "note", "accept"};
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
        if (strcmp(keys[i], key) == 0)
            return true;
    return false;
}

/* The members in the order of their keys, which are all different in a list. */
static void hash_members(uint64_t *hash, const cJSON *object) {
    const char *before = NULL;
    for (;;) {
        const cJSON *next = NULL, *member;
        cJSON_ArrayForEach(member, object) {
            if ((before == NULL || strcmp(member->string, before) > 0) &&
                (next == NULL || strcmp(member->string, next->string) < 0))
                next = member;
        }
        if (next == NULL)
            return;
        before = next->string;
        if (changes_no_game(before))
            continue;
        hash_text(hash, before);
        hash_json(hash, next);
    }
}

static void hash_json(uint64_t *hash, const cJSON *json) {
    char number[DOUBLE_TEXT_SIZE];
    const cJSON *item;
    hash_whole(hash, (uint64_t)json->type & 0xFF);
    if (cJSON_IsString(json)) {
        hash_text(hash, json->valuestring);
    } else if (cJSON_IsNumber(json)) {
        double_text(json->valuedouble, number);
        hash_text(hash, number);
    } else if (cJSON_IsObject(json)) {
        hash_members(hash, json);
    } else if (cJSON_IsArray(json)) {
        hash_whole(hash, (uint64_t)cJSON_GetArraySize(json));
        cJSON_ArrayForEach(item, json) {
            hash_json(hash, item);
        }
    }
    hash_byte(hash, 0xFF); /* the end: no byte of UTF-8 */
}

bool fingerprint_list(const char *path, char text[FINGERPRINT_SIZE]) {
    size_t length;
    uint64_t hash = START;
    char *bytes = file_bytes(path, LIST_BYTES_MAX, &length);
    if (bytes == NULL)
        return false;
    cJSON *json = cJSON_ParseWithLength(bytes, length);
    free(bytes);
    if (json == NULL) {
        complain("%s: it changed while it was read, or memory is short", path);
        return false;
    }
    hash_json(&hash, json);
    cJSON_Delete(json);
    write_hash(hash, text);
    return true;
}

/* --------------------------------------------------------------- counts --- */

static void hash_pattern(uint64_t *hash, const struct pattern_counts *pattern) {
    hash_whole(hash, pattern->dealt);
    hash_whole(hash, pattern->dealt_alone);
    hash_whole(hash, pattern->passed);
    hash_whole(hash, pattern->passed_alone);
    hash_whole(hash, pattern->drawn);
    hash_whole(hash, pattern->claimed);
    hash_whole(hash, pattern->turns);
}

static void hash_key(uint64_t *hash, const struct survey_key *key) {
    hash_text(hash, key->print);
    hash_whole(hash, key->seed);
    hash_whole(hash, (uint64_t)key->way.pass);
    hash_whole(hash, (uint64_t)key->way.discard);
    hash_whole(hash, (uint64_t)key->way.claim);
    hash_whole(hash, (uint64_t)key->way.look);
}

void fingerprint_counts(const struct survey_key *key, const struct counts *counts,
                        char text[FINGERPRINT_SIZE]) {
    uint64_t hash = START;
    size_t size = nh_list_size(counts->list);
    hash_key(&hash, key);
    for (size_t i = 0; i < counts->ranges; i++) {
        hash_whole(&hash, counts->range[i].first);
        hash_whole(&hash, counts->range[i].last);
    }
    hash_whole(&hash, counts->games);
    hash_whole(&hash, counts->walls);
    hash_whole(&hash, counts->turns);
    hash_whole(&hash, counts->wall_left);
    for (int seat = 0; seat < NH_SEATS; seat++)
        hash_whole(&hash, counts->seat_wins[seat]);
    for (size_t i = 0; i < size; i++)
        hash_pattern(&hash, &counts->pattern[i]);
    for (size_t i = 0; i < counts->variant_at[size]; i++)
        hash_whole(&hash, counts->variant_wins[i]);
    write_hash(hash, text);
}
