/* Options: reading them, those that several tasks share, and their values. */
#include "io/options.h"
#include "io/message.h"
#include "io/unread.h"

#include <errno.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

bool option_shared(int option, const char *value, struct shared_options *shared) {
    switch (option) {
    case OPTION_LIST:
        shared->list = value;
        return true;
    case OPTION_JSON:
        shared->json = true;
        return true;
    case OPTION_PREVAILING:
        return option_wind("--prevailing", value, &shared->prevailing);
    case OPTION_SEAT:
        return option_wind("--seat", value, &shared->seat);
    case 'h':
        shared->help = true;
        return true;
    default: /* getopt_long has told what is wrong with it */
        misused_option();
        return false;
    }
}

bool options_read(int argc, char **argv, const struct option *table,
                  bool (*take)(int option, const char *value, void *options), void *options) {
    int option;
    while ((option = getopt_long(argc, argv, "h", table, NULL)) != -1)
        if (!take(option, optarg, options))
            return false;
    return true;
}

bool option_list_word(int argc, char **argv, struct shared_options *shared) {
    if (argc - optind > (shared->list == NULL ? 1 : 0)) {
        misused("one list at a time, not '%s' too", argv[argc - 1]);
        return false;
    }
    if (optind < argc)
        shared->list = argv[optind];
    return true;
}

bool option_number(const char *option, const char *value, long least, long most, long *number) {
    char *end;
    errno = 0;
    *number = strtol(value, &end, 10);
    if (end != value && *end == '\0' && errno == 0 && *number >= least && *number <= most)
        return true;
    misused("%s '%s': a whole number from %ld to %ld is wanted", option, value, least, most);
    return false;
}

bool option_unsigned(const char *option, const char *value, uint64_t least, uint64_t most,
                     uint64_t *number) {
    char *end;
    errno = 0;
    *number = strtoull(value, &end, 10);
    bool digits = value[0] >= '0' && value[0] <= '9' && *end == '\0';
    if (digits && errno == 0 && *number >= least && *number <= most)
        return true;
    misused("%s '%s': a whole number from %" PRIu64 " to %" PRIu64 " is wanted", option, value,
            least, most);
    return false;
}

bool option_wind(const char *option, const char *value, nh_wind *wind) {
    static const char *const words[] = {"east", "south", "west", "north"};
    for (int i = 0; i < 4; i++) {
        char letter[2] = {words[i][0], '\0'};
        if (strcasecmp(value, words[i]) == 0 || strcasecmp(value, letter) == 0) {
            *wind = (nh_wind)(NH_WIND_EAST + i);
            return true;
        }
    }
    misused("%s '%s': a wind is wanted, E, S, W or N", option, value);
    return false;
}

bool option_tiles(const char *option, const char *value, const nh_list *list, nh_tiles *tiles) {
    nh_error error;
    if (nh_tiles_parse(list, value, strlen(value), tiles, &error) == NH_OK)
        return true;
    struct line line = line_of_argument(value);
    unread_show(&line, error.column);
    misused("%s: %s", option, error.text);
    return false;
}

bool option_tiles_of(const char *option, const struct texts *texts, const nh_list *list,
                     nh_tiles *tiles) {
    char *text = join_words(texts->count, (char *const *)(const void *)texts->text);
    if (text == NULL)
        return short_of_memory();
    bool read = option_tiles(option, text, list, tiles);
    free(text);
    return read;
}

bool option_text(struct texts *texts, const char *value) {
    texts->text[texts->count++] = value;
    return true;
}

char *join_words(int count, char *const *words) {
    size_t size = 1;
    for (int i = 0; i < count; i++)
        size += strlen(words[i]) + 1;
    char *joined = malloc(size);
    if (joined == NULL)
        return NULL;
    char *end = joined;
    for (int i = 0; i < count; i++) {
        size_t length = strlen(words[i]);
        if (i > 0)
            *end++ = ' ';
        memcpy(end, words[i], length);
        end += length;
    }
    *end = '\0';
    return joined;
}
