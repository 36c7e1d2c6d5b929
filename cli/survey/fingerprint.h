/* Short hashes by which parts of a survey are told apart: of the list they belong to, and
 * of what they counted. They notice what was mixed up or damaged, not what was made to
 * look alike. */
#ifndef CLI_SURVEY_FINGERPRINT_H
#define CLI_SURVEY_FINGERPRINT_H

#include "survey/counts.h"

#include <stdbool.h>

/* Of all that a list's file says of play and names: not of its layout, the order of keys,
 * notes, the edition and accepted warnings, which change no game. False with a message
 * where the file cannot be read. */
bool fingerprint_list(const char *path, char text[FINGERPRINT_SIZE]);

/* Of the settings and everything that was counted. */
void fingerprint_counts(const struct survey_key *key, const struct counts *counts,
                        char text[FINGERPRINT_SIZE]);

#endif
