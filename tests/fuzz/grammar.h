/* Lists out of bytes, by the grammar of the list format: whatever the bytes, the
 * JSON can be read, nearly every group is well formed, and the groups of a
 * pattern come to a hand. So the bytes reach the compiler behind the reader. */
#ifndef NH_FUZZ_GRAMMAR_H
#define NH_FUZZ_GRAMMAR_H

#include "fuzz.h"
#include "nearhand.h"

#define GRAMMAR_PATTERNS_MAX 4

/* How large a list may grow. */
struct grammar_size {
    int patterns; /* at most GRAMMAR_PATTERNS_MAX */
    int hand;     /* most tiles of a hand */
    int choices;  /* most alternatives of a group */
    int kept;     /* most kinds that may never be passed */
};

/* The JSON text, ended by a zero byte, until the next call. Patterns are named "0", "1"
 * and so on. */
const char *grammar_list(struct decisions *decisions, const struct grammar_size *size);

/* A hand of 1 to `most` tiles, and tiles seen, that a set holds together. */
void grammar_hand(struct decisions *decisions, const nh_tiles *set, int most, nh_tiles *hand,
                  nh_tiles *seen);

/* Draws and winds. */
void grammar_situation(struct decisions *decisions, nh_situation *situation, int *draws);

#endif
