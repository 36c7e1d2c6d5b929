/* The limits of a pattern: what every target must satisfy as well. */
#include "list/draft_limits.h"

#include <string.h>

static void read_suits_limit(struct json_reader *reader, const cJSON *limits,
                             struct draft_limits *out) {
    const cJSON *item = json_member(limits, "suits");
    if (item == NULL)
        return;
    const cJSON *most = item;
    if (cJSON_IsArray(item) && cJSON_GetArraySize(item) == 2) {
        item = item->child;
        most = item->next;
    }
    if (json_is_whole(item, 0, 3) && json_is_whole(most, 0, 3) &&
        item->valuedouble <= most->valuedouble) {
        out->suits_least = (uint8_t)item->valuedouble;
        out->suits_most = (uint8_t)most->valuedouble;
        return;
    }
    reader_enter_key(reader, "suits");
    reader_complain(reader, "\"suits\" must be how many suits occur, 0 to 3, or [least, most]");
    reader_leave(reader);
}

static void read_honours_limit(struct json_reader *reader, const cJSON *limits,
                               struct draft_limits *out) {
    static const char *const words[] = {"", "none", "some", "only"};
    const cJSON *item = json_member(limits, "honours");
    if (item == NULL)
        return;
    for (uint8_t i = HONOURS_NONE; i <= HONOURS_ONLY; i++)
        if (cJSON_IsString(item) && strcmp(item->valuestring, words[i]) == 0)
            out->honours = i;
    if (out->honours != HONOURS_FREE)
        return;
    reader_enter_key(reader, "honours");
    reader_complain(reader, "\"honours\" must be \"none\", \"some\" or \"only\"");
    reader_leave(reader);
}

static void read_ranks_limit(struct json_reader *reader, const cJSON *limits,
                             struct draft_limits *out) {
    const cJSON *item = json_member(limits, "ranks");
    if (item == NULL)
        return;
    reader_enter_key(reader, "ranks");
    bool allowed[PART_KINDS] = {false};
    bool good = cJSON_IsArray(item) && item->child != NULL;
    const cJSON *rank;
    cJSON_ArrayForEach(rank, item) {
        if (good && json_is_whole(rank, 1, 9))
            allowed[(int)rank->valuedouble - 1] = true;
        else
            good = false;
    }
    if (!good)
        reader_complain(reader, "\"ranks\" must be an array of the ranks, 1 to 9, that may occur");
    for (int kind = 0; good && kind < SUITS * PART_KINDS; kind++)
        out->allowed[kind] &= allowed[kind % PART_KINDS];
    reader_leave(reader);
}

static void read_tiles_limit(struct json_reader *reader, const cJSON *limits,
                             struct draft_limits *out) {
    const cJSON *item = json_member(limits, "tiles");
    nh_tiles tiles;
    if (item == NULL)
        return;
    reader_enter_key(reader, "tiles");
    if (reader_kinds(reader, item, "tiles", &tiles)) {
        if (tiles.count[NH_JOKER] > 0)
            reader_complain(reader, "\"tiles\" names the joker, which no pattern asks for");
        for (int kind = 0; kind < NH_KINDS; kind++)
            out->allowed[kind] &= tiles.count[kind] > 0;
    }
    reader_leave(reader);
}

struct draft_limits draft_no_limits(void) {
    struct draft_limits limits = {.suits_most = SUITS};
    memset(limits.allowed, true, sizeof limits.allowed);
    return limits;
}

const char *draft_copy_limit(struct draft_limits *to, const struct draft_limits *from, int index) {
    if (index == 0) {
        to->suits_least = from->suits_least;
        to->suits_most = from->suits_most;
        return from->suits_least > 0 || from->suits_most < SUITS ? "suits" : NULL;
    }
    to->honours = from->honours;
    return from->honours != HONOURS_FREE ? "honours" : NULL;
}

void draft_read_limits(struct json_reader *reader, const cJSON *object,
                       struct draft_limits *limits) {
    static const char *const keys[] = {"suits", "honours", "ranks", "tiles", NULL};
    *limits = draft_no_limits();
    const cJSON *item = json_member(object, "limits");
    if (item == NULL)
        return;
    reader_enter_key(reader, "limits");
    if (cJSON_IsObject(item)) {
        reader_check_keys(reader, item, keys);
        read_suits_limit(reader, item, limits);
        read_honours_limit(reader, item, limits);
        read_ranks_limit(reader, item, limits);
        read_tiles_limit(reader, item, limits);
    } else {
        reader_complain(reader, "\"limits\" must be an object");
    }
    reader_leave(reader);
}
