/* Options: reading them, those that several tasks share, and their values. Each
 * function says on standard error what is wrong and returns false. */
#ifndef CLI_IO_OPTIONS_H
#define CLI_IO_OPTIONS_H

#include "nearhand.h"

#include <getopt.h>
#include <stdbool.h>

/* What several tasks are asked in the same words. */
struct shared_options {
    const char *list; /* as list_open takes it; NULL if not told */
    nh_wind prevailing, seat;
    bool json, help;
};

enum { OPTION_LIST = 1000, OPTION_JSON, OPTION_PREVAILING, OPTION_SEAT, OPTION_OWN };

/* Their rows in a table for getopt_long. A task numbers options of its own
 * from OPTION_OWN on. */
#define SHARED_OPTION_ROWS                                                                         \
    {"list", required_argument, NULL, OPTION_LIST}, {"json", no_argument, NULL, OPTION_JSON},      \
        {"prevailing", required_argument, NULL, OPTION_PREVAILING},                                \
        {"seat", required_argument, NULL, OPTION_SEAT}, {                                          \
        "help", no_argument, NULL, 'h'                                                             \
    }

/* Texts of an option that may be repeated, as they came. */
struct texts {
    const char **text;
    int count;
};

/* Takes one of the shared options; any other is wrong usage. */
bool option_shared(int option, const char *value, struct shared_options *shared);

/* Reads the options among the words and has `take` take each. What is left
 * stands from argv[optind] on. */
bool options_read(int argc, char **argv, const struct option *table,
                  bool (*take)(int option, const char *value, void *options), void *options);

/* The word that may stand behind the options is the list, too. */
bool option_list_word(int argc, char **argv, struct shared_options *shared);

/* A whole number from `least` to `most`. */
bool option_number(const char *option, const char *value, long least, long most, long *number);

/* The same, digits alone, where a long is too short. */
bool option_unsigned(const char *option, const char *value, uint64_t least, uint64_t most,
                     uint64_t *number);

/* E, S, W, N or the English word, in either case. */
bool option_wind(const char *option, const char *value, nh_wind *wind);

/* Tiles out of a list's set. */
bool option_tiles(const char *option, const char *value, const nh_list *list, nh_tiles *tiles);

/* All texts of a repeated option as tiles; none for no text. */
bool option_tiles_of(const char *option, const struct texts *texts, const nh_list *list,
                     nh_tiles *tiles);

/* Adds a text, for which there must be room. */
bool option_text(struct texts *texts, const char *value);

/* Words in one text with spaces between them, to be freed; NULL when memory is
 * short. */
char *join_words(int count, char *const *words);

#endif
