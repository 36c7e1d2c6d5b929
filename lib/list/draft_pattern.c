/* Patterns: what a list says of each, its variants, and the ranges of its
 * letters. */
#include "list/draft_pattern.h"
#include "list/draft_group.h"
#include "list/draft_limits.h"
#include "list/draft_size.h"
#include "list/group_warnings.h"
#include "list/tile_text.h"

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
    pattern->has_variants = variants != NULL;
    reader_enter_key(reader, variants == NULL ? "groups" : "variants");
    bool good = true;
    const cJSON *item = variants == NULL ? groups : variants->child;
    for (int i = 0; i < count; i++, item = item->next) {
        if (variants != NULL)
            reader_enter_item(reader, i);
        struct draft_groups *variant = &pattern->variants[i].groups;
        bool read = draft_read_groups(reader, item, variant);
        if (read)
            groups_warn_suit_letters(reader, item, variant);
        good &= read;
        if (variants != NULL)
            reader_leave(reader);
    }
    reader_leave(reader);
    return good;
}

/* Complains of a variant with a size that no hand has. */
static void complain_of_size(struct json_reader *reader, const struct draft_groups *groups,
                             int misfit, int hand) {
    char sum[80], tiles[120];
    draft_size_sum(groups, sum, sizeof sum);
    if (misfit > NH_TARGET_MAX)
        snprintf(tiles, sizeof tiles, "more than %d tiles", NH_TARGET_MAX);
    else if (groups->count > 1 && sum[0] != '\0')
        snprintf(tiles, sizeof tiles, "%s = %d tiles", sum, misfit);
    else
        snprintf(tiles, sizeof tiles, "%s%d tiles", sum[0] == '\0' ? "some choice has " : "",
                 misfit);
    reader_complain(reader, "the size does not fit: %s, and a hand has %d%s", tiles, hand,
                    misfit > hand ? ", with one more for each kong" : "");
}

static void check_sizes(struct json_reader *reader, const struct draft_pattern *pattern, int hand) {
    for (size_t v = 0; v < pattern->variant_count; v++) {
        const struct draft_groups *groups = &pattern->variants[v].groups;
        int largest = 0, misfit = 0;
        if (draft_size_fits(groups, hand, &largest, &misfit))
            continue;
        reader_enter_key(reader, pattern->has_variants ? "variants" : "groups");
        if (pattern->has_variants)
            reader_enter_item(reader, (int)v);
        complain_of_size(reader, groups, misfit, hand);
        if (pattern->has_variants)
            reader_leave(reader);
        reader_leave(reader);
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

/* The names of the warnings that the keeper has seen and accepts. */
static void read_accepted(struct json_reader *reader, const cJSON *object,
                          struct draft_pattern *pattern) {
    const cJSON *array = json_member(object, "accept");
    int count = json_count(array);
    bool good = array == NULL || cJSON_IsArray(array);
    pattern->accepted = reader_new(reader, (size_t)count, sizeof *pattern->accepted);
    const cJSON *item = json_first(array);
    for (; pattern->accepted != NULL && item != NULL && good; item = item->next) {
        good = cJSON_IsString(item) && strlen(item->valuestring) <= NH_TEXT_MAX;
        const char *name = good ? arena_text(reader->arena, item->valuestring) : NULL;
        if (good && name == NULL)
            reader->memory_short = true;
        else if (good)
            pattern->accepted[pattern->accepted_count++] = name;
    }
    if (good)
        return;
    reader_enter_key(reader, "accept");
    reader_complain(reader, "\"accept\" must be an array of names of warnings");
    reader_leave(reader);
}

static void read_pattern(struct json_reader *reader, const cJSON *object, int hand,
                         struct draft_pattern *pattern) {
    static const char *const keys[] = {"name",   "section",   "ref",    "note",
                                       "points", "concealed", "groups", "variants",
                                       "ranks",  "limits",    "accept", NULL};
    if (!cJSON_IsObject(object)) {
        reader_complain(reader, "a pattern must be an object");
        return;
    }
    const cJSON *name = json_member(object, "name");
    if (cJSON_IsString(name) && strlen(name->valuestring) <= NH_TEXT_MAX)
        reader->pattern_name = name->valuestring;
    size_t before = reader->mistakes->errors;
    reader_check_keys(reader, object, keys);
    nh_pattern *about = &pattern->about;
    about->name = reader_text(reader, object, "name", true);
    about->section = reader_text(reader, object, "section", false);
    about->ref = reader_text(reader, object, "ref", false);
    about->note = reader_text(reader, object, "note", false);
    about->concealed = reader_flag(reader, object, "concealed", false);
    read_points(reader, object, about);
    read_accepted(reader, object, pattern);
    reader->accepted = json_member(object, "accept");
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
    if (good && reader->mistakes->errors == before)
        check_sizes(reader, pattern, hand);
}

/* The next character of a name as names are compared: capitals as small letters,
 * spaces in a row as one, none at the ends. 0 at the end. */
static char next_of_name(const char **name) {
    const char *at = *name;
    bool spaces = *at == ' ';
    while (*at == ' ')
        at++;
    if (*at == '\0') {
        *name = at;
        return '\0';
    }
    if (spaces) {
        *name = at;
        return ' ';
    }
    *name = at + 1;
    return (char)(*at >= 'A' && *at <= 'Z' ? *at - 'A' + 'a' : *at);
}

static bool same_name(const char *a, const char *b) {
    a += strspn(a, " ");
    b += strspn(b, " ");
    char x, y;
    do {
        x = next_of_name(&a);
        y = next_of_name(&b);
    } while (x == y && x != '\0');
    return x == y;
}

/* Players could not tell such patterns apart, nor name one of them. */
static void check_name(struct json_reader *reader, const struct draft *draft, size_t index) {
    const char *name = draft->patterns[index].about.name;
    for (size_t i = 0; i < index && name != NULL; i++) {
        const char *earlier = draft->patterns[i].about.name;
        if (earlier == NULL || !same_name(name, earlier))
            continue;
        reader->pattern = (int)index;
        reader->pattern_name = name;
        reader_enter_key(reader, "patterns");
        reader_enter_item(reader, (int)index);
        reader_enter_key(reader, "name");
        if (strcmp(name, earlier) == 0)
            reader_complain(reader, "duplicate name: pattern %zu has it already", i + 1);
        else
            reader_complain(reader,
                            "duplicate name: pattern %zu has it already, but for capitals or "
                            "spaces: \"%s\"",
                            i + 1, earlier);
        reader->depth = 0;
        break;
    }
}

void draft_read_patterns(struct json_reader *reader, const cJSON *root, struct draft *draft) {
    const cJSON *array = json_member(root, "patterns");
    size_t count = (size_t)json_count(array);
    if (array == NULL) {
        reader_complain(reader, "\"patterns\" is missing");
        return;
    }
    reader_enter_key(reader, "patterns");
    if (count == 0 || count > NH_PATTERNS_MAX) {
        reader_complain(reader, "\"patterns\" must be an array of 1 to %u patterns",
                        NH_PATTERNS_MAX);
        count = 0;
    }
    draft->patterns = reader_new(reader, count, sizeof *draft->patterns);
    draft->pattern_count = draft->patterns == NULL ? 0 : count;
    const cJSON *item = json_first(array);
    for (size_t i = 0; i < draft->pattern_count; i++, item = item->next) {
        reader_enter_item(reader, (int)i);
        reader->pattern = (int)i;
        reader->pattern_name = NULL;
        read_pattern(reader, item, draft->hand, &draft->patterns[i]);
        reader->accepted = NULL;
        reader_leave(reader);
    }
    reader_leave(reader);
    for (size_t i = 0; i < draft->pattern_count; i++)
        check_name(reader, draft, i);
    reader->pattern = -1;
    reader->pattern_name = NULL;
}
