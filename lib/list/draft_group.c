/* Groups of tiles: one shape key with what stands beside it. */
#include "list/draft_group.h"
#include "list/draft_tile.h"
#include "list/group_warnings.h"

#include <string.h>

static const char *const shape_words[] = {"",       "single", "pair", "pung", "kong",  "quint",
                                          "sextet", "chow",   "run",  "set",  "one_of"};
#define SHAPES (sizeof shape_words / sizeof *shape_words)

static const char *const group_keys[] = {"single", "pair",  "pung",     "kong",   "quint",
                                         "sextet", "chow",  "run",      "set",    "one_of",
                                         "suit",   "times", "distinct", "length", NULL};

static void note_letters(struct draft_group *group) {
    for (size_t i = 0; i < group->atom_count; i++) {
        const struct atom *atom = &group->atoms[i];
        if (atom->type == ATOM_LETTER || atom->type == ATOM_HONOUR_LETTER)
            group->tile_letters |= 1u << atom->letter;
        if (atom->other_sign != 0)
            group->tile_letters |= 1u << atom->other;
        group->uses_prevailing |= atom->type == ATOM_PREVAILING;
        group->uses_seat |= atom->type == ATOM_SEAT;
    }
}

static bool is_suitless(const struct atom *atom) {
    bool class_without_suit =
        atom->type == ATOM_CLASS && (atom->value == CLASS_WIND || atom->value == CLASS_HONOUR);
    return atom->type == ATOM_KIND || atom->type == ATOM_HONOUR_LETTER ||
           atom->type == ATOM_PREVAILING || atom->type == ATOM_SEAT || class_without_suit;
}

/* What the shape, the tile and the suit ask of one another. */
static void check_tile_and_suit(struct json_reader *reader, const struct draft_group *group) {
    bool ranked = false, suitless = true;
    for (size_t i = 0; i < group->atom_count; i++) {
        const struct atom *atom = &group->atoms[i];
        ranked |= atom->type == ATOM_RANK || atom->type == ATOM_LETTER;
        suitless &= is_suitless(atom);
    }
    if (ranked && group->suit_type == SUIT_NONE)
        reader_complain(reader, "a rank without a suit: add \"suit\"");
    if (suitless && (group->suit_type == SUIT_GIVEN || group->suit_type == SUIT_LETTER))
        reader_complain(reader, "winds, honours and flowers have no suit: take \"suit\" away");
    bool honours = suitless;
    if (group->atom_count == 1 && group->atoms[0].type == ATOM_CLASS)
        honours |= group->atoms[0].value == CLASS_DRAGON;
    if (honours && (group->shape == SHAPE_CHOW || group->shape == SHAPE_RUN))
        reader_complain(reader, "a %s has ranks of one suit: it cannot be of honours or flowers",
                        shape_words[group->shape]);
}

/* What holds for the groups of a variant, and how deep in one_of they stand. */
struct group_scope {
    const struct draft_letter *letters;
    int nesting;
};

static bool read_groups(struct json_reader *reader, const cJSON *array,
                        const struct group_scope *scope, struct draft_groups *groups);
static bool read_group(struct json_reader *reader, const cJSON *object,
                       const struct group_scope *scope, struct draft_group *group);

/* An alternative is a group or an array of groups. */
static bool read_alternative(struct json_reader *reader, const cJSON *item,
                             const struct group_scope *scope, struct draft_groups *groups) {
    if (cJSON_IsArray(item))
        return read_groups(reader, item, scope, groups);
    groups->items = reader_new(reader, 1, sizeof *groups->items);
    if (groups->items == NULL)
        return false;
    groups->count = 1;
    return read_group(reader, item, scope, groups->items);
}

static bool read_alternatives(struct json_reader *reader, const cJSON *array,
                              const struct group_scope *scope, struct draft_group *group) {
    int count = json_count(array);
    if (count == 0 || count > (int)NH_ALTERNATIVES_MAX) {
        reader_complain(reader, "\"one_of\" must be an array of 1 to %u alternatives",
                        NH_ALTERNATIVES_MAX);
        return false;
    }
    if (scope->nesting == (int)NH_NESTING_MAX) {
        reader_complain(reader, "\"one_of\" is nested more than %u deep", NH_NESTING_MAX);
        return false;
    }
    group->alternatives = reader_new(reader, (size_t)count, sizeof *group->alternatives);
    if (group->alternatives == NULL)
        return false;
    group->alternative_count = (size_t)count;
    struct group_scope inner = {scope->letters, scope->nesting + 1};
    bool good = true;
    const cJSON *item = array->child;
    for (int i = 0; i < count; i++, item = item->next) {
        reader_enter_item(reader, i);
        struct draft_groups *alternative = &group->alternatives[i];
        good &= read_alternative(reader, item, &inner, alternative);
        reader_leave(reader);
        for (size_t g = 0; g < alternative->count; g++) {
            group->tile_letters |= alternative->items[g].tile_letters;
            group->suit_letters |= alternative->items[g].suit_letters;
            group->uses_prevailing |= alternative->items[g].uses_prevailing;
            group->uses_seat |= alternative->items[g].uses_seat;
        }
    }
    return good;
}

/* The one shape key of a group; SHAPE_NONE after a mistake. */
static uint8_t find_shape(struct json_reader *reader, const cJSON *object) {
    uint8_t found = SHAPE_NONE;
    for (uint8_t shape = SHAPE_SINGLE; shape < SHAPES; shape++) {
        if (json_member(object, shape_words[shape]) == NULL)
            continue;
        if (found != SHAPE_NONE) {
            reader_complain(reader, "two shapes in one group: \"%s\" and \"%s\"",
                            shape_words[found], shape_words[shape]);
            return SHAPE_NONE;
        }
        found = shape;
    }
    if (found == SHAPE_NONE)
        reader_complain(reader,
                        "a group needs a shape: single, pair, pung, kong, quint, sextet, chow, "
                        "run, set or one_of");
    return found;
}

static void read_length(struct json_reader *reader, const cJSON *object,
                        struct draft_group *group) {
    bool given = json_member(object, "length") != NULL;
    if (group->shape == SHAPE_CHOW)
        group->length = 3;
    if (group->shape == SHAPE_RUN) {
        if (!given)
            reader_complain(reader, "a run needs its \"length\", 2 to 9");
        group->length = (uint8_t)reader_whole(reader, object, "length", 2, 9, 2);
    } else if (given) {
        reader_complain(reader, "only a run has a \"length\"");
    }
}

static bool read_group(struct json_reader *reader, const cJSON *object,
                       const struct group_scope *scope, struct draft_group *group) {
    if (!cJSON_IsObject(object)) {
        reader_complain(reader,
                        "a group is expected here: an object such as {\"pung\": 3, \"suit\": "
                        "\"bam\"}");
        return false;
    }
    size_t before = reader->mistakes->errors;
    reader_check_keys(reader, object, group_keys);
    group->shape = find_shape(reader, object);
    group->times = (uint8_t)reader_whole(reader, object, "times", 1, (int)NH_TIMES_MAX, 1);
    group->distinct = reader_flag(reader, object, "distinct", false);
    if (group->shape == SHAPE_NONE)
        return false;
    read_length(reader, object, group);
    draft_read_suit(reader, object, group);
    const char *key = shape_words[group->shape];
    reader_enter_key(reader, key);
    bool good;
    if (group->shape == SHAPE_ONE_OF) {
        good = read_alternatives(reader, json_member(object, key), scope, group);
        if (group->suit_type != SUIT_NONE)
            reader_complain(reader, "\"one_of\" takes no suit: its alternatives have their own");
    } else {
        good = draft_read_tiles(reader, json_member(object, key), scope->letters, group);
    }
    reader_leave(reader);
    if (good && group->shape != SHAPE_ONE_OF) {
        note_letters(group);
        check_tile_and_suit(reader, group);
        group_warn_class_of_run(reader, group);
    }
    return good && reader->mistakes->errors == before;
}

static bool read_groups(struct json_reader *reader, const cJSON *array,
                        const struct group_scope *scope, struct draft_groups *groups) {
    int count = json_count(array);
    if (count == 0 || count > (int)NH_GROUPS_MAX) {
        reader_complain(reader, "an array of 1 to %u groups is expected here", NH_GROUPS_MAX);
        return false;
    }
    groups->items = reader_new(reader, (size_t)count, sizeof *groups->items);
    if (groups->items == NULL)
        return false;
    groups->count = (size_t)count;
    bool good = true;
    const cJSON *item = array->child;
    for (int i = 0; i < count; i++, item = item->next) {
        reader_enter_item(reader, i);
        good &= read_group(reader, item, scope, &groups->items[i]);
        reader_leave(reader);
    }
    return good;
}

bool draft_read_groups(struct json_reader *reader, const cJSON *array,
                       const struct draft_letter *letters, struct draft_groups *groups) {
    struct group_scope scope = {letters, 0};
    return read_groups(reader, array, &scope, groups);
}
