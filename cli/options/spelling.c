/* Which of some words a mistyped one was meant to be: the one that takes the
 * fewest letters inserted, left out, changed or swapped with the next. */
#include "options/spelling.h"

#include <ctype.h>
#include <stdbool.h>
#include <string.h>

#define WORD_MOST 24 /* letters of a word that is compared */

static unsigned least_of_three(unsigned a, unsigned b, unsigned c) {
    unsigned least = a < b ? a : b;
    return least < c ? least : c;
}

static bool letters_alike(char a, char b) {
    return tolower((unsigned char)a) == tolower((unsigned char)b);
}

/* Optimal string alignment: rows are the letters of `a`, columns those of `b`;
 * of the rows only the last three matter. */
static unsigned mistakes_between(const char *a, const char *b) {
    unsigned rows[3][WORD_MOST + 1];
    size_t width = strlen(b);
    for (unsigned column = 0; column <= width; column++)
        rows[0][column] = column;
    size_t height = strlen(a);
    for (size_t i = 1; i <= height; i++) {
        unsigned *now = rows[i % 3];
        const unsigned *above = rows[(i + 2) % 3];
        const unsigned *second = rows[(i + 1) % 3];
        now[0] = (unsigned)i;
        for (size_t j = 1; j <= width; j++) {
            bool same = letters_alike(a[i - 1], b[j - 1]);
            now[j] = least_of_three(above[j] + 1, now[j - 1] + 1, above[j - 1] + !same);
            if (i > 1 && j > 1 && letters_alike(a[i - 1], b[j - 2]) &&
                letters_alike(a[i - 2], b[j - 1]) && second[j - 2] + 1 < now[j])
                now[j] = second[j - 2] + 1;
        }
    }
    return rows[height % 3][width];
}

/* A beginning of some length is as good as one mistake. */
static bool begins(const char *word, const char *start) {
    size_t length = strlen(start);
    return length >= 3 && strncmp(word, start, length) == 0;
}

void spelling_try(struct spelling *spelling, const char *word) {
    size_t typed = strlen(spelling->typed);
    if (typed == 0 || typed > WORD_MOST || strlen(word) > WORD_MOST)
        return;
    unsigned allowed = typed < 4 ? 1 : typed < 8 ? 2 : 3;
    unsigned mistakes = mistakes_between(spelling->typed, word);
    if (mistakes > 1 && (begins(word, spelling->typed) || begins(spelling->typed, word)))
        mistakes = 1;
    if (mistakes > allowed || (spelling->closest != NULL && mistakes >= spelling->mistakes))
        return;
    spelling->closest = word;
    spelling->mistakes = mistakes;
}
