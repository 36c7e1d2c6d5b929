/* What the letters of a pattern or a variant stand for: "ranks" has ranges of
 * ranks, "letters" any ranks, any honours or a class of honours. */
#include "list/draft_letters.h"
#include "list/tile_text.h"

void draft_letters_any(struct draft_letter letters[LETTERS]) {
    for (int letter = 0; letter < LETTERS; letter++)
        letters[letter] = (struct draft_letter){ALL_RANKS, false};
}

/* ---------------------------------------------------------- one range --- */

/* [least, most] */
static bool read_range(struct json_reader *reader, const cJSON *item, struct draft_letter *letter) {
    const cJSON *least = json_first(item), *most = least != NULL ? least->next : NULL;
    if (most == NULL || json_count(item) != 2 || !json_is_whole(least, 1, 9) ||
        !json_is_whole(most, 1, 9) || least->valuedouble > most->valuedouble) {
        reader_complain(reader, "the range of \"%s\" must be [least, most], ranks from 1 to 9",
                        item->string);
        return false;
    }
    unsigned below = (1u << ((int)least->valuedouble - 1)) - 1u;
    unsigned up_to = (1u << (int)most->valuedouble) - 1u;
    *letter = (struct draft_letter){(uint16_t)(up_to & ~below), false};
    return true;
}

/* "wind", "dragon" or "honour". */
static bool read_class(const char *word, struct draft_letter *letter) {
    enum { WINDS = 0xF, DRAGONS = 0x70 };
    int class = class_of_word(word);
    letter->honours = true;
    letter->values = class == CLASS_WIND     ? WINDS
                     : class == CLASS_DRAGON ? DRAGONS
                     : class == CLASS_HONOUR ? ALL_HONOURS
                                             : 0;
    return letter->values != 0;
}

/* An array of ranks, or one of honours. */
static bool read_values(const cJSON *array, struct draft_letter *letter) {
    *letter = (struct draft_letter){0, cJSON_IsString(json_first(array))};
    for (const cJSON *item = json_first(array); item != NULL; item = item->next) {
        int kind = letter->honours && cJSON_IsString(item) ? honour_of_word(item->valuestring) : -1;
        if (kind >= NH_EAST)
            letter->values |= (uint16_t)(1u << (kind - NH_EAST));
        else if (!letter->honours && json_is_whole(item, 1, 9))
            letter->values |= (uint16_t)(1u << ((int)item->valuedouble - 1));
        else
            return false;
    }
    return letter->values != 0;
}

static bool read_letter_values(struct json_reader *reader, const cJSON *item,
                               struct draft_letter *letter) {
    struct draft_letter read;
    bool good =
        cJSON_IsString(item) ? read_class(item->valuestring, &read) : read_values(item, &read);
    if (good)
        *letter = read;
    else
        reader_complain(reader,
                        "\"%s\" must stand for an array of ranks or of winds and dragons, or for "
                        "\"wind\", \"dragon\" or \"honour\"",
                        item->string);
    return good;
}

/* ------------------------------------------------------------- objects --- */

/* Reads the member at the path, which gives the letter that is its key a range. */
static void read_member(struct json_reader *reader, const cJSON *item, bool ranks, uint32_t *named,
                        struct draft_letter letters[LETTERS]) {
    const char *name = item->string;
    if (!is_letter(name[0]) || name[1] != '\0') {
        reader_complain(reader, "\"%s\" names a letter for each range, not \"%.60s\"",
                        ranks ? "ranks" : "letters", name);
        return;
    }
    struct draft_letter *letter = &letters[name[0] - 'a'];
    uint32_t bit = 1u << (name[0] - 'a');
    if (!(ranks ? read_range(reader, item, letter) : read_letter_values(reader, item, letter)))
        return;
    if (*named & bit)
        reader_complain(reader, "duplicate key \"%s\": the letter has a range already", name);
    *named |= bit;
}

/* Reads "ranks" or "letters"; `named` has the letters with a range. */
static void read_letters_object(struct json_reader *reader, const cJSON *object, bool ranks,
                                uint32_t *named, struct draft_letter letters[LETTERS]) {
    const char *key = ranks ? "ranks" : "letters";
    const cJSON *ranges = json_member(object, key);
    if (ranges == NULL)
        return;
    reader_enter_key(reader, key);
    if (!cJSON_IsObject(ranges))
        reader_complain(reader, "\"%s\" must be an object such as {\"n\": %s}", key,
                        ranks ? "[1, 7]" : "[1, 3, 5]");
    const cJSON *item = cJSON_IsObject(ranges) ? ranges->child : NULL;
    for (; item != NULL; item = item->next) {
        reader_enter_key(reader, item->string);
        read_member(reader, item, ranks, named, letters);
        reader_leave(reader);
    }
    reader_leave(reader);
}

void draft_read_letters(struct json_reader *reader, const cJSON *object,
                        struct draft_letter letters[LETTERS]) {
    uint32_t named = 0;
    read_letters_object(reader, object, true, &named, letters);
    read_letters_object(reader, object, false, &named, letters);
}

static void check_object(struct json_reader *reader, const cJSON *object, const char *key,
                         uint32_t used) {
    const cJSON *ranges = json_member(object, key);
    const cJSON *item = cJSON_IsObject(ranges) ? ranges->child : NULL;
    reader_enter_key(reader, key);
    for (; item != NULL; item = item->next) {
        bool letter = is_letter(item->string[0]) && item->string[1] == '\0';
        if (!letter || used >> (item->string[0] - 'a') & 1u)
            continue;
        reader_enter_key(reader, item->string);
        reader_complain(reader,
                        "\"%s\" gives a range to \"%s\", but the letter is never bound: no group "
                        "uses it",
                        key, item->string);
        reader_leave(reader);
    }
    reader_leave(reader);
}

void draft_check_letters(struct json_reader *reader, const cJSON *object, uint32_t used) {
    check_object(reader, object, "ranks", used);
    check_object(reader, object, "letters", used);
}
