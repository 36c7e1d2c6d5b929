/* How tiles are passed before play. */
#include "list/draft_charleston.h"

#include <string.h>

static bool read_steps(const cJSON *round, nh_charleston *charleston) {
    uint8_t *steps = &charleston->steps[charleston->rounds];
    const cJSON *item;
    cJSON_ArrayForEach(item, round) {
        int direction = 0;
        while (direction < 3 &&
               (!cJSON_IsString(item) ||
                strcmp(item->valuestring, nh_direction_name((nh_direction)direction)) != 0))
            direction++;
        if (direction == 3 || *steps == NH_CHARLESTON_STEPS_MAX)
            return false;
        charleston->direction[charleston->rounds][(*steps)++] = (uint8_t)direction;
    }
    charleston->rounds++;
    return *steps > 0;
}

static void read_rounds(struct json_reader *reader, const cJSON *object,
                        nh_charleston *charleston) {
    const cJSON *array = object == NULL ? NULL : json_member(object, "rounds");
    if (array == NULL) {
        static const uint8_t usual[] = {NH_RIGHT, NH_ACROSS, NH_LEFT};
        charleston->rounds = 1;
        charleston->steps[0] = sizeof usual;
        memcpy(charleston->direction[0], usual, sizeof usual);
        return;
    }
    reader_enter_key(reader, "rounds");
    bool good = cJSON_IsArray(array);
    const cJSON *round;
    cJSON_ArrayForEach(round, array) {
        good = good && cJSON_IsArray(round) && charleston->rounds < NH_CHARLESTON_ROUNDS_MAX &&
               read_steps(round, charleston);
    }
    if (!good)
        reader_complain(reader,
                        "\"rounds\" must be an array of at most %u rounds, each an array "
                        "of at most %u "
                        "of \"right\", \"across\" and \"left\"",
                        NH_CHARLESTON_ROUNDS_MAX, NH_CHARLESTON_STEPS_MAX);
    reader_leave(reader);
}

/* Kinds in hand notation, in one text or an array of texts. */
static void read_keep(struct json_reader *reader, const cJSON *object, nh_charleston *charleston) {
    const cJSON *item = json_member(object, "keep");
    if (item == NULL)
        return;
    reader_enter_key(reader, "keep");
    const cJSON *text = cJSON_IsArray(item) ? item->child : item;
    while (text != NULL) {
        nh_tiles tiles;
        if (!reader_kinds(reader, text, "keep", &tiles))
            break;
        for (int kind = 0; kind < NH_KINDS; kind++)
            charleston->keep.count[kind] |= tiles.count[kind] > 0;
        text = cJSON_IsArray(item) ? text->next : NULL;
    }
    reader_leave(reader);
}

void draft_read_charleston(struct json_reader *reader, const cJSON *root, int hand,
                           nh_charleston *charleston) {
    static const char *const keys[] = {"tiles", "rounds", "courtesy", "keep", NULL};
    const cJSON *object = json_member(root, "charleston");
    charleston->tiles = 3;
    charleston->keep.count[NH_JOKER] = 1;
    reader_enter_key(reader, "charleston");
    if (object != NULL && !cJSON_IsObject(object)) {
        reader_complain(reader, "\"charleston\" must be an object");
        object = NULL;
    }
    read_rounds(reader, object, charleston);
    if (object != NULL) {
        reader_check_keys(reader, object, keys);
        charleston->tiles = (uint8_t)reader_whole(reader, object, "tiles", 1, hand, 3);
        charleston->courtesy = (uint8_t)reader_whole(reader, object, "courtesy", 0, hand, 0);
        read_keep(reader, object, charleston);
    }
    reader_leave(reader);
}
