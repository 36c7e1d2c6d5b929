/* Values of options: text into the member that a row names. What is wrong with a
 * value is said on standard error. */
#ifndef CLI_OPTIONS_OPTION_VALUE_H
#define CLI_OPTIONS_OPTION_VALUE_H

#include "options/option_row.h"

/* Stores a value (NULL for an option without one) where its row says. */
bool option_store(const struct option_row *row, const char *value, void *options);

/* Frees what the rows of a task have allocated. */
void options_free(const struct option_row *rows, void *options);

#endif
