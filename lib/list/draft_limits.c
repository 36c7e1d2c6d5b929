/* The limits of a pattern: what every target must satisfy as well. */
#include "list/draft_limits.h"
#include "list/tile_text.h"

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
    static const char *const words[] = {[HONOURS_NONE - 1] = "none",
                                        [HONOURS_SOME - 1] = "some",
                                        [HONOURS_ONLY - 1] = "only",
                                        NULL};
    const cJSON *item = json_member(limits, "honours");
    if (item == NULL)
        return;
    int word = cJSON_IsString(item) ? word_number(item->valuestring, words) : -1;
    if (word >= 0) {
        out->honours = (uint8_t)(word + 1);
        return;
    }
    reader_enter_key(reader, "honours");
    reader_complain(reader, "\"honours\" must be \"none\", \"some\" or \"only\"");
    reader_leave(reader);
}

static void read_ranks_limit(struct json_reader *reader, const cJSON *limits,
                             struct draft_limits *out) {
    const cJSON *item = json_member(limits, "ranks");
    if (item == NULL)
        return;
    bool good = json_count(item) > 0;
    memset(out->ranks, false, sizeof out->ranks);
    for (const cJSON *rank = json_first(item); rank != NULL; rank = rank->next) {
        if (json_is_whole(rank, 1, 9))
            out->ranks[(int)rank->valuedouble - 1] = true;
        else
            good = false;
    }
    if (good)
        return;
    reader_enter_key(reader, "ranks");
    reader_complain(reader, "\"ranks\" must be an array of the ranks, 1 to 9, that may occur");
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
            out->kinds[kind] = tiles.count[kind] > 0;
    }
    reader_leave(reader);
}

/* ------------------------------------------------------ tiles of a class --- */

#define CLASS_WORDS                                                                                \
    "\"wind\", \"dragon\", \"honour\", \"terminal\", \"orphan\", \"simple\", \"suited\", \"any\""

/* One class of "least" or "most", at the path. */
static void read_class_count(struct json_reader *reader, const cJSON *item, const char *key,
                             uint8_t counts[CLASSES]) {
    int class = class_of_word(item->string);
    if (class < 0)
        reader_complain(reader, "\"%s\" counts tiles of a class, " CLASS_WORDS ", not \"%.60s\"",
                        key, item->string);
    else if (!json_is_whole(item, 0, NH_TARGET_MAX))
        reader_complain(reader, "\"%s\" must have a whole number of tiles from 0 to %d here", key,
                        NH_TARGET_MAX);
    else
        counts[class] = (uint8_t)item->valuedouble;
}

static void read_class_counts(struct json_reader *reader, const cJSON *limits, const char *key,
                              uint8_t counts[CLASSES]) {
    const cJSON *object = json_member(limits, key);
    if (object == NULL)
        return;
    reader_enter_key(reader, key);
    if (!cJSON_IsObject(object))
        reader_complain(reader, "\"%s\" must be an object such as {\"terminal\": 2}", key);
    const cJSON *item = cJSON_IsObject(object) ? object->child : NULL;
    for (; item != NULL; item = item->next) {
        reader_enter_key(reader, item->string);
        read_class_count(reader, item, key, counts);
        reader_leave(reader);
    }
    reader_leave(reader);
}

static void check_class_counts(struct json_reader *reader, const struct draft_limits *limits) {
    for (int class = 0; class < CLASSES; class ++)
        if (limits->least[class] > limits->most[class])
            reader_complain(reader, "\"least\" is more than \"most\": %d and %d of \"%s\"",
                            limits->least[class], limits->most[class], word_of_class(class));
}

/* ------------------------------------------------------------ all limits --- */

struct draft_limits draft_no_limits(void) {
    struct draft_limits limits = {.suits_most = SUITS};
    memset(limits.ranks, true, sizeof limits.ranks);
    memset(limits.kinds, true, sizeof limits.kinds);
    memset(limits.allowed, true, sizeof limits.allowed);
    memset(limits.most, NH_TARGET_MAX, sizeof limits.most);
    return limits;
}

const char *draft_copy_limit(struct draft_limits *to, const struct draft_limits *from, int index) {
    if (index == 0) {
        to->suits_least = from->suits_least;
        to->suits_most = from->suits_most;
        return from->suits_least > 0 || from->suits_most < SUITS ? "suits" : NULL;
    }
    if (index == 1) {
        to->honours = from->honours;
        return from->honours != HONOURS_FREE ? "honours" : NULL;
    }
    int class = (index - 2) / 2;
    if (index % 2 == 0) {
        to->least[class] = from->least[class];
        return from->least[class] > 0 ? "least" : NULL;
    }
    to->most[class] = from->most[class];
    return from->most[class] < NH_TARGET_MAX ? "most" : NULL;
}

void draft_read_limits(struct json_reader *reader, const cJSON *object,
                       struct draft_limits *limits) {
    static const char *const keys[] = {"suits", "honours", "ranks", "tiles", "least", "most", NULL};
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
        read_class_counts(reader, item, "least", limits->least);
        read_class_counts(reader, item, "most", limits->most);
        check_class_counts(reader, limits);
    } else {
        reader_complain(reader, "\"limits\" must be an object");
    }
    for (int kind = 0; kind < NH_KINDS; kind++)
        limits->allowed[kind] =
            limits->kinds[kind] && (kind >= NH_EAST || limits->ranks[kind % PART_KINDS]);
    reader_leave(reader);
}
