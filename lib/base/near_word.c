/* The word that a mistyped one was meant to be: the one that takes the fewest
 * changes of a letter (left out, added, replaced, or swapped with the next).
 * The table is that of Damerau's edit distance, adjacent swaps only: row i,
 * column j has the changes from the first i letters of the one word to the
 * first j of the other. */
#include "base/near_word.h"

#include <stdbool.h>
#include <string.h>

#define LETTERS_MAX 24 /* of a word that is looked for */

static char lower_case(char letter) {
    return (char)(letter >= 'A' && letter <= 'Z' ? letter - 'A' + 'a' : letter);
}

static bool same_letter(char a, char b) {
    return lower_case(a) == lower_case(b);
}

static size_t least_of(size_t a, size_t b) {
    return a < b ? a : b;
}

static size_t count_changes(const char *a, size_t a_length, const char *b, size_t b_length) {
    size_t changes[LETTERS_MAX + 1][LETTERS_MAX + 1];
    for (size_t i = 0; i <= a_length; i++) {
        for (size_t j = 0; j <= b_length; j++) {
            size_t *cell = &changes[i][j];
            *cell = i + j;
            if (i == 0 || j == 0)
                continue;
            *cell = changes[i - 1][j - 1] + !same_letter(a[i - 1], b[j - 1]);
            *cell = least_of(*cell, least_of(changes[i - 1][j], changes[i][j - 1]) + 1);
            if (i > 1 && j > 1 && same_letter(a[i - 1], b[j - 2]) &&
                same_letter(a[i - 2], b[j - 1]))
                *cell = least_of(*cell, changes[i - 2][j - 2] + 1);
        }
    }
    return changes[a_length][b_length];
}

void near_word_try(struct near_word *near, const char *typed, size_t length, const char *word) {
    size_t word_length = strlen(word);
    size_t most = least_of(length, word_length) < 5 ? 1 : 2;
    if (length == 0 || length > LETTERS_MAX || word_length > LETTERS_MAX)
        return;
    size_t changes = count_changes(typed, length, word, word_length);
    if (changes <= most && changes < word_length && (near->word == NULL || changes < near->changes))
        *near = (struct near_word){word, changes};
}

const char *near_word_of(const char *typed, const char *const *words) {
    struct near_word near = {NULL, 0};
    for (; *words != NULL; words++)
        near_word_try(&near, typed, strlen(typed), *words);
    return near.word;
}
