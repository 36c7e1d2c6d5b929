/* Warnings of groups that are allowed and yet seldom meant. */
#include "list/group_warnings.h"
#include "list/tile_text.h"

#include <stdio.h>

/* ---------------------------------------------------- classes of chows --- */

/* The first ranks of the runs that hold no 1 and no 9. */
static void write_simple_starts(int length, char ranks[32]) {
    size_t at = 0;
    ranks[0] = '\0';
    for (int rank = 2; rank + length <= PART_KINDS; rank++)
        at += (size_t)snprintf(ranks + at, 32 - at, rank == 2 ? "%d" : ", %d", rank);
}

void group_warn_class_of_run(struct json_reader *reader, const struct draft_group *group) {
    char ranks[32];
    const char *name = group->shape == SHAPE_CHOW ? "chow" : "run";
    if (group->shape != SHAPE_CHOW && group->shape != SHAPE_RUN)
        return;
    for (size_t i = 0; i < group->atom_count; i++) {
        const struct atom *atom = &group->atoms[i];
        write_simple_starts(group->length, ranks);
        if (atom->type != ATOM_CLASS)
            continue;
        if (atom->value == CLASS_SIMPLE)
            reader_warn(reader, "chow-class",
                        "only the first tile of the %s has to be a simple, so it may end with a 9; "
                        "for simples only list the first ranks: [%s]",
                        name, ranks);
        else if (atom->value == CLASS_TERMINAL || atom->value == CLASS_ORPHAN)
            reader_warn(reader, "chow-class",
                        "only the first tile of the %s has to be a 1 or 9, so it begins with a 1; "
                        "to let it end with a 9 as well write [1, %d]",
                        name, PART_KINDS + 1 - group->length);
    }
}

/* -------------------------------------------------------- suit letters --- */

static bool warn_in_groups(struct json_reader *reader, const cJSON *json,
                           const struct draft_groups *groups, int letter);

/* Warns in the group, which has the letter, or in its first alternative with it. */
static void warn_in_group(struct json_reader *reader, const cJSON *json,
                          const struct draft_group *group, int letter) {
    if (group->shape != SHAPE_ONE_OF) {
        const char *suit = suit_word(letter - 1);
        reader_enter_key(reader, "suit");
        reader_warn(
            reader, "suit-letter",
            "\"suit\": \"%c\" means any one suit: write \"%s\" for %ss, or a letter such as \"x\" "
            "for any one suit",
            suit[0], suit, suit);
        reader_leave(reader);
        return;
    }
    const cJSON *one = json_member(json, "one_of")->child;
    bool warned = false;
    reader_enter_key(reader, "one_of");
    for (size_t i = 0; !warned; i++, one = one->next) { /* some alternative has the letter */
        reader_enter_item(reader, (int)i);
        warned = warn_in_groups(reader, one, &group->alternatives[i], letter);
        reader_leave(reader);
    }
    reader_leave(reader);
}

/* Warns at the first group with the letter; whether there was one. `json` is the
 * array of the groups, or the only one of them. */
static bool warn_in_groups(struct json_reader *reader, const cJSON *json,
                           const struct draft_groups *groups, int letter) {
    bool array = cJSON_IsArray(json);
    const cJSON *item = array ? json->child : json;
    for (size_t g = 0; g < groups->count; g++, item = item->next) {
        if (!(groups->items[g].suit_letters >> letter & 1u))
            continue;
        if (array)
            reader_enter_item(reader, (int)g);
        warn_in_group(reader, item, &groups->items[g], letter);
        if (array)
            reader_leave(reader);
        return true;
    }
    return false;
}

/* The letters b, c and d are 1, 2 and 3, and those of the suits. Where "a" is a
 * suit as well, the writer counts letters from the first. */
void groups_warn_suit_letters(struct json_reader *reader, const cJSON *array,
                              const struct draft_groups *groups) {
    uint32_t letters = 0;
    for (size_t g = 0; g < groups->count; g++)
        letters |= groups->items[g].suit_letters;
    for (int letter = 1; letter <= SUITS && !(letters & 1u); letter++)
        warn_in_groups(reader, array, groups, letter);
}
