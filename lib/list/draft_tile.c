/* Which tile, and of which suit: the words beside a shape. */
#include "list/draft_tile.h"

#include <string.h>

static const struct {
    const char *word;
    uint8_t type, value;
} tile_words[] = {
    {"east", ATOM_KIND, NH_EAST},         {"south", ATOM_KIND, NH_SOUTH},
    {"west", ATOM_KIND, NH_WEST},         {"north", ATOM_KIND, NH_NORTH},
    {"red", ATOM_KIND, NH_RED},           {"green", ATOM_KIND, NH_GREEN},
    {"white", ATOM_KIND, NH_WHITE},       {"flower", ATOM_KIND, NH_FLOWER},
    {"wind", ATOM_CLASS, CLASS_WIND},     {"dragon", ATOM_CLASS, CLASS_DRAGON},
    {"honour", ATOM_CLASS, CLASS_HONOUR}, {"terminal", ATOM_CLASS, CLASS_TERMINAL},
    {"orphan", ATOM_CLASS, CLASS_ORPHAN}, {"simple", ATOM_CLASS, CLASS_SIMPLE},
    {"suited", ATOM_CLASS, CLASS_SUITED}, {"any", ATOM_CLASS, CLASS_ANY},
    {"prevailing", ATOM_PREVAILING, 0},   {"seat", ATOM_SEAT, 0},
};

static bool is_number(const char *text, int *value) {
    size_t length = strlen(text);
    if (length == 0 || length > 2)
        return false;
    *value = 0;
    for (size_t i = 0; i < length; i++) {
        if (text[i] < '0' || text[i] > '9')
            return false;
        *value = *value * 10 + (text[i] - '0');
    }
    return true;
}

/* "n", "n+1", "n-2" or "10-n". */
static bool read_expression(const char *text, struct atom *atom) {
    int number = 0;
    atom->type = ATOM_LETTER;
    if (is_letter(text[0])) {
        atom->letter = (uint8_t)(text[0] - 'a');
        atom->sign = 1;
        if (text[1] == '\0')
            return true;
        if ((text[1] != '+' && text[1] != '-') || !is_number(text + 2, &number))
            return false;
        atom->offset = (int8_t)(text[1] == '+' ? number : -number);
        return true;
    }
    char digits[3] = {0};
    const char *minus = strchr(text, '-');
    if (minus == NULL || minus - text > 2 || !is_letter(minus[1]) || minus[2] != '\0')
        return false;
    memcpy(digits, text, (size_t)(minus - text));
    if (!is_number(digits, &number))
        return false;
    atom->letter = (uint8_t)(minus[1] - 'a');
    atom->sign = -1;
    atom->offset = (int8_t)number;
    return true;
}

static bool read_atom(struct json_reader *reader, const cJSON *item, struct atom *atom) {
    *atom = (struct atom){0};
    if (json_is_whole(item, 1, 9)) {
        atom->type = ATOM_RANK;
        atom->offset = (int8_t)item->valuedouble;
        return true;
    }
    if (cJSON_IsNumber(item)) {
        reader_complain(reader, "a rank must be a whole number from 1 to 9");
        return false;
    }
    if (!cJSON_IsString(item)) {
        reader_complain(reader,
                        "which tile: a rank, a letter such as \"n\" or \"n+1\", an honour or a "
                        "class of tiles is expected here");
        return false;
    }
    const char *text = item->valuestring;
    for (size_t i = 0; i < sizeof tile_words / sizeof *tile_words; i++) {
        if (strcmp(text, tile_words[i].word) == 0) {
            atom->type = tile_words[i].type;
            atom->value = tile_words[i].value;
            return true;
        }
    }
    if (read_expression(text, atom))
        return true;
    reader_complain(reader,
                    "\"%.60s\" is not a tile: a rank from 1 to 9, a letter such as \"n\" or "
                    "\"n+1\", an honour or a class is expected",
                    text);
    return false;
}

bool draft_read_tiles(struct json_reader *reader, const cJSON *item, struct draft_group *group) {
    int count = cJSON_IsArray(item) ? cJSON_GetArraySize(item) : 1;
    if (count == 0 || count > (int)NH_ALTERNATIVES_MAX) {
        reader_complain(reader, "an array of alternatives must hold 1 to %u tiles",
                        NH_ALTERNATIVES_MAX);
        return false;
    }
    group->atoms = reader_new(reader, (size_t)count, sizeof *group->atoms);
    if (group->atoms == NULL)
        return false;
    const cJSON *one = cJSON_IsArray(item) ? item->child : item;
    for (int i = 0; i < count; i++, one = one->next) {
        if (cJSON_IsArray(item))
            reader_enter_item(reader, i);
        bool good = read_atom(reader, one, &group->atoms[i]);
        if (cJSON_IsArray(item))
            reader_leave(reader);
        if (!good)
            return false;
    }
    group->atom_count = (size_t)count;
    return true;
}

bool draft_suit_part(const char *word, uint8_t *part) {
    static const char *const suits[] = {"bam", "crak", "dot"};
    for (uint8_t i = 0; i < SUITS; i++) {
        if (strcmp(word, suits[i]) == 0) {
            *part = i;
            return true;
        }
    }
    return false;
}

void draft_read_suit(struct json_reader *reader, const cJSON *object, struct draft_group *group) {
    const cJSON *item = json_member(object, "suit");
    if (item == NULL)
        return;
    const char *word = cJSON_IsString(item) ? item->valuestring : "";
    if (draft_suit_part(word, &group->suit)) {
        group->suit_type = SUIT_GIVEN;
    } else if (strcmp(word, "any") == 0) {
        group->suit_type = SUIT_ANY;
    } else if (is_letter(word[0]) && word[1] == '\0') {
        group->suit_type = SUIT_LETTER;
        group->suit = (uint8_t)(word[0] - 'a');
        group->suit_letters |= 1u << group->suit;
    } else {
        group->suit_type = SUIT_ANY; /* one message is enough */
        reader_enter_key(reader, "suit");
        reader_complain(reader,
                        "\"suit\" must be \"bam\", \"crak\", \"dot\", \"any\" or a lower-case "
                        "letter");
        reader_leave(reader);
    }
}
