/* Groups in words, as a player says them: "three chows from one number in three suits,
 * a pung of winds or dragons, any pair". */
#ifndef CLI_WORDS_GROUP_WORDS_H
#define CLI_WORDS_GROUP_WORDS_H

#include "words/tile_words.h"

/* Adds the groups, one after the other. */
void say_groups(struct tile_words *words, const nh_groups *groups, struct text *text);

/* The same as one thing of several: "a pair of winds and a flower". */
void say_alternative(struct tile_words *words, const nh_groups *groups, struct text *text);

#endif
