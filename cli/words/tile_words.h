/* Which tile and which suit a group says, in words. A letter becomes "one number" where
 * it first stands, and "the same number" or "the number 2 higher" from then on; letters
 * of suits become "one suit", "a second suit", "the third suit". */
#ifndef CLI_WORDS_TILE_WORDS_H
#define CLI_WORDS_TILE_WORDS_H

#include "io/flow.h"
#include "nearhand.h"

#define LETTERS 26

/* A letter that stands for a number, or for a wind or dragon. */
struct number_word {
    int order;  /* among those of its kind, by their first mention; from 1, 0 for none */
    int sign;   /* it is called by what it first stands in: sign * letter + offset */
    int offset; /* is "one number" */
    bool honour;
    bool said;
    unsigned values;   /* as nh_list_letter has them */
    unsigned possible; /* those for which no rank of the groups leaves 1 to 9 */
};

struct suit_word {
    int order; /* by its first mention, from 1; 0: it does not occur */
    bool said;
};

/* What a variant's letters are called, and which of them were said. */
struct tile_words {
    struct number_word number[LETTERS];
    struct suit_word suit[LETTERS];
    int numbers, honours, suits; /* letters that occur */
    int kinds[NH_CLASSES];       /* of the set in each class of honours and terminals */
    struct flow *flow;           /* where words go that are too many for one text, or NULL */
    bool by_letter; /* letters are said as they are written: two of them are added, or the
                       alternatives of a group call one by different names */
};

/* Finds the names of the letters in the groups of a variant. */
void tile_words_begin(struct tile_words *words, const nh_list *list, size_t pattern,
                      size_t variant);

/* "one number", "the same number", "the number 2 higher"; "one wind". */
void say_letter(struct tile_words *words, const nh_group_tile *tile, struct text *text);

/* By how much a letter's number is above the one that it is known by; 0 where it is not
 * or has not been said yet. */
int letter_above(const struct tile_words *words, const nh_group_tile *tile);

/* "the numbers 2 and 5 higher". */
void say_numbers_above(const struct tile_words *words, unsigned letter, const int *above,
                       size_t count, struct text *text);

/* "one suit", "the same suit", "a second suit" for a letter; "bams" for a suit. */
void say_suit(struct tile_words *words, unsigned use, unsigned suit, struct text *text);

/* Adds the ranks or honours that bits stand for: "from 1 to 4", "1, 3 or 5". */
void say_values(unsigned values, bool honours, struct text *text);

/* "one" to "twelve", and digits beyond. */
void say_count(int count, struct text *text);

/* What stands before item `index` of `count`: nothing, ", ", or the last word between
 * spaces. */
const char *between(size_t index, size_t count, const char *last);

#endif
