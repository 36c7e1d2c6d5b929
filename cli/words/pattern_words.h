/* A variant of a pattern in words: its groups, then what else must hold. */
#ifndef CLI_WORDS_PATTERN_WORDS_H
#define CLI_WORDS_PATTERN_WORDS_H

#include "io/flow.h"
#include "nearhand.h"

/* Writes them to the output:
 *
 *   Three chows from one number in three suits, any set, any pair. A set is a pung or a
 *   chow.
 *
 * Of variants that differ each says its own points, and whether it is concealed. */
void pattern_words_out(const nh_list *list, size_t pattern, size_t variant, struct flow *flow);

#endif
