/* Patterns: what a list says of each, its variants, and the ranges of its
 * letters. */
#include "list/draft_pattern.h"
#include "list/draft_group.h"
#include "list/draft_limits.h"
#include "list/draft_size.h"
#include "list/draft_tile.h"

#include <stdio.h>
#include <string.h>

/* `ranged` has the letters that have a range already. */
static void read_rank_range(struct json_reader *reader, const cJSON *item, uint32_t used,
                            uint32_t *ranged, struct draft_letter letters[LETTERS]) {
    const char *key = item->string;
    if (!is_letter(key[0]) || key[1] != '\0') {
        reader_complain(reader, "\"ranks\" names a letter for each range, not \"%.60s\"", key);
        return;
    }
    int letter = key[0] - 'a';
    const cJSON *least = cJSON_GetArrayItem(item, 0), *most = cJSON_GetArrayItem(item, 1);
    if (!cJSON_IsArray(item) || cJSON_GetArraySize(item) != 2 || !json_is_whole(least, 1, 9) ||
        !json_is_whole(most, 1, 9) || least->valuedouble > most->valuedouble) {
        reader_complain(reader, "the range of \"%s\" must be [least, most], ranks from 1 to 9",
                        key);
        return;
    }
    if (*ranged >> letter & 1u)
        reader_complain(reader, "duplicate key \"%s\"", key);
    *ranged |= 1u << letter;
    if (!(used >> letter & 1u))
        reader_complain(reader,
                        "\"ranks\" gives a range to \"%s\", but the letter is never bound: no "
                        "group uses it",
                        key);
    letters[letter].values =
        (uint16_t)((1u << (int)most->valuedouble) - (1u << ((int)least->valuedouble - 1)));
}

/* The letters that stand for ranks in the pattern, as bits. */
static uint32_t used_letters(const struct draft_pattern *pattern) {
    uint32_t used = 0;
    for (size_t v = 0; v < pattern->variant_count; v++) {
        const struct draft_groups *groups = &pattern->variants[v].groups;
        for (size_t g = 0; g < groups->count; g++)
            used |= groups->items[g].rank_letters;
    }
    return used;
}

static void read_rank_ranges(struct json_reader *reader, const cJSON *object, uint32_t used,
                             struct draft_letter letters[LETTERS]) {
    for (int letter = 0; letter < LETTERS; letter++)
        letters[letter].values = ALL_RANKS;
    const cJSON *ranges = json_member(object, "ranks");
    if (ranges == NULL)
        return;
    reader_enter_key(reader, "ranks");
    if (!cJSON_IsObject(ranges))
        reader_complain(reader, "\"ranks\" must be an object such as {\"n\": [1, 7]}");
    const cJSON *item;
    uint32_t ranged = 0;
    if (cJSON_IsObject(ranges)) {
        cJSON_ArrayForEach(item, ranges) {
            reader_enter_key(reader, item->string);
            read_rank_range(reader, item, used, &ranged, letters);
            reader_leave(reader);
        }
    }
    reader_leave(reader);
}

static bool read_variants(struct json_reader *reader, const cJSON *object,
                          struct draft_pattern *pattern) {
    const cJSON *groups = json_member(object, "groups"),
                *variants = json_member(object, "variants");
    if ((groups == NULL) == (variants == NULL)) {
        reader_complain(reader, groups == NULL ? "\"groups\" or \"variants\" is missing"
                                               : "\"groups\" and \"variants\" exclude each other");
        return false;
    }
    int count = variants == NULL ? 1 : json_count(variants);
    if (count == 0 || count > (int)NH_VARIANTS_MAX) {
        reader_complain(reader, "\"variants\" must be an array of 1 to %u arrays of groups",
                        NH_VARIANTS_MAX);
        return false;
    }
    pattern->variants = reader_new(reader, (size_t)count, sizeof *pattern->variants);
    if (pattern->variants == NULL)
        return false;
    pattern->variant_count = (size_t)count;
    reader_enter_key(reader, variants == NULL ? "groups" : "variants");
    bool good = true;
    const cJSON *item = variants == NULL ? groups : variants->child;
    for (int i = 0; i < count; i++, item = item->next) {
        if (variants != NULL)
            reader_enter_item(reader, i);
        good &= draft_read_groups(reader, item, &pattern->variants[i].groups);
        if (variants != NULL)
            reader_leave(reader);
    }
    reader_leave(reader);
    return good;
}

static void check_sizes(struct json_reader *reader, const struct draft_pattern *pattern, int hand) {
    for (size_t v = 0; v < pattern->variant_count; v++) {
        int largest = 0, misfit = 0;
        if (draft_size_fits(&pattern->variants[v].groups, hand, &largest, &misfit))
            continue;
        char which[32] = "";
        if (pattern->variant_count > 1)
            snprintf(which, sizeof which, "variant %zu: ", v + 1);
        if (misfit > NH_TARGET_MAX)
            reader_complain(reader,
                            "%sthe size does not fit: more than %d tiles, and a hand has %d", which,
                            NH_TARGET_MAX, hand);
        else
            reader_complain(
                reader,
                "%sthe size does not fit: %d tiles, and a hand has %d, with one more for "
                "each kong",
                which, misfit, hand);
    }
}

static void read_points(struct json_reader *reader, const cJSON *object, nh_pattern *about) {
    const cJSON *item = json_member(object, "points");
    if (item == NULL)
        return;
    about->has_points = cJSON_IsNumber(item) && item->valuedouble - item->valuedouble == 0;
    if (about->has_points) {
        about->points = item->valuedouble;
        return;
    }
    reader_enter_key(reader, "points");
    reader_complain(reader, "\"points\" must be a number");
    reader_leave(reader);
}

static void read_pattern(struct json_reader *reader, const cJSON *object, int hand,
                         struct draft_pattern *pattern) {
    static const char *const keys[] = {"name",   "section",   "ref",    "note",
                                       "points", "concealed", "groups", "variants",
                                       "ranks",  "limits",    NULL};
    if (!cJSON_IsObject(object)) {
        reader_complain(reader, "a pattern must be an object");
        return;
    }
    const cJSON *name = json_member(object, "name");
    if (cJSON_IsString(name) && strlen(name->valuestring) <= NH_TEXT_MAX)
        reader->pattern_name = name->valuestring;
    size_t before = reader->mistakes->count;
    reader_check_keys(reader, object, keys);
    nh_pattern *about = &pattern->about;
    about->name = reader_text(reader, object, "name", true);
    about->section = reader_text(reader, object, "section", false);
    about->ref = reader_text(reader, object, "ref", false);
    about->note = reader_text(reader, object, "note", false);
    about->concealed = reader_flag(reader, object, "concealed", false);
    read_points(reader, object, about);
    struct draft_limits limits;
    struct draft_letter letters[LETTERS];
    draft_read_limits(reader, object, &limits);
    bool good = read_variants(reader, object, pattern);
    if (good)
        read_rank_ranges(reader, object, used_letters(pattern), letters);
    for (size_t v = 0; good && v < pattern->variant_count; v++) {
        pattern->variants[v].limits = limits;
        memcpy(pattern->variants[v].letters, letters, sizeof letters);
    }
    if (good && reader->mistakes->count == before)
        check_sizes(reader, pattern, hand);
}

static void check_names(struct json_reader *reader, const struct draft *draft) {
    for (size_t i = 0; i < draft->pattern_count; i++) {
        const char *name = draft->patterns[i].about.name;
        for (size_t j = 0; j < i && name != NULL; j++) {
            const char *earlier = draft->patterns[j].about.name;
            if (earlier == NULL || strcmp(name, earlier) != 0)
                continue;
            reader->pattern = (int)i;
            reader->pattern_name = name;
            reader_enter_key(reader, "patterns");
            reader_enter_item(reader, (int)i);
            reader_enter_key(reader, "name");
            reader_complain(reader, "duplicate name: pattern %zu has it already", j + 1);
            reader->depth = 0;
            break;
        }
    }
    reader->pattern = -1;
    reader->pattern_name = NULL;
}

void draft_read_patterns(struct json_reader *reader, const cJSON *root, struct draft *draft) {
    const cJSON *array = json_member(root, "patterns");
    int count = json_count(array);
    if (array == NULL) {
        reader_complain(reader, "\"patterns\" is missing");
        return;
    }
    reader_enter_key(reader, "patterns");
    if (count == 0 || count > (int)NH_PATTERNS_MAX) {
        reader_complain(reader, "\"patterns\" must be an array of 1 to %u patterns",
                        NH_PATTERNS_MAX);
        count = 0;
    }
    draft->patterns = reader_new(reader, (size_t)count, sizeof *draft->patterns);
    const cJSON *item = count > 0 ? array->child : NULL;
    for (int i = 0; draft->patterns != NULL && i < count; i++, item = item->next) {
        reader_enter_item(reader, i);
        reader->pattern = i;
        reader->pattern_name = NULL;
        read_pattern(reader, item, draft->hand, &draft->patterns[i]);
        reader_leave(reader);
        draft->pattern_count++;
    }
    reader_leave(reader);
    reader->pattern = -1;
    check_names(reader, draft);
}
