/* A pattern list read from JSON into a draft: every key, type and word is
 * checked, and every mistake names its pattern, group and line. What the
 * draft means is worked out by the compile stage. */
#include "list/draft_list.h"
#include "list/draft_pattern.h"
#include "list/draft_play.h"
#include "list/tile_text.h"
#include "json/json_text.h"

#include <string.h>

static void read_set_suits(struct json_reader *reader, const cJSON *tiles, bool *suits) {
    const cJSON *array = tiles == NULL ? NULL : json_member(tiles, "suits");
    for (int i = 0; i < SUITS; i++)
        suits[i] = array == NULL;
    if (array == NULL)
        return;
    reader_enter_key(reader, "suits");
    bool good = cJSON_IsArray(array);
    const cJSON *item;
    cJSON_ArrayForEach(item, array) {
        uint8_t part = 0;
        good = good && cJSON_IsString(item) && suit_word_read(item->valuestring, &part) &&
               !suits[part];
        if (good)
            suits[part] = true;
    }
    if (!good)
        reader_complain(reader,
                        "\"suits\" must be an array of some of \"bam\", \"crak\" and \"dot\"");
    reader_leave(reader);
}

static void read_set(struct json_reader *reader, const cJSON *root, nh_tiles *set) {
    static const char *const keys[] = {"flowers", "jokers", "suits", "winds", "dragons", NULL};
    const cJSON *tiles = json_member(root, "tiles");
    bool suits[SUITS];
    reader_enter_key(reader, "tiles");
    if (tiles != NULL && !cJSON_IsObject(tiles)) {
        reader_complain(reader, "\"tiles\" must be an object");
        tiles = NULL;
    }
    if (tiles != NULL)
        reader_check_keys(reader, tiles, keys);
    read_set_suits(reader, tiles, suits);
    bool winds = tiles == NULL || reader_flag(reader, tiles, "winds", true);
    bool dragons = tiles == NULL || reader_flag(reader, tiles, "dragons", true);
    for (int kind = 0; kind < NH_FLOWER; kind++) {
        bool in_set = kind < NH_EAST ? suits[kind / PART_KINDS] : kind < NH_RED ? winds : dragons;
        set->count[kind] = in_set ? COPIES : 0;
    }
    if (tiles != NULL) {
        set->count[NH_FLOWER] = (uint8_t)reader_whole(reader, tiles, "flowers", 0, FLOWERS_MAX, 0);
        set->count[NH_JOKER] = (uint8_t)reader_whole(reader, tiles, "jokers", 0, JOKERS_MAX, 0);
    }
    reader_leave(reader);
}

static void read_list(struct json_reader *reader, const cJSON *root, struct draft *draft) {
    static const char *const keys[] = {"$schema", "format",     "title", "edition",  "note", "hand",
                                       "tiles",   "charleston", "play",  "patterns", NULL};
    if (!cJSON_IsObject(root)) {
        reader_complain(reader, "a list must be a JSON object");
        return;
    }
    reader_check_keys(reader, root, keys);
    if (json_member(root, "format") == NULL)
        reader_complain(reader, "\"format\" is missing: write \"format\": 1");
    reader_whole(reader, root, "format", 1, 1, 1);
    reader_text(reader, root, "$schema", false); /* for editors alone */
    draft->title = reader_text(reader, root, "title", true);
    draft->edition = reader_text(reader, root, "edition", false);
    draft->note = reader_text(reader, root, "note", false);
    draft->hand = reader_whole(reader, root, "hand", 2, NH_HAND_MAX, 14);
    read_set(reader, root, &draft->set);
    draft_read_charleston(reader, root, draft->hand, &draft->charleston);
    draft_read_play(reader, root, &draft->play);
    if (nh_tiles_total(&draft->set) < draft->hand)
        reader_complain(reader, "the set has fewer tiles than a hand");
    draft_read_patterns(reader, root, draft);
}

bool draft_read(const char *json, size_t length, struct arena *arena, struct draft *draft,
                nh_mistakes *mistakes) {
    struct json_reader reader = {.arena = arena, .mistakes = mistakes};
    bool mark = length >= 3 && memcmp(json, "\xEF\xBB\xBF", 3) == 0;
    reader.json = mark ? json + 3 : json;
    reader.length = mark ? length - 3 : length;
    reader.pattern = -1;
    *draft = (struct draft){.json = reader.json, .length = reader.length, .hand = 14};
    if (reader.length > NH_LIST_BYTES_MAX) {
        mistakes_add(mistakes, (struct place){0, 0}, NULL, NULL, "the list is larger than 4 MiB");
        return false;
    }
    cJSON *root = json_parse(reader.json, reader.length, mistakes);
    if (root != NULL) {
        read_list(&reader, root, draft);
        cJSON_Delete(root);
    }
    return !reader.memory_short && !mistakes->memory_short && mistakes->errors == 0;
}
