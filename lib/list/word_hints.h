/* What a wrong word of a list was meant to be. */
#ifndef NH_LIST_WORD_HINTS_H
#define NH_LIST_WORD_HINTS_H

#define HINT_SIZE 160

/* Each writes what to do instead, such as `write "east"`, or an empty text where
 * it does not know. */

/* Of an unknown key, where `keys`, up to NULL, are known. */
void key_hint(const char *key, const char *const *keys, char hint[HINT_SIZE]);

/* Of a text that is no tile, and of one that is no suit. */
void tile_hint(const char *text, char hint[HINT_SIZE]);
void suit_hint(const char *text, char hint[HINT_SIZE]);

#endif
