/* Which tile, and of which suit: the words beside a shape. */
#include "list/draft_tile.h"
#include "list/tile_text.h"
#include "list/word_hints.h"

#include <string.h>

/* A letter that ranges over honours stands for a tile, alone. */
static bool resolve_letters(struct json_reader *reader, const char *text,
                            const struct draft_letter *letters, struct atom *atom) {
    if (atom->type != ATOM_LETTER)
        return true;
    bool first = letters[atom->letter].honours;
    bool second = atom->other_sign != 0 && letters[atom->other].honours;
    if (!first && !second)
        return true;
    if (atom->sign == 1 && atom->other_sign == 0 && atom->offset == 0) {
        atom->type = ATOM_HONOUR_LETTER;
        return true;
    }
    reader_complain(reader, "\"%.60s\" counts with \"%c\", which stands for winds or dragons", text,
                    'a' + (first ? atom->letter : atom->other));
    return false;
}

static bool read_atom(struct json_reader *reader, const cJSON *item,
                      const struct draft_letter *letters, struct atom *atom) {
    if (json_is_whole(item, 1, 9)) {
        *atom = (struct atom){.type = ATOM_RANK, .offset = (int8_t)item->valuedouble};
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
    if (tile_text_read(item->valuestring, atom))
        return resolve_letters(reader, item->valuestring, letters, atom);
    char hint[HINT_SIZE];
    tile_hint(item->valuestring, hint);
    reader_complain(reader, "\"%.60s\" is not a tile: %s", item->valuestring,
                    hint[0] != '\0' ? hint
                                    : "a rank from 1 to 9, a letter such as \"n\" or \"n+1\", an "
                                      "honour or a class is expected");
    return false;
}

bool draft_read_tiles(struct json_reader *reader, const cJSON *item,
                      const struct draft_letter *letters, struct draft_group *group) {
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
        bool good = read_atom(reader, one, letters, &group->atoms[i]);
        if (cJSON_IsArray(item))
            reader_leave(reader);
        if (!good)
            return false;
    }
    group->atom_count = (size_t)count;
    return true;
}

void draft_read_suit(struct json_reader *reader, const cJSON *object, struct draft_group *group) {
    const cJSON *item = json_member(object, "suit");
    if (item == NULL)
        return;
    const char *word = cJSON_IsString(item) ? item->valuestring : "";
    if (suit_word_read(word, &group->suit)) {
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
        char hint[HINT_SIZE];
        suit_hint(word, hint);
        reader_complain(reader,
                        "\"suit\" must be \"bam\", \"crak\", \"dot\", \"any\" or a lower-case "
                        "letter%s%s",
                        hint[0] != '\0' ? ": " : "", hint);
        reader_leave(reader);
    }
}
