/* The words for tiles and suits that players type. */
#include "tiles/notation_words.h"
#include "base/near_word.h"
#include "nearhand.h"

#include <string.h>

static const struct typed_word typed_words[] = {
    {"bam", TYPED_SUIT, NH_BAM_1},         {"bams", TYPED_SUIT, NH_BAM_1},
    {"bamboo", TYPED_SUIT, NH_BAM_1},      {"bamboos", TYPED_SUIT, NH_BAM_1},
    {"crak", TYPED_SUIT, NH_CRAK_1},       {"craks", TYPED_SUIT, NH_CRAK_1},
    {"crack", TYPED_SUIT, NH_CRAK_1},      {"cracks", TYPED_SUIT, NH_CRAK_1},
    {"character", TYPED_SUIT, NH_CRAK_1},  {"characters", TYPED_SUIT, NH_CRAK_1},
    {"dot", TYPED_SUIT, NH_DOT_1},         {"dots", TYPED_SUIT, NH_DOT_1},
    {"circle", TYPED_SUIT, NH_DOT_1},      {"circles", TYPED_SUIT, NH_DOT_1},
    {"east", TYPED_TILE, NH_EAST},         {"south", TYPED_TILE, NH_SOUTH},
    {"west", TYPED_TILE, NH_WEST},         {"north", TYPED_TILE, NH_NORTH},
    {"red", TYPED_TILE, NH_RED},           {"green", TYPED_TILE, NH_GREEN},
    {"white", TYPED_TILE, NH_WHITE},       {"soap", TYPED_TILE, NH_WHITE},
    {"flower", TYPED_TILE, NH_FLOWER},     {"joker", TYPED_TILE, NH_JOKER},
    {"dragon", TYPED_DRAGON, NH_RED},      {"wind", TYPED_WIND, NH_EAST},
    {"reds", TYPED_SEVERAL, NH_RED},       {"greens", TYPED_SEVERAL, NH_GREEN},
    {"whites", TYPED_SEVERAL, NH_WHITE},   {"soaps", TYPED_SEVERAL, NH_WHITE},
    {"flowers", TYPED_SEVERAL, NH_FLOWER}, {"jokers", TYPED_SEVERAL, NH_JOKER},
    {"dragons", TYPED_SEVERAL, NH_RED},    {"winds", TYPED_SEVERAL, NH_EAST},
};
#define TYPED_WORDS (sizeof typed_words / sizeof *typed_words)

/* Letters of the shortest. Runs of letters in hand notation are mostly shorter. */
#define WORD_LEAST 3

static bool is_hand_word(const char *text, size_t length, const char *word) {
    size_t i = 0;
    while (i < length && word[i] != '\0' && (text[i] | ('a' ^ 'A')) == word[i])
        i++;
    return i == length && word[i] == '\0';
}

const struct typed_word *typed_word_find(const char *text, size_t length) {
    for (size_t i = 0; i < TYPED_WORDS && length >= WORD_LEAST; i++)
        if (is_hand_word(text, length, typed_words[i].word))
            return &typed_words[i];
    return NULL;
}

const char *typed_word_near(const char *text, size_t length) {
    struct near_word near = {NULL, 0};
    for (size_t i = 0; i < TYPED_WORDS && length >= WORD_LEAST; i++)
        near_word_try(&near, text, length, typed_words[i].word);
    return near.word;
}
