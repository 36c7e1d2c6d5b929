/* Values of options that are tiles of a list's set. */
#ifndef CLI_OPTIONS_OPTION_TILES_H
#define CLI_OPTIONS_OPTION_TILES_H

#include "options/option_row.h"

/* All values of an option together; no tiles for none. False where they cannot
 * be read, which is said with the place. */
bool option_tiles(const char *option, const struct texts *texts, const nh_list *list,
                  nh_tiles *tiles);

/* Words in one text with spaces between them, to be freed; NULL when memory is
 * short. */
char *join_words(int count, char *const *words);

#endif
