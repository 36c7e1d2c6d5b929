/* Unseen tiles of use, as a player reads them: 37B×4 R×3. */
#ifndef CLI_PATTERNS_USEFUL_H
#define CLI_PATTERNS_USEFUL_H

#include "io/text.h"
#include "nearhand.h"

/* Adds a word for all tiles of a suit, of the winds and so on of which as many are unseen:
 * their notation, `times` and the number; spaces between the words. */
void useful_add(struct text *text, const nh_tiles *useful, const char *times);

#endif
