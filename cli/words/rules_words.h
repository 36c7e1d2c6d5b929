/* The rules of play of a list, for people. */
#ifndef CLI_WORDS_RULES_WORDS_H
#define CLI_WORDS_RULES_WORDS_H

#include "nearhand.h"

/* Writes them in lines of at most LINE_WIDTH columns:
 *
 *   Pass 3 tiles right, across and left; if all agree, left, across and right. Then
 *   exchange up to 3 with the player across. Never pass flowers.
 *   Claim a discard to win, or for a pung, kong, quint or sextet.
 */
void rules_words_out(const nh_list *list);

#endif
