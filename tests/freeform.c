/* Free-form lists: groups are strung together until they fill a hand. Every random number
 * is drawn in a statement of its own. See freeform.h. */
#include "freeform.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define HAND 14
#define PATTERN_BYTES 8192

static const char *const suit_letters[] = {"x", "y", "z"};
static const char *const suits[] = {"bam", "crak", "dot"};
static const char *const honours[] = {"east", "south", "west", "north", "red", "green", "white"};
static const char *const shapes[] = {"single", "pair", "pung", "kong", "quint", "sextet"};

/* A pattern in the making. */
struct sketch {
    random_source *source;
    enum freeform_style style;
    bool jokers;
    char *text;
    size_t length;
    int letters, suit_letters; /* how many this pattern may use */
};

__attribute__((format(printf, 2, 3))) static void write_words(struct sketch *sketch,
                                                              const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    size_t room = PATTERN_BYTES - sketch->length;
    int length = vsnprintf(sketch->text + sketch->length, room, format, arguments);
    va_end(arguments);
    assert(length >= 0 && (size_t)length < room);
    sketch->length += (size_t)length;
}

static int below(struct sketch *sketch, int limit) {
    return random_below(sketch->source, limit);
}

static bool percent(struct sketch *sketch, int chance) {
    return random_percent(sketch->source, chance);
}

/* ------------------------------------------------------------ which tile --- */

static void write_suit(struct sketch *sketch) {
    int way = below(sketch, 100);
    if (way < 80)
        write_words(sketch, ",\"suit\":\"%s\"", suit_letters[below(sketch, sketch->suit_letters)]);
    else if (way < 90 || sketch->style == FREEFORM_PLAIN)
        write_words(sketch, ",\"suit\":\"%s\"", suits[below(sketch, 3)]);
    else
        write_words(sketch, ",\"suit\":\"any\"");
}

static void write_rank(struct sketch *sketch) {
    if (percent(sketch, 15)) {
        write_words(sketch, "%d", 1 + below(sketch, 9));
        return;
    }
    int letter = below(sketch, sketch->letters);
    int way = below(sketch, 100);
    if (way < 55)
        write_words(sketch, "\"%c\"", 'a' + letter);
    else if (way < 90)
        write_words(sketch, "\"%c%c%d\"", 'a' + letter, way < 80 ? '+' : '-', 1 + below(sketch, 3));
    else
        write_words(sketch, "\"10-%c\"", 'a' + letter);
}

static void write_ranks(struct sketch *sketch) {
    int first = 1 + below(sketch, 3), step = 1 + below(sketch, 3);
    write_words(sketch, "[%d,%d", first, first + step);
    if (percent(sketch, 50))
        write_words(sketch, ",%d", first + 2 * step);
    write_words(sketch, "]");
}

static void write_class(struct sketch *sketch) {
    static const char *const classes[] = {"wind",   "dragon", "honour", "terminal",
                                          "orphan", "simple", "suited", "any"};
    int class = below(sketch, 8);
    write_words(sketch, "\"%s\"", classes[class]);
    if (class >= 3 && percent(sketch, 50))
        write_suit(sketch);
}

/* The tile of a group of `size` alike, or the first of a run. */
static void write_tile(struct sketch *sketch, bool runs) {
    int choices = sketch->style == FREEFORM_PLAIN ? 0 : sketch->style == FREEFORM_MIXED ? 20 : 40;
    if (percent(sketch, choices) && !runs) {
        if (percent(sketch, 50)) {
            write_ranks(sketch);
            write_suit(sketch);
        } else {
            write_class(sketch);
        }
    } else if (runs || percent(sketch, 80)) {
        write_rank(sketch);
        write_suit(sketch);
    } else if (percent(sketch, 50)) {
        write_words(sketch, "\"%s\"", honours[below(sketch, 7)]);
    } else if (sketch->jokers && percent(sketch, 40)) {
        write_words(sketch, "\"flower\"");
    } else {
        write_words(sketch, "\"%s\"", percent(sketch, 50) ? "wind" : "dragon");
    }
}

/* ---------------------------------------------------------------- groups --- */

static void write_groups(struct sketch *sketch, int size, bool nested);

static void write_one_of(struct sketch *sketch, int size) {
    int alternatives = 2 + below(sketch, 2);
    write_words(sketch, "\"one_of\":[");
    for (int i = 0; i < alternatives; i++) {
        write_words(sketch, "%s[", i > 0 ? "," : "");
        write_groups(sketch, size, true);
        write_words(sketch, "]");
    }
    write_words(sketch, "]");
}

static void write_alike(struct sketch *sketch, int size) {
    int times = 1;
    if (sketch->style != FREEFORM_PLAIN && percent(sketch, 15))
        for (int i = 2; i <= 4; i++)
            times = size % i == 0 && percent(sketch, 60) ? i : times;
    const int tiles = size / times;
    assert(tiles >= 1 && tiles <= (int)(sizeof shapes / sizeof *shapes));
    write_words(sketch, "\"%s\":", shapes[tiles - 1]);
    write_tile(sketch, false);
    if (times > 1)
        write_words(sketch, ",\"times\":%d%s", times,
                    percent(sketch, 50) ? ",\"distinct\":true" : "");
}

/* A group for `size` tiles; for 3 also a set, a chow or a kong, whose fourth tile
 * is one more than the hand has. */
static void write_group(struct sketch *sketch, int size, bool nested) {
    bool plain = sketch->style == FREEFORM_PLAIN;
    write_words(sketch, "{");
    if (!nested && !plain && size > 1 && percent(sketch, 12)) {
        write_one_of(sketch, size);
    } else if (size == 3 && percent(sketch, 20)) {
        write_words(sketch, "\"chow\":");
        write_tile(sketch, true);
    } else if (size == 3 && !plain && percent(sketch, 15)) {
        write_words(sketch, "\"set\":");
        write_tile(sketch, false);
    } else if (size == 3 && percent(sketch, 25)) {
        write_words(sketch, "\"kong\":");
        write_tile(sketch, false);
    } else if (size >= 5 && !sketch->jokers) {
        write_words(sketch, "\"run\":");
        write_tile(sketch, true);
        write_words(sketch, ",\"length\":%d", size);
    } else {
        write_alike(sketch, size);
    }
    write_words(sketch, "}");
}

static void write_groups(struct sketch *sketch, int size, bool nested) {
    static const int usual[] = {1, 2, 2, 2, 3, 3, 3, 3, 4, 4, 5, 6};
    static const int wild[] = {1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 4, 5};
    for (bool first = true; size > 0; first = false) {
        int way = below(sketch, sizeof usual / sizeof *usual);
        int part = sketch->style == FREEFORM_WILD ? wild[way] : usual[way];
        if (part > size)
            part = size;
        write_words(sketch, "%s", first ? "" : ",");
        write_group(sketch, part, nested);
        size -= part;
    }
}

/* ------------------------------------------------------------------ lists --- */

void freeform_start(struct freeform *list, uint64_t seed, enum freeform_style style) {
    *list = (struct freeform){.source = {seed}, .style = style};
    list->jokers = random_percent(&list->source, 50);
}

char *freeform_pattern(struct freeform *list) {
    random_source source = {random_next(&list->source)};
    struct sketch sketch = {.source = &source,
                            .style = list->style,
                            .jokers = list->jokers,
                            .text = calloc(PATTERN_BYTES, 1)};
    assert(sketch.text != NULL);
    sketch.letters = list->style == FREEFORM_WILD ? 2 + below(&sketch, 4) : 1 + below(&sketch, 4);
    sketch.suit_letters = 1 + below(&sketch, 3);
    write_words(&sketch, "{\"name\":\"Pattern %d\",\"groups\":[", list->patterns + 1);
    write_groups(&sketch, HAND, false);
    write_words(&sketch, "]");
    if (list->style != FREEFORM_PLAIN && percent(&sketch, 15)) {
        int least = 1 + below(&sketch, 2), most = 2 + below(&sketch, 2);
        write_words(&sketch, ",\"limits\":{\"suits\":[%d,%d]}", least, most);
    }
    write_words(&sketch, "}");
    return sketch.text;
}

void freeform_keep(struct freeform *list, const char *pattern) {
    size_t length = strlen(pattern);
    if (list->length + length + 3 > list->room) {
        list->room = 2 * (list->room + length + 3);
        list->text = realloc(list->text, list->room);
        assert(list->text != NULL);
    }
    list->length += (size_t)snprintf(list->text + list->length, list->room - list->length, "%s%s",
                                     list->patterns > 0 ? ",\n" : "", pattern);
    list->patterns++;
}

char *freeform_list(const struct freeform *list, const char *patterns) {
    static const char head[] = "{\"format\":1,\"title\":\"Free form\",\"hand\":%d,"
                               "\"tiles\":{\"flowers\":%d,\"jokers\":%d},\"patterns\":[\n%s\n]}\n";
    const char *body = patterns != NULL ? patterns : list->text;
    int many = list->jokers ? 8 : 0;
    size_t room = strlen(head) + strlen(body) + 64;
    char *text = malloc(room);
    assert(text != NULL);
    snprintf(text, room, head, HAND, many, many, body);
    return text;
}

void freeform_end(struct freeform *list) {
    free(list->text);
}
