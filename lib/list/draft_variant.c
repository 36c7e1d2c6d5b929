/* The variants of a pattern: groups, with the points, limits and letters that
 * hold for them. What a variant says goes before what its pattern says. */
#include "list/draft_variant.h"
#include "list/draft_group.h"
#include "list/draft_letters.h"
#include "list/draft_limits.h"
#include "list/draft_size.h"
#include "list/group_warnings.h"

#include <stdio.h>

/* ---------------------------------------------------------------- terms --- */

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

void draft_read_terms(struct json_reader *reader, const cJSON *object,
                      struct draft_variant *variant) {
    nh_pattern *about = &variant->about;
    if (json_member(object, "note") != NULL)
        about->note = reader_text(reader, object, "note", false);
    about->concealed = reader_flag(reader, object, "concealed", about->concealed);
    read_points(reader, object, about);
    draft_read_limits(reader, object, &variant->limits);
    draft_read_letters(reader, object, variant->letters);
}

/* ------------------------------------------------------------- variants --- */

/* The letters that stand for tiles in the groups, as bits. */
static uint32_t used_letters(const struct draft_groups *groups) {
    uint32_t used = 0;
    for (size_t g = 0; g < groups->count; g++)
        used |= groups->items[g].tile_letters;
    return used;
}

static void read_variant_groups(struct json_reader *reader, const cJSON *array,
                                struct draft_variant *variant) {
    if (draft_read_groups(reader, array, variant->letters, &variant->groups))
        groups_warn_suit_letters(reader, array, &variant->groups);
}

/* A variant with more than its groups. */
static void read_variant_object(struct json_reader *reader, const cJSON *object,
                                struct draft_variant *variant) {
    static const char *const keys[] = {"groups", "points",  "concealed", "limits",
                                       "ranks",  "letters", "note",      NULL};
    const cJSON *groups = json_member(object, "groups");
    size_t before = reader->mistakes->errors;
    if (groups == NULL) {
        reader_complain(reader, "a variant is an array of groups, or an object with \"groups\"");
        return;
    }
    variant->is_object = true;
    reader_check_keys(reader, object, keys);
    draft_read_terms(reader, object, variant);
    reader_enter_key(reader, "groups");
    read_variant_groups(reader, groups, variant);
    reader_leave(reader);
    if (reader->mistakes->errors == before && !reader->memory_short)
        draft_check_letters(reader, object, used_letters(&variant->groups));
}

/* Reads each variant of an array. */
static void read_variant_array(struct json_reader *reader, const cJSON *array,
                               const struct draft_variant *whole, struct draft_pattern *pattern) {
    const cJSON *item = json_first(array);
    reader_enter_key(reader, "variants");
    for (size_t i = 0; i < pattern->variant_count; i++, item = item->next) {
        struct draft_variant *variant = &pattern->variants[i];
        *variant = *whole;
        reader_enter_item(reader, (int)i);
        if (cJSON_IsObject(item))
            read_variant_object(reader, item, variant);
        else
            read_variant_groups(reader, item, variant);
        reader_leave(reader);
    }
    reader_leave(reader);
}

void draft_read_variants(struct json_reader *reader, const cJSON *object,
                         const struct draft_variant *whole, struct draft_pattern *pattern) {
    const cJSON *groups = json_member(object, "groups");
    const cJSON *variants = json_member(object, "variants");
    if ((groups == NULL) == (variants == NULL)) {
        reader_complain(reader, groups == NULL ? "\"groups\" or \"variants\" is missing"
                                               : "\"groups\" and \"variants\" exclude each other");
        return;
    }
    size_t count = variants == NULL ? 1 : (size_t)json_count(variants);
    if (count == 0 || count > NH_VARIANTS_MAX) {
        reader_complain(reader, "\"variants\" must be an array of 1 to %u arrays of groups",
                        NH_VARIANTS_MAX);
        return;
    }
    pattern->variants = reader_new(reader, count, sizeof *pattern->variants);
    if (pattern->variants == NULL)
        return;
    pattern->variant_count = count;
    pattern->has_variants = variants != NULL;
    size_t before = reader->mistakes->errors;
    if (variants != NULL) {
        read_variant_array(reader, variants, whole, pattern);
    } else {
        pattern->variants[0] = *whole;
        reader_enter_key(reader, "groups");
        read_variant_groups(reader, groups, &pattern->variants[0]);
        reader_leave(reader);
    }
    if (reader->mistakes->errors > before || reader->memory_short)
        return;
    uint32_t used = 0;
    for (size_t v = 0; v < pattern->variant_count; v++)
        used |= used_letters(&pattern->variants[v].groups);
    draft_check_letters(reader, object, used);
}

/* ---------------------------------------------------------------- sizes --- */

/* Complains of a variant with a size that no hand has. */
static void complain_of_variant_size(struct json_reader *reader, const struct draft_groups *groups,
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

void draft_check_sizes(struct json_reader *reader, const struct draft_pattern *pattern, int hand) {
    for (size_t v = 0; v < pattern->variant_count; v++) {
        const struct draft_groups *groups = &pattern->variants[v].groups;
        int largest = 0, misfit = 0;
        if (draft_size_fits(groups, hand, &largest, &misfit))
            continue;
        reader_enter_key(reader, pattern->has_variants ? "variants" : "groups");
        if (pattern->has_variants)
            reader_enter_item(reader, (int)v);
        complain_of_variant_size(reader, groups, misfit, hand);
        if (pattern->has_variants)
            reader_leave(reader);
        reader_leave(reader);
    }
}
