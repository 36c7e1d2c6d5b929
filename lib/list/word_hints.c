/* What a wrong word of a list was meant to be: a word in capitals, a tile in
 * hand notation, a number in quotes, a key that belongs elsewhere. */
#include "list/word_hints.h"
#include "base/near_word.h"
#include "list/tile_text.h"
#include "tiles/notation_read.h"
#include "tiles/notation_words.h"

#include <stdio.h>
#include <string.h>

#define TEXT_SIZE 24 /* of a text that hints are looked for */

static void write_hint(char hint[HINT_SIZE], const char *before, const char *text,
                       const char *after) {
    snprintf(hint, HINT_SIZE, "%s%s%s", before, text, after);
}

/* The text in small letters and without spaces; false when it is too long. */
static bool simplify(const char *text, char simple[TEXT_SIZE]) {
    size_t length = 0;
    for (; *text != '\0'; text++) {
        bool capital = *text >= 'A' && *text <= 'Z';
        if (length == TEXT_SIZE - 1)
            return false;
        if (*text != ' ')
            simple[length++] = (char)(capital ? *text - 'A' + 'a' : *text);
    }
    simple[length] = '\0';
    return true;
}

/* ---------------------------------------------------------------- keys --- */

/* Where keys belong that stand in one place only. */
static const struct {
    const char *key, *home;
} homes[] = {
    {"format", "the list itself"},
    {"title", "the list itself"},
    {"edition", "the list itself"},
    {"hand", "the list itself"},
    {"patterns", "the list itself"},
    {"charleston", "the list itself"},
    {"flowers", "\"tiles\""},
    {"jokers", "\"tiles\""},
    {"winds", "\"tiles\""},
    {"dragons", "\"tiles\""},
    {"rounds", "\"charleston\""},
    {"courtesy", "\"charleston\""},
    {"keep", "\"charleston\""},
    {"section", "a pattern"},
    {"ref", "a pattern"},
    {"points", "a pattern"},
    {"concealed", "a pattern"},
    {"groups", "a pattern"},
    {"variants", "a pattern"},
    {"limits", "a pattern"},
    {"honours", "\"limits\""},
    {"single", "a group"},
    {"pair", "a group"},
    {"pung", "a group"},
    {"kong", "a group"},
    {"quint", "a group"},
    {"sextet", "a group"},
    {"chow", "a group"},
    {"run", "a group"},
    {"set", "a group"},
    {"one_of", "a group"},
    {"suit", "a group"},
    {"times", "a group"},
    {"distinct", "a group"},
    {"length", "a group"},
};

void key_hint(const char *key, const char *const *keys, char hint[HINT_SIZE]) {
    hint[0] = '\0';
    for (size_t i = 0; i < sizeof homes / sizeof *homes; i++)
        if (strcmp(key, homes[i].key) == 0)
            write_hint(hint, "it belongs in ", homes[i].home, "");
    const char *near = near_word_of(key, keys);
    if (hint[0] == '\0' && near != NULL)
        write_hint(hint, "did you mean \"", near, "\"?");
}

/* --------------------------------------------------------------- tiles --- */

/* The kind of a text that is one tile in hand notation, or -1. */
static int kind_of_notation(const char *text) {
    struct tile_bounds bounds = bounds_full();
    nh_tiles tiles;
    int kind = 0;
    if (notation_read(&bounds, text, strlen(text), &tiles, NULL) != NH_OK ||
        nh_tiles_total(&tiles) != 1)
        return -1;
    while (tiles.count[kind] == 0)
        kind++;
    return kind;
}

/* Of "5B", "Wh", "F": hand notation. */
static void hint_at_notation(const char *text, char hint[HINT_SIZE]) {
    static const char *const names[] = {"east", "south", "west",  "north",
                                        "red",  "green", "white", "flower"};
    int kind = kind_of_notation(text);
    if (kind >= NH_EAST && kind <= NH_FLOWER && text[1] == '\0' && text[0] != '0')
        snprintf(hint, HINT_SIZE, "write \"%s\", or \"%c\" for a letter", names[kind - NH_EAST],
                 text[0] - 'A' + 'a');
    else if (kind >= NH_EAST && kind <= NH_FLOWER)
        write_hint(hint, "write \"", names[kind - NH_EAST], "\"");
    else if (kind >= 0 && kind < NH_EAST)
        snprintf(hint, HINT_SIZE, "write %d, and beside it \"suit\": \"%s\"", kind % PART_KINDS + 1,
                 suit_word(kind / PART_KINDS));
    else if (kind == NH_JOKER)
        write_hint(hint, "", "no pattern asks for jokers, which stand for other tiles", "");
}

static const char *near_tile_word(const char *text) {
    struct near_word near = {NULL, 0};
    for (size_t i = 0; tile_text_word(i) != NULL; i++)
        near_word_try(&near, text, strlen(text), tile_text_word(i));
    return near.word;
}

void tile_hint(const char *text, char hint[HINT_SIZE]) {
    char simple[TEXT_SIZE];
    struct atom atom;
    hint[0] = '\0';
    if (!simplify(text, simple) || simple[0] == '\0')
        return;
    bool rank = simple[0] >= '1' && simple[0] <= '9' && simple[1] == '\0';
    const struct typed_word *typed = typed_word_find(simple, strlen(simple));
    hint_at_notation(text, hint);
    if (hint[0] != '\0')
        return;
    if (rank)
        write_hint(hint, "write ", simple, " without quotes");
    else if (tile_text_read(simple, &atom))
        write_hint(hint, "write \"", simple, "\"");
    else if (typed != NULL && typed->meaning == TYPED_SUIT)
        write_hint(hint, "write a rank, and beside it \"suit\": \"",
                   suit_word(typed->kind / PART_KINDS), "\"");
    else if (near_tile_word(simple) != NULL)
        write_hint(hint, "write \"", near_tile_word(simple), "\"");
}

/* --------------------------------------------------------------- suits --- */

/* The part of a word that players type for a suit, perhaps mistyped, or -1. */
static int typed_part(const char *text) {
    const char *near = typed_word_near(text, strlen(text));
    const struct typed_word *typed = typed_word_find(text, strlen(text));
    if (typed == NULL && near != NULL)
        typed = typed_word_find(near, strlen(near));
    return typed != NULL && typed->meaning == TYPED_SUIT ? typed->kind / PART_KINDS : -1;
}

void suit_hint(const char *text, char hint[HINT_SIZE]) {
    static const char letters[] = "bcd";
    char simple[TEXT_SIZE];
    hint[0] = '\0';
    if (!simplify(text, simple) || simple[0] == '\0')
        return;
    bool one = simple[1] == '\0';
    const char *letter = one ? strchr(letters, simple[0]) : NULL;
    int part = letter != NULL ? (int)(letter - letters) : typed_part(simple);
    if (part >= 0)
        write_hint(hint, "write \"", suit_word(part), "\"");
    else if (strcmp(simple, "any") == 0 || (one && is_letter(simple[0])))
        write_hint(hint, "write \"", simple, "\"");
}
