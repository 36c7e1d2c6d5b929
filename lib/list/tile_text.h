/* The texts that say which tile, and the words for suits. */
#ifndef NH_LIST_TILE_TEXT_H
#define NH_LIST_TILE_TEXT_H

#include "list/draft.h"

static inline bool is_letter(char c) {
    return c >= 'a' && c <= 'z';
}

/* Reads a name ("east"), a class ("wind") or a letter ("n", "n+1", "n+m",
 * "10-n"); false for any other text. */
bool tile_text_read(const char *text, struct atom *atom);

/* The tile_class of a word, and the kind of a wind or dragon; -1 for others. */
int class_of_word(const char *word);
const char *word_of_class(int class);
int honour_of_word(const char *word);

/* The names and classes, one after the other; NULL behind the last. */
const char *tile_text_word(size_t index);

/* "bam", "crak" or "dot", and the part of such a word; false for any other. */
const char *suit_word(int part);
bool suit_word_read(const char *word, uint8_t *part);

#endif
