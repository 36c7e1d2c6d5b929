/* The word that a mistyped one was meant to be. */
#ifndef NH_BASE_NEAR_WORD_H
#define NH_BASE_NEAR_WORD_H

#include <stddef.h>

/* The nearest word so far; starts as {NULL, 0}. */
struct near_word {
    const char *word;
    size_t changes; /* letters wrong, missing, too many or swapped */
};

/* Takes `word` for the nearest where it is near to the typed text and nearer
 * than those before it. One change is near, from five letters on two; upper and
 * lower case are the same. */
void near_word_try(struct near_word *near, const char *typed, size_t length, const char *word);

/* The nearest of an array that ends in NULL, or NULL. */
const char *near_word_of(const char *typed, const char *const *words);

#endif
