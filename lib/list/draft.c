/* A pattern list is read from JSON into a draft: every key, type and word is
 * checked here, and every mistake is noted with its pattern, group and line.
 * What the draft means is worked out later. */
#include "list/draft.h"
#include "list/json_place.h"

#include <cjson/cJSON.h>
#include <pthread.h>
#include <stdio.h>
#include <string.h>

#define STEPS_MAX 64
#define MESSAGE_SIZE 1024

struct list_reader {
    const char *json;
    size_t length;
    struct arena *arena;
    nh_mistakes *mistakes;
    struct draft *draft;
    struct step path[STEPS_MAX];
    int depth;
    int pattern;              /* index of the pattern being read, or -1 */
    const char *pattern_name; /* NULL until it is known */
    int nesting;              /* of one_of */
    bool memory_short;
};

/* ---------------------------------------------------------- mistakes --- */

static void push_key(struct list_reader *reader, const char *key) {
    if (reader->depth < STEPS_MAX)
        reader->path[reader->depth] = (struct step){key, 0};
    reader->depth++;
}

static void push_index(struct list_reader *reader, int index) {
    if (reader->depth < STEPS_MAX)
        reader->path[reader->depth] = (struct step){NULL, index};
    reader->depth++;
}

static void pop(struct list_reader *reader) {
    reader->depth--;
}

static size_t append(char *text, size_t size, size_t at, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

static size_t append(char *text, size_t size, size_t at, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(text + at, size - at, format, arguments);
    va_end(arguments);
    if (length < 0)
        return at;
    at += (size_t)length;
    return at < size ? at : size - 1;
}

/* "pattern "Ebb", variant 2, group 1, alternative 3: " from the path. */
static size_t write_place(const struct list_reader *reader, char *text, size_t size) {
    size_t at = 0;
    if (reader->pattern < 0)
        return 0;
    if (reader->pattern_name != NULL)
        at = append(text, size, at, "pattern \"%s\"", reader->pattern_name);
    else
        at = append(text, size, at, "pattern %d", reader->pattern + 1);
    const char *next = "group";
    for (int i = 2; i < reader->depth && i < STEPS_MAX; i++) {
        const struct step *step = &reader->path[i];
        if (step->key != NULL) {
            bool inside = strcmp(step->key, "variants") == 0 || strcmp(step->key, "groups") == 0 ||
                          strcmp(step->key, "one_of") == 0;
            if (!inside)
                break;
            next = step->key[0] == 'v' ? "variant" : step->key[0] == 'o' ? "alternative" : "group";
        } else {
            at = append(text, size, at, ", %s %d", next, step->index + 1);
            next = "group";
        }
    }
    return append(text, size, at, ": ");
}

static void complain(struct list_reader *reader, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

static void complain(struct list_reader *reader, const char *format, ...) {
    char text[MESSAGE_SIZE];
    size_t at = write_place(reader, text, sizeof text);
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text + at, sizeof text - at, format, arguments);
    va_end(arguments);
    int depth = reader->depth < STEPS_MAX ? reader->depth : STEPS_MAX;
    struct place place =
        mistakes_place(reader->mistakes, reader->json, reader->length, reader->path, depth);
    mistakes_add(reader->mistakes, place.line, place.column,
                 reader->pattern >= 0 ? reader->pattern_name : NULL, text);
}

static void *take(struct list_reader *reader, size_t count, size_t size) {
    void *block = arena_new(reader->arena, count, size);
    if (block == NULL)
        reader->memory_short = true;
    return block;
}

/* ------------------------------------------------- values of one type --- */

static cJSON *member(const cJSON *object, const char *key) {
    return cJSON_GetObjectItemCaseSensitive(object, key);
}

/* The number of a word, or -1. */
static int number_of(const char *word, const char *const *words) {
    for (int i = 0; words[i] != NULL; i++)
        if (strcmp(word, words[i]) == 0)
            return i;
    return -1;
}

/* Unknown keys and keys that stand twice. */
static void check_keys(struct list_reader *reader, const cJSON *object, const char *const *keys) {
    uint32_t found = 0; /* keys, as bits */
    for (const cJSON *item = object->child; item != NULL; item = item->next) {
        int number = number_of(item->string, keys);
        push_key(reader, item->string);
        if (number < 0)
            complain(reader, "unknown key \"%.60s\"", item->string);
        else if (found >> number & 1u)
            complain(reader, "duplicate key \"%s\"", item->string);
        else
            found |= 1u << number;
        pop(reader);
    }
}

static bool whole_number(const cJSON *item, double least, double most) {
    return cJSON_IsNumber(item) && item->valuedouble >= least && item->valuedouble <= most &&
           item->valuedouble == (double)(int)item->valuedouble;
}

/* The whole number at `key`, or `absent` where it is missing or mistaken. */
static int read_whole(struct list_reader *reader, const cJSON *object, const char *key, int least,
                      int most, int absent) {
    const cJSON *item = member(object, key);
    if (item == NULL)
        return absent;
    if (whole_number(item, least, most))
        return (int)item->valuedouble;
    push_key(reader, key);
    if (least == most)
        complain(reader, "\"%s\" must be %d", key, least);
    else
        complain(reader, "\"%s\" must be a whole number from %d to %d", key, least, most);
    pop(reader);
    return absent;
}

static bool read_flag(struct list_reader *reader, const cJSON *object, const char *key,
                      bool absent) {
    const cJSON *item = member(object, key);
    if (item == NULL)
        return absent;
    if (cJSON_IsBool(item))
        return cJSON_IsTrue(item);
    push_key(reader, key);
    complain(reader, "\"%s\" must be true or false", key);
    pop(reader);
    return absent;
}

static const char *read_text(struct list_reader *reader, const cJSON *object, const char *key,
                             bool required) {
    const cJSON *item = member(object, key);
    if (item == NULL) {
        if (required)
            complain(reader, "\"%s\" is missing", key);
        return NULL;
    }
    const char *text = NULL;
    push_key(reader, key);
    if (!cJSON_IsString(item))
        complain(reader, "\"%s\" must be text", key);
    else if (strlen(item->valuestring) > NH_TEXT_MAX)
        complain(reader, "\"%s\" is longer than %u bytes", key, NH_TEXT_MAX);
    else if (required && item->valuestring[0] == '\0')
        complain(reader, "\"%s\" is empty", key);
    else if ((text = arena_text(reader->arena, item->valuestring)) == NULL)
        reader->memory_short = true;
    pop(reader);
    return text;
}

/* The kinds named by a text in hand notation. */
static bool read_kinds(struct list_reader *reader, const cJSON *item, const char *key,
                       nh_tiles *tiles) {
    nh_error error;
    if (!cJSON_IsString(item)) {
        complain(reader, "\"%s\" must be tiles in hand notation, such as \"23468B G\"", key);
        return false;
    }
    if (nh_tiles_parse(NULL, item->valuestring, strlen(item->valuestring), tiles, &error) !=
        NH_OK) {
        complain(reader, "\"%s\", character %u: %s", key, (unsigned)error.column, error.text);
        return false;
    }
    return true;
}

/* ------------------------------------------------------- which tile --- */

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

static bool is_letter(char c) {
    return c >= 'a' && c <= 'z';
}

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

static bool read_atom(struct list_reader *reader, const cJSON *item, struct atom *atom) {
    *atom = (struct atom){0};
    if (whole_number(item, 1, 9)) {
        atom->type = ATOM_RANK;
        atom->offset = (int8_t)item->valuedouble;
        return true;
    }
    if (cJSON_IsNumber(item)) {
        complain(reader, "a rank must be a whole number from 1 to 9");
        return false;
    }
    if (!cJSON_IsString(item)) {
        complain(reader, "which tile: a rank, a letter such as \"n\" or \"n+1\", an honour or a "
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
    complain(reader,
             "\"%.60s\" is not a tile: a rank from 1 to 9, a letter such as \"n\" or "
             "\"n+1\", an honour or a class is expected",
             text);
    return false;
}

static bool read_atoms(struct list_reader *reader, const cJSON *item, struct draft_group *group) {
    int count = cJSON_IsArray(item) ? cJSON_GetArraySize(item) : 1;
    if (count == 0 || count > (int)NH_ALTERNATIVES_MAX) {
        complain(reader, "an array of alternatives must hold 1 to %u tiles", NH_ALTERNATIVES_MAX);
        return false;
    }
    group->atoms = take(reader, (size_t)count, sizeof *group->atoms);
    if (group->atoms == NULL)
        return false;
    const cJSON *one = cJSON_IsArray(item) ? item->child : item;
    for (int i = 0; i < count; i++, one = one->next) {
        if (cJSON_IsArray(item))
            push_index(reader, i);
        bool good = read_atom(reader, one, &group->atoms[i]);
        if (cJSON_IsArray(item))
            pop(reader);
        if (!good)
            return false;
    }
    group->atom_count = (size_t)count;
    return true;
}

/* ------------------------------------------------------------- groups --- */

static const char *const shape_words[] = {"",       "single", "pair", "pung", "kong",  "quint",
                                          "sextet", "chow",   "run",  "set",  "one_of"};
#define SHAPES (sizeof shape_words / sizeof *shape_words)

static const char *const group_keys[] = {"single", "pair",  "pung",     "kong",   "quint",
                                         "sextet", "chow",  "run",      "set",    "one_of",
                                         "suit",   "times", "distinct", "length", NULL};

static bool read_suit_word(const char *word, uint8_t *part) {
    static const char *const suits[] = {"bam", "crak", "dot"};
    for (uint8_t i = 0; i < SUITS; i++) {
        if (strcmp(word, suits[i]) == 0) {
            *part = i;
            return true;
        }
    }
    return false;
}

static void read_suit(struct list_reader *reader, const cJSON *object, struct draft_group *group) {
    const cJSON *item = member(object, "suit");
    if (item == NULL)
        return;
    const char *word = cJSON_IsString(item) ? item->valuestring : "";
    if (read_suit_word(word, &group->suit)) {
        group->suit_type = SUIT_GIVEN;
    } else if (strcmp(word, "any") == 0) {
        group->suit_type = SUIT_ANY;
    } else if (is_letter(word[0]) && word[1] == '\0') {
        group->suit_type = SUIT_LETTER;
        group->suit = (uint8_t)(word[0] - 'a');
        group->suit_letters |= 1u << group->suit;
    } else {
        group->suit_type = SUIT_ANY; /* one message is enough */
        push_key(reader, "suit");
        complain(reader, "\"suit\" must be \"bam\", \"crak\", \"dot\", \"any\" or a lower-case "
                         "letter");
        pop(reader);
    }
}

static void note_letters(struct draft_group *group) {
    for (size_t i = 0; i < group->atom_count; i++) {
        const struct atom *atom = &group->atoms[i];
        if (atom->type == ATOM_LETTER)
            group->rank_letters |= 1u << atom->letter;
        group->uses_prevailing |= atom->type == ATOM_PREVAILING;
        group->uses_seat |= atom->type == ATOM_SEAT;
    }
}

static bool is_suitless(const struct atom *atom) {
    bool class_without_suit =
        atom->type == ATOM_CLASS && (atom->value == CLASS_WIND || atom->value == CLASS_HONOUR);
    return atom->type == ATOM_KIND || atom->type == ATOM_PREVAILING || atom->type == ATOM_SEAT ||
           class_without_suit;
}

/* What the shape, the tile and the suit ask of one another. */
static void check_tile_and_suit(struct list_reader *reader, const struct draft_group *group) {
    bool ranked = false, suitless = true;
    for (size_t i = 0; i < group->atom_count; i++) {
        const struct atom *atom = &group->atoms[i];
        ranked |= atom->type == ATOM_RANK || atom->type == ATOM_LETTER;
        suitless &= is_suitless(atom);
    }
    if (ranked && group->suit_type == SUIT_NONE)
        complain(reader, "a rank without a suit: add \"suit\"");
    if (suitless && (group->suit_type == SUIT_GIVEN || group->suit_type == SUIT_LETTER))
        complain(reader, "winds, honours and flowers have no suit: take \"suit\" away");
    bool honours = suitless;
    if (group->atom_count == 1 && group->atoms[0].type == ATOM_CLASS)
        honours |= group->atoms[0].value == CLASS_DRAGON;
    if (honours && (group->shape == SHAPE_CHOW || group->shape == SHAPE_RUN))
        complain(reader, "a %s has ranks of one suit: it cannot be of honours or flowers",
                 shape_words[group->shape]);
}

static bool read_groups(struct list_reader *reader, const cJSON *array,
                        struct draft_groups *groups);
static bool read_group(struct list_reader *reader, const cJSON *object, struct draft_group *group);

/* An alternative is a group or an array of groups. */
static bool read_alternative(struct list_reader *reader, const cJSON *item,
                             struct draft_groups *groups) {
    if (cJSON_IsArray(item))
        return read_groups(reader, item, groups);
    groups->items = take(reader, 1, sizeof *groups->items);
    if (groups->items == NULL)
        return false;
    groups->count = 1;
    return read_group(reader, item, groups->items);
}

static bool read_alternatives(struct list_reader *reader, const cJSON *array,
                              struct draft_group *group) {
    int count = cJSON_IsArray(array) ? cJSON_GetArraySize(array) : 0;
    if (count == 0 || count > (int)NH_ALTERNATIVES_MAX) {
        complain(reader, "\"one_of\" must be an array of 1 to %u alternatives",
                 NH_ALTERNATIVES_MAX);
        return false;
    }
    if (reader->nesting == (int)NH_NESTING_MAX) {
        complain(reader, "\"one_of\" is nested more than %u deep", NH_NESTING_MAX);
        return false;
    }
    group->alternatives = take(reader, (size_t)count, sizeof *group->alternatives);
    if (group->alternatives == NULL)
        return false;
    group->alternative_count = (size_t)count;
    reader->nesting++;
    bool good = true;
    const cJSON *item = array->child;
    for (int i = 0; i < count; i++, item = item->next) {
        push_index(reader, i);
        struct draft_groups *alternative = &group->alternatives[i];
        good &= read_alternative(reader, item, alternative);
        pop(reader);
        for (size_t g = 0; g < alternative->count; g++) {
            group->rank_letters |= alternative->items[g].rank_letters;
            group->suit_letters |= alternative->items[g].suit_letters;
            group->uses_prevailing |= alternative->items[g].uses_prevailing;
            group->uses_seat |= alternative->items[g].uses_seat;
        }
    }
    reader->nesting--;
    return good;
}

/* The one shape key of a group; SHAPE_NONE after a mistake. */
static uint8_t find_shape(struct list_reader *reader, const cJSON *object) {
    uint8_t found = SHAPE_NONE;
    for (uint8_t shape = SHAPE_SINGLE; shape < SHAPES; shape++) {
        if (member(object, shape_words[shape]) == NULL)
            continue;
        if (found != SHAPE_NONE) {
            complain(reader, "two shapes in one group: \"%s\" and \"%s\"", shape_words[found],
                     shape_words[shape]);
            return SHAPE_NONE;
        }
        found = shape;
    }
    if (found == SHAPE_NONE)
        complain(reader, "a group needs a shape: single, pair, pung, kong, quint, sextet, chow, "
                         "run, set or one_of");
    return found;
}

static void read_length(struct list_reader *reader, const cJSON *object,
                        struct draft_group *group) {
    bool given = member(object, "length") != NULL;
    if (group->shape == SHAPE_CHOW)
        group->length = 3;
    if (group->shape == SHAPE_RUN) {
        if (!given)
            complain(reader, "a run needs its \"length\", 2 to 9");
        group->length = (uint8_t)read_whole(reader, object, "length", 2, 9, 2);
    } else if (given) {
        complain(reader, "only a run has a \"length\"");
    }
}

static bool read_group(struct list_reader *reader, const cJSON *object, struct draft_group *group) {
    if (!cJSON_IsObject(object)) {
        complain(reader, "a group is expected here: an object such as {\"pung\": 3, \"suit\": "
                         "\"bam\"}");
        return false;
    }
    size_t before = reader->mistakes->count;
    check_keys(reader, object, group_keys);
    group->shape = find_shape(reader, object);
    group->times = (uint8_t)read_whole(reader, object, "times", 1, (int)NH_TIMES_MAX, 1);
    group->distinct = read_flag(reader, object, "distinct", false);
    if (group->shape == SHAPE_NONE)
        return false;
    read_length(reader, object, group);
    read_suit(reader, object, group);
    const char *key = shape_words[group->shape];
    push_key(reader, key);
    bool good;
    if (group->shape == SHAPE_ONE_OF) {
        good = read_alternatives(reader, member(object, key), group);
        if (group->suit_type != SUIT_NONE)
            complain(reader, "\"one_of\" takes no suit: its alternatives have their own");
    } else {
        good = read_atoms(reader, member(object, key), group);
    }
    pop(reader);
    if (good && group->shape != SHAPE_ONE_OF) {
        note_letters(group);
        check_tile_and_suit(reader, group);
    }
    return good && reader->mistakes->count == before;
}

static bool read_groups(struct list_reader *reader, const cJSON *array,
                        struct draft_groups *groups) {
    int count = cJSON_IsArray(array) ? cJSON_GetArraySize(array) : 0;
    if (count == 0 || count > (int)NH_GROUPS_MAX) {
        complain(reader, "an array of 1 to %u groups is expected here", NH_GROUPS_MAX);
        return false;
    }
    groups->items = take(reader, (size_t)count, sizeof *groups->items);
    if (groups->items == NULL)
        return false;
    groups->count = (size_t)count;
    bool good = true;
    const cJSON *item = array->child;
    for (int i = 0; i < count; i++, item = item->next) {
        push_index(reader, i);
        good &= read_group(reader, item, &groups->items[i]);
        pop(reader);
    }
    return good;
}

/* -------------------------------------------------------------- sizes --- */

/* Which (tiles, kongs) a choice of groups can come to. One more row than the
 * largest target stands for "larger still", without kongs: it fits no hand. */
#define SIZES (NH_TARGET_MAX + 2)
#define KONGS_MAX (NH_TARGET_MAX / 4) /* of a choice that is not larger still */
struct sizes {
    uint32_t kongs[SIZES]; /* bit k of kongs[s]: s tiles with k kongs */
};

static struct sizes add_sizes(const struct sizes *a, const struct sizes *b) {
    struct sizes sum = {{0}};
    for (int i = 0; i < SIZES; i++)
        for (int j = 0; j < SIZES && a->kongs[i] != 0; j++) {
            if (i + j > NH_TARGET_MAX)
                sum.kongs[SIZES - 1] |= b->kongs[j] != 0;
            for (int k = 0; k <= KONGS_MAX && i + j <= NH_TARGET_MAX; k++)
                if (b->kongs[j] >> k & 1u)
                    sum.kongs[i + j] |= a->kongs[i] << k;
        }
    return sum;
}

static struct sizes sizes_of_groups(const struct draft_groups *groups);

static struct sizes sizes_of_group(const struct draft_group *group) {
    struct sizes one = {{0}};
    if (group->shape == SHAPE_ONE_OF) {
        for (size_t i = 0; i < group->alternative_count; i++) {
            struct sizes sizes = sizes_of_groups(&group->alternatives[i]);
            for (int s = 0; s < SIZES; s++)
                one.kongs[s] |= sizes.kongs[s];
        }
    } else {
        int size = group->shape <= SHAPE_SEXTET ? group->shape
                   : group->shape == SHAPE_SET  ? 3
                                                : group->length;
        one.kongs[size] = group->shape == SHAPE_KONG ? 2u : 1u;
    }
    struct sizes sum = {{1u}};
    for (int i = 0; i < group->times; i++)
        sum = add_sizes(&sum, &one);
    return sum;
}

static struct sizes sizes_of_groups(const struct draft_groups *groups) {
    struct sizes sum = {{1u}};
    for (size_t i = 0; i < groups->count; i++) {
        struct sizes one = sizes_of_group(&groups->items[i]);
        sum = add_sizes(&sum, &one);
    }
    return sum;
}

bool draft_size_fits(const struct draft_groups *groups, int hand, int *largest, int *misfit) {
    struct sizes sizes = sizes_of_groups(groups);
    for (int size = 0; size < SIZES; size++) {
        uint32_t kongs = sizes.kongs[size];
        int beyond = size - hand;
        if (kongs == 0)
            continue;
        bool too_few_kongs = beyond > 0 && (kongs & ((1u << beyond) - 1u)) != 0;
        if (beyond < 0 || too_few_kongs) {
            *misfit = size;
            return false;
        }
        *largest = size > *largest ? size : *largest;
    }
    return true;
}

/* ----------------------------------------------------------- patterns --- */

static void read_suits_limit(struct list_reader *reader, const cJSON *limits,
                             struct draft_limits *out) {
    const cJSON *item = member(limits, "suits");
    if (item == NULL)
        return;
    const cJSON *most = item;
    if (cJSON_IsArray(item) && cJSON_GetArraySize(item) == 2) {
        item = item->child;
        most = item->next;
    }
    if (whole_number(item, 0, 3) && whole_number(most, 0, 3) &&
        item->valuedouble <= most->valuedouble) {
        out->suits_least = (uint8_t)item->valuedouble;
        out->suits_most = (uint8_t)most->valuedouble;
        return;
    }
    push_key(reader, "suits");
    complain(reader, "\"suits\" must be how many suits occur, 0 to 3, or [least, most]");
    pop(reader);
}

static void read_honours_limit(struct list_reader *reader, const cJSON *limits,
                               struct draft_limits *out) {
    static const char *const words[] = {"", "none", "some", "only"};
    const cJSON *item = member(limits, "honours");
    if (item == NULL)
        return;
    for (uint8_t i = HONOURS_NONE; i <= HONOURS_ONLY; i++)
        if (cJSON_IsString(item) && strcmp(item->valuestring, words[i]) == 0)
            out->honours = i;
    if (out->honours != HONOURS_FREE)
        return;
    push_key(reader, "honours");
    complain(reader, "\"honours\" must be \"none\", \"some\" or \"only\"");
    pop(reader);
}

static void read_ranks_limit(struct list_reader *reader, const cJSON *limits,
                             struct draft_limits *out) {
    const cJSON *item = member(limits, "ranks");
    if (item == NULL)
        return;
    push_key(reader, "ranks");
    bool allowed[PART_KINDS] = {false};
    bool good = cJSON_IsArray(item) && item->child != NULL;
    const cJSON *rank;
    cJSON_ArrayForEach(rank, item) {
        if (good && whole_number(rank, 1, 9))
            allowed[(int)rank->valuedouble - 1] = true;
        else
            good = false;
    }
    if (!good)
        complain(reader, "\"ranks\" must be an array of the ranks, 1 to 9, that may occur");
    for (int kind = 0; good && kind < SUITS * PART_KINDS; kind++)
        out->allowed[kind] &= allowed[kind % PART_KINDS];
    pop(reader);
}

static void read_tiles_limit(struct list_reader *reader, const cJSON *limits,
                             struct draft_limits *out) {
    const cJSON *item = member(limits, "tiles");
    nh_tiles tiles;
    if (item == NULL)
        return;
    push_key(reader, "tiles");
    if (read_kinds(reader, item, "tiles", &tiles)) {
        if (tiles.count[NH_JOKER] > 0)
            complain(reader, "\"tiles\" names the joker, which no pattern asks for");
        for (int kind = 0; kind < NH_KINDS; kind++)
            out->allowed[kind] &= tiles.count[kind] > 0;
    }
    pop(reader);
}

static void read_limits(struct list_reader *reader, const cJSON *object,
                        struct draft_pattern *pattern) {
    static const char *const keys[] = {"suits", "honours", "ranks", "tiles", NULL};
    struct draft_limits *limits = &pattern->limits;
    limits->suits_most = SUITS;
    memset(limits->allowed, true, sizeof limits->allowed);
    const cJSON *item = member(object, "limits");
    if (item == NULL)
        return;
    push_key(reader, "limits");
    if (cJSON_IsObject(item)) {
        check_keys(reader, item, keys);
        read_suits_limit(reader, item, limits);
        read_honours_limit(reader, item, limits);
        read_ranks_limit(reader, item, limits);
        read_tiles_limit(reader, item, limits);
    } else {
        complain(reader, "\"limits\" must be an object");
    }
    pop(reader);
}

/* `ranged` has the letters that have a range already. */
static void read_rank_range(struct list_reader *reader, const cJSON *item, uint32_t used,
                            uint32_t *ranged, struct draft_pattern *pattern) {
    const char *key = item->string;
    if (!is_letter(key[0]) || key[1] != '\0') {
        complain(reader, "\"ranks\" names a letter for each range, not \"%.60s\"", key);
        return;
    }
    int letter = key[0] - 'a';
    const cJSON *least = cJSON_GetArrayItem(item, 0), *most = cJSON_GetArrayItem(item, 1);
    if (!cJSON_IsArray(item) || cJSON_GetArraySize(item) != 2 || !whole_number(least, 1, 9) ||
        !whole_number(most, 1, 9) || least->valuedouble > most->valuedouble) {
        complain(reader, "the range of \"%s\" must be [least, most], ranks from 1 to 9", key);
        return;
    }
    if (*ranged >> letter & 1u)
        complain(reader, "duplicate key \"%s\"", key);
    *ranged |= 1u << letter;
    if (!(used >> letter & 1u))
        complain(reader,
                 "\"ranks\" gives a range to \"%s\", but the letter is never bound: no "
                 "group uses it",
                 key);
    pattern->rank_least[letter] = (uint8_t)least->valuedouble;
    pattern->rank_most[letter] = (uint8_t)most->valuedouble;
}

static void read_rank_ranges(struct list_reader *reader, const cJSON *object,
                             struct draft_pattern *pattern) {
    uint32_t used = 0;
    for (size_t v = 0; v < pattern->variant_count; v++)
        for (size_t g = 0; g < pattern->variants[v].count; g++)
            used |= pattern->variants[v].items[g].rank_letters;
    memset(pattern->rank_least, 1, sizeof pattern->rank_least);
    memset(pattern->rank_most, 9, sizeof pattern->rank_most);
    const cJSON *ranges = member(object, "ranks");
    if (ranges == NULL)
        return;
    push_key(reader, "ranks");
    if (!cJSON_IsObject(ranges))
        complain(reader, "\"ranks\" must be an object such as {\"n\": [1, 7]}");
    const cJSON *item;
    uint32_t ranged = 0;
    if (cJSON_IsObject(ranges)) {
        cJSON_ArrayForEach(item, ranges) {
            push_key(reader, item->string);
            read_rank_range(reader, item, used, &ranged, pattern);
            pop(reader);
        }
    }
    pop(reader);
}

static bool read_variants(struct list_reader *reader, const cJSON *object,
                          struct draft_pattern *pattern) {
    const cJSON *groups = member(object, "groups"), *variants = member(object, "variants");
    if ((groups == NULL) == (variants == NULL)) {
        complain(reader, groups == NULL ? "\"groups\" or \"variants\" is missing"
                                        : "\"groups\" and \"variants\" exclude each other");
        return false;
    }
    int count = variants == NULL ? 1 : cJSON_IsArray(variants) ? cJSON_GetArraySize(variants) : 0;
    if (count == 0 || count > (int)NH_VARIANTS_MAX) {
        complain(reader, "\"variants\" must be an array of 1 to %u arrays of groups",
                 NH_VARIANTS_MAX);
        return false;
    }
    pattern->variants = take(reader, (size_t)count, sizeof *pattern->variants);
    if (pattern->variants == NULL)
        return false;
    pattern->variant_count = (size_t)count;
    push_key(reader, variants == NULL ? "groups" : "variants");
    bool good = true;
    const cJSON *item = variants == NULL ? groups : variants->child;
    for (int i = 0; i < count; i++, item = item->next) {
        if (variants != NULL)
            push_index(reader, i);
        good &= read_groups(reader, item, &pattern->variants[i]);
        if (variants != NULL)
            pop(reader);
    }
    pop(reader);
    return good;
}

static void check_sizes(struct list_reader *reader, struct draft_pattern *pattern) {
    int hand = reader->draft->hand;
    for (size_t v = 0; v < pattern->variant_count; v++) {
        int largest = 0, misfit = 0;
        if (draft_size_fits(&pattern->variants[v], hand, &largest, &misfit))
            continue;
        char which[32] = "";
        if (pattern->variant_count > 1)
            snprintf(which, sizeof which, "variant %zu: ", v + 1);
        if (misfit > NH_TARGET_MAX)
            complain(reader, "%sthe size does not fit: more than %d tiles, and a hand has %d",
                     which, NH_TARGET_MAX, hand);
        else
            complain(reader,
                     "%sthe size does not fit: %d tiles, and a hand has %d, with one "
                     "more for "
                     "each kong",
                     which, misfit, hand);
    }
}

static void read_points(struct list_reader *reader, const cJSON *object, nh_pattern *about) {
    const cJSON *item = member(object, "points");
    if (item == NULL)
        return;
    about->has_points = cJSON_IsNumber(item) && item->valuedouble - item->valuedouble == 0;
    if (about->has_points) {
        about->points = item->valuedouble;
        return;
    }
    push_key(reader, "points");
    complain(reader, "\"points\" must be a number");
    pop(reader);
}

static void read_pattern(struct list_reader *reader, const cJSON *object,
                         struct draft_pattern *pattern) {
    static const char *const keys[] = {"name",   "section",   "ref",    "note",
                                       "points", "concealed", "groups", "variants",
                                       "ranks",  "limits",    NULL};
    if (!cJSON_IsObject(object)) {
        complain(reader, "a pattern must be an object");
        return;
    }
    const cJSON *name = member(object, "name");
    if (cJSON_IsString(name) && strlen(name->valuestring) <= NH_TEXT_MAX)
        reader->pattern_name = name->valuestring;
    size_t before = reader->mistakes->count;
    check_keys(reader, object, keys);
    nh_pattern *about = &pattern->about;
    about->name = read_text(reader, object, "name", true);
    about->section = read_text(reader, object, "section", false);
    about->ref = read_text(reader, object, "ref", false);
    about->note = read_text(reader, object, "note", false);
    about->concealed = read_flag(reader, object, "concealed", false);
    read_points(reader, object, about);
    read_limits(reader, object, pattern);
    bool good = read_variants(reader, object, pattern);
    if (good)
        read_rank_ranges(reader, object, pattern);
    if (good && reader->mistakes->count == before)
        check_sizes(reader, pattern);
}

static void check_names(struct list_reader *reader) {
    const struct draft *draft = reader->draft;
    for (size_t i = 0; i < draft->pattern_count; i++) {
        const char *name = draft->patterns[i].about.name;
        for (size_t j = 0; j < i && name != NULL; j++) {
            const char *earlier = draft->patterns[j].about.name;
            if (earlier == NULL || strcmp(name, earlier) != 0)
                continue;
            reader->pattern = (int)i;
            reader->pattern_name = name;
            push_key(reader, "patterns");
            push_index(reader, (int)i);
            push_key(reader, "name");
            complain(reader, "duplicate name: pattern %zu has it already", j + 1);
            reader->depth = 0;
            break;
        }
    }
    reader->pattern = -1;
    reader->pattern_name = NULL;
}

static void read_patterns(struct list_reader *reader, const cJSON *root) {
    const cJSON *array = member(root, "patterns");
    int count = cJSON_IsArray(array) ? cJSON_GetArraySize(array) : 0;
    if (array == NULL) {
        complain(reader, "\"patterns\" is missing");
        return;
    }
    push_key(reader, "patterns");
    if (count == 0 || count > (int)NH_PATTERNS_MAX) {
        complain(reader, "\"patterns\" must be an array of 1 to %u patterns", NH_PATTERNS_MAX);
        count = 0;
    }
    struct draft *draft = reader->draft;
    draft->patterns = take(reader, (size_t)count, sizeof *draft->patterns);
    const cJSON *item = count > 0 ? array->child : NULL;
    for (int i = 0; draft->patterns != NULL && i < count; i++, item = item->next) {
        push_index(reader, i);
        reader->pattern = i;
        reader->pattern_name = NULL;
        read_pattern(reader, item, &draft->patterns[i]);
        pop(reader);
        draft->pattern_count++;
    }
    pop(reader);
    reader->pattern = -1;
    check_names(reader);
}

/* --------------------------------------------------- tiles, charleston --- */

static void read_set_suits(struct list_reader *reader, const cJSON *tiles, bool *suits) {
    const cJSON *array = tiles == NULL ? NULL : member(tiles, "suits");
    for (int i = 0; i < SUITS; i++)
        suits[i] = array == NULL;
    if (array == NULL)
        return;
    push_key(reader, "suits");
    bool good = cJSON_IsArray(array);
    const cJSON *item;
    cJSON_ArrayForEach(item, array) {
        uint8_t part = 0;
        good = good && cJSON_IsString(item) && read_suit_word(item->valuestring, &part) &&
               !suits[part];
        if (good)
            suits[part] = true;
    }
    if (!good)
        complain(reader, "\"suits\" must be an array of some of \"bam\", \"crak\" and \"dot\"");
    pop(reader);
}

static void read_set(struct list_reader *reader, const cJSON *root) {
    static const char *const keys[] = {"flowers", "jokers", "suits", "winds", "dragons", NULL};
    const cJSON *tiles = member(root, "tiles");
    nh_tiles *set = &reader->draft->set;
    bool suits[SUITS];
    push_key(reader, "tiles");
    if (tiles != NULL && !cJSON_IsObject(tiles)) {
        complain(reader, "\"tiles\" must be an object");
        tiles = NULL;
    }
    if (tiles != NULL)
        check_keys(reader, tiles, keys);
    read_set_suits(reader, tiles, suits);
    bool winds = tiles == NULL || read_flag(reader, tiles, "winds", true);
    bool dragons = tiles == NULL || read_flag(reader, tiles, "dragons", true);
    for (int kind = 0; kind < NH_FLOWER; kind++) {
        bool in_set = kind < NH_EAST ? suits[kind / PART_KINDS] : kind < NH_RED ? winds : dragons;
        set->count[kind] = in_set ? COPIES : 0;
    }
    if (tiles != NULL) {
        set->count[NH_FLOWER] = (uint8_t)read_whole(reader, tiles, "flowers", 0, FLOWERS_MAX, 0);
        set->count[NH_JOKER] = (uint8_t)read_whole(reader, tiles, "jokers", 0, JOKERS_MAX, 0);
    }
    pop(reader);
}

static bool read_steps(const cJSON *round, nh_charleston *charleston) {
    static const char *const words[] = {"right", "across", "left"};
    uint8_t *steps = &charleston->steps[charleston->rounds];
    const cJSON *item;
    cJSON_ArrayForEach(item, round) {
        int direction = 0;
        while (direction < 3 &&
               (!cJSON_IsString(item) || strcmp(item->valuestring, words[direction]) != 0))
            direction++;
        if (direction == 3 || *steps == NH_CHARLESTON_STEPS_MAX)
            return false;
        charleston->direction[charleston->rounds][(*steps)++] = (uint8_t)direction;
    }
    charleston->rounds++;
    return *steps > 0;
}

static void read_rounds(struct list_reader *reader, const cJSON *object,
                        nh_charleston *charleston) {
    const cJSON *array = object == NULL ? NULL : member(object, "rounds");
    if (array == NULL) {
        static const uint8_t usual[] = {NH_RIGHT, NH_ACROSS, NH_LEFT};
        charleston->rounds = 1;
        charleston->steps[0] = sizeof usual;
        memcpy(charleston->direction[0], usual, sizeof usual);
        return;
    }
    push_key(reader, "rounds");
    bool good = cJSON_IsArray(array);
    const cJSON *round;
    cJSON_ArrayForEach(round, array) {
        good = good && cJSON_IsArray(round) && charleston->rounds < NH_CHARLESTON_ROUNDS_MAX &&
               read_steps(round, charleston);
    }
    if (!good)
        complain(reader,
                 "\"rounds\" must be an array of at most %u rounds, each an array "
                 "of at most %u "
                 "of \"right\", \"across\" and \"left\"",
                 NH_CHARLESTON_ROUNDS_MAX, NH_CHARLESTON_STEPS_MAX);
    pop(reader);
}

/* Kinds in hand notation, in one text or an array of texts. */
static void read_keep(struct list_reader *reader, const cJSON *object, nh_charleston *charleston) {
    const cJSON *item = member(object, "keep");
    if (item == NULL)
        return;
    push_key(reader, "keep");
    const cJSON *text = cJSON_IsArray(item) ? item->child : item;
    while (text != NULL) {
        nh_tiles tiles;
        if (!read_kinds(reader, text, "keep", &tiles))
            break;
        for (int kind = 0; kind < NH_KINDS; kind++)
            charleston->keep.count[kind] |= tiles.count[kind] > 0;
        text = cJSON_IsArray(item) ? text->next : NULL;
    }
    pop(reader);
}

static void read_charleston(struct list_reader *reader, const cJSON *root) {
    static const char *const keys[] = {"tiles", "rounds", "courtesy", "keep", NULL};
    nh_charleston *charleston = &reader->draft->charleston;
    const cJSON *object = member(root, "charleston");
    charleston->tiles = 3;
    charleston->keep.count[NH_JOKER] = 1;
    push_key(reader, "charleston");
    if (object != NULL && !cJSON_IsObject(object)) {
        complain(reader, "\"charleston\" must be an object");
        object = NULL;
    }
    read_rounds(reader, object, charleston);
    if (object != NULL) {
        check_keys(reader, object, keys);
        charleston->tiles = (uint8_t)read_whole(reader, object, "tiles", 1, reader->draft->hand, 3);
        charleston->courtesy =
            (uint8_t)read_whole(reader, object, "courtesy", 0, reader->draft->hand, 0);
        read_keep(reader, object, charleston);
    }
    pop(reader);
}

/* --------------------------------------------------------------- list --- */

static void read_list(struct list_reader *reader, const cJSON *root) {
    static const char *const keys[] = {"format", "title",      "edition",  "note", "hand",
                                       "tiles",  "charleston", "patterns", NULL};
    struct draft *draft = reader->draft;
    if (!cJSON_IsObject(root)) {
        complain(reader, "a list must be a JSON object");
        return;
    }
    check_keys(reader, root, keys);
    if (member(root, "format") == NULL)
        complain(reader, "\"format\" is missing: write \"format\": 1");
    read_whole(reader, root, "format", 1, 1, 1);
    draft->title = read_text(reader, root, "title", true);
    draft->edition = read_text(reader, root, "edition", false);
    draft->note = read_text(reader, root, "note", false);
    draft->hand = read_whole(reader, root, "hand", 2, NH_HAND_MAX, 14);
    read_set(reader, root);
    read_charleston(reader, root);
    if (nh_tiles_total(&draft->set) < draft->hand)
        complain(reader, "the set has fewer tiles than a hand");
    read_patterns(reader, root);
}

/* cJSON notes its last error in a variable of its own; the lock keeps loads in
 * several threads apart. */
static cJSON *parse(const char *json, size_t length, const char **end) {
    static pthread_mutex_t lock = PTHREAD_MUTEX_INITIALIZER;
    pthread_mutex_lock(&lock);
    cJSON *root = cJSON_ParseWithLengthOpts(json, length, end, 0);
    pthread_mutex_unlock(&lock);
    return root;
}

static void complain_at(struct list_reader *reader, size_t at, const char *text) {
    struct place place = locate_byte(reader->json, reader->length, at);
    mistakes_add(reader->mistakes, place.line, place.column, NULL, text);
}

/* Looks for what no JSON text may hold, or no C string: `*text` tells it. The
 * byte where it stands, or the length. */
static size_t find_broken(const char *json, size_t length, const char **text) {
    size_t at = 0;
    bool escaped = false;
    while (at < length) {
        uint32_t character;
        size_t bytes = tiles_decode(json + at, length - at, &character);
        *text = "the text is not valid UTF-8 here";
        if (bytes == 0)
            break;
        *text = "a control character cannot stand here";
        if (character < ' ' && strchr("\t\n\r", (int)character) == NULL)
            break;
        *text = "a zero character cannot stand in a text";
        if (character == 0 || (escaped && length - at >= 5 && memcmp(json + at, "u0000", 5) == 0))
            break;
        escaped = character == '\\' && !escaped;
        at += bytes;
    }
    return at;
}

static cJSON *parse_list(struct list_reader *reader) {
    const char *text = "";
    size_t broken = find_broken(reader->json, reader->length, &text);
    if (broken < reader->length) {
        complain_at(reader, broken, text);
        return NULL;
    }
    const char *end = reader->json;
    cJSON *root = parse(reader->json, reader->length, &end);
    size_t at = (size_t)(end - reader->json);
    if (root == NULL) {
        complain_at(reader, at,
                    "the JSON cannot be read here: look for a missing comma, quote or "
                    "bracket just before");
        return NULL;
    }
    while (at < reader->length && (unsigned char)reader->json[at] <= ' ')
        at++;
    if (at < reader->length) {
        complain_at(reader, at, "there is something behind the end of the list");
        cJSON_Delete(root);
        return NULL;
    }
    return root;
}

bool draft_read(const char *json, size_t length, struct arena *arena, struct draft *draft,
                nh_mistakes *mistakes) {
    struct list_reader reader = {.arena = arena, .mistakes = mistakes, .draft = draft};
    bool mark = length >= 3 && memcmp(json, "\xEF\xBB\xBF", 3) == 0;
    reader.json = mark ? json + 3 : json;
    reader.length = mark ? length - 3 : length;
    reader.pattern = -1;
    *draft = (struct draft){.json = reader.json, .length = reader.length, .hand = 14};
    if (reader.length > NH_LIST_BYTES_MAX) {
        mistakes_add(mistakes, 0, 0, NULL, "the list is larger than 4 MiB");
        return false;
    }
    cJSON *root = parse_list(&reader);
    if (root != NULL) {
        read_list(&reader, root);
        cJSON_Delete(root);
    }
    mistakes_sort(mistakes);
    return !reader.memory_short && !mistakes->memory_short && mistakes->count == 0;
}
