/* The words for tiles and suits that players type: "bams", "soap", "north". */
#ifndef NH_TILES_NOTATION_WORDS_H
#define NH_TILES_NOTATION_WORDS_H

#include <stddef.h>
#include <stdint.h>

enum typed_meaning {
    TYPED_SUIT,   /* of the ranks before it; `kind` is the suit's first */
    TYPED_TILE,   /* the tile `kind` */
    TYPED_DRAGON, /* "dragon", which may follow its colour */
    TYPED_WIND,   /* "wind", which may follow its name */
    TYPED_SEVERAL /* a plural that does not say how many; `kind` is one of them */
};

struct typed_word {
    const char *word;
    uint8_t meaning, kind;
};

/* The word that `length` bytes are, in any case; NULL for none. */
const struct typed_word *typed_word_find(const char *text, size_t length);

/* The word that they were meant to be, or NULL. */
const char *typed_word_near(const char *text, size_t length);

#endif
