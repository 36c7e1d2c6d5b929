/* How tiles are passed before play, and claimed in it. */
#include "list/draft_play.h"

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

/* The rounds, from 1, of which the last pass may be blind. */
static void read_blind(struct json_reader *reader, const cJSON *object, nh_charleston *charleston) {
    const cJSON *array = json_member(object, "blind");
    bool good = array == NULL || cJSON_IsArray(array);
    for (const cJSON *item = json_first(array); item != NULL; item = item->next) {
        if (json_is_whole(item, 1, charleston->rounds))
            charleston->blind |= (uint8_t)(1u << ((int)item->valuedouble - 1));
        else
            good = false;
    }
    if (good)
        return;
    reader_enter_key(reader, "blind");
    reader_complain(reader, "\"blind\" must be an array of rounds that are played, from 1 to %u",
                    charleston->rounds);
    reader_leave(reader);
}

void draft_read_charleston(struct json_reader *reader, const cJSON *root, int hand,
                           nh_charleston *charleston) {
    static const char *const keys[] = {"tiles", "rounds", "courtesy", "keep", "blind", NULL};
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
        read_blind(reader, object, charleston);
    }
    reader_leave(reader);
}

/* ---------------------------------------------------------------- play --- */

/* Sets the flag of the claim that a word names; false for any other word, and for
 * one that comes twice. */
static bool read_claim_rule(const cJSON *item, nh_play_rules *play) {
    const char *word = cJSON_IsString(item) ? item->valuestring : "";
    bool *claim = strcmp(word, "pung") == 0     ? &play->pung
                  : strcmp(word, "kong") == 0   ? &play->kong
                  : strcmp(word, "quint") == 0  ? &play->quint
                  : strcmp(word, "sextet") == 0 ? &play->sextet
                  : strcmp(word, "chow") == 0   ? &play->chow
                                                : NULL;
    if (claim == NULL || *claim)
        return false;
    *claim = true;
    return true;
}

static void read_claims(struct json_reader *reader, const cJSON *object, nh_play_rules *play) {
    const cJSON *array = json_member(object, "claims");
    if (array == NULL)
        return;
    bool good = cJSON_IsArray(array);
    play->pung = play->kong = play->quint = play->sextet = false;
    for (const cJSON *item = json_first(array); item != NULL; item = item->next)
        good &= read_claim_rule(item, play);
    if (good)
        return;
    reader_enter_key(reader, "claims");
    reader_complain(reader, "\"claims\" must be an array of some of \"pung\", \"kong\", \"quint\", "
                            "\"sextet\" and \"chow\"");
    reader_leave(reader);
}

static void read_chow_from(struct json_reader *reader, const cJSON *object, nh_play_rules *play) {
    const cJSON *item = json_member(object, "chow_from");
    const char *word = cJSON_IsString(item) ? item->valuestring : "";
    play->chow_from_any = strcmp(word, "any") == 0;
    if (item == NULL || play->chow_from_any || strcmp(word, "left") == 0)
        return;
    reader_enter_key(reader, "chow_from");
    reader_complain(reader, "\"chow_from\" must be \"left\" or \"any\"");
    reader_leave(reader);
}

void draft_read_play(struct json_reader *reader, const cJSON *root, nh_play_rules *play) {
    static const char *const keys[] = {"claims", "chow_from", "exchange", NULL};
    const cJSON *object = json_member(root, "play");
    *play = (nh_play_rules){.pung = true, .kong = true, .quint = true, .sextet = true};
    if (object == NULL)
        return;
    reader_enter_key(reader, "play");
    if (cJSON_IsObject(object)) {
        reader_check_keys(reader, object, keys);
        read_claims(reader, object, play);
        read_chow_from(reader, object, play);
        play->exchange = reader_flag(reader, object, "exchange", false);
    } else {
        reader_complain(reader, "\"play\" must be an object");
    }
    reader_leave(reader);
}
