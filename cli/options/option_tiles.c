/* Values of options that are tiles of a list's set. */
#include "options/option_tiles.h"
#include "io/input.h"
#include "io/message.h"
#include "io/unread.h"

#include <stdlib.h>
#include <string.h>

static bool parse_tiles(const char *option, const char *value, const nh_list *list,
                        nh_tiles *tiles) {
    nh_error error;
    if (nh_tiles_parse(list, value, strlen(value), tiles, &error) == NH_OK)
        return true;
    struct line line = line_of_argument(value);
    unread_show(&line, error.column);
    misused("%s: %s", option, error.text);
    return false;
}

bool option_tiles(const char *option, const struct texts *texts, const nh_list *list,
                  nh_tiles *tiles) {
    char *text = join_words(texts->count, (char *const *)(const void *)texts->text);
    if (text == NULL)
        return short_of_memory();
    bool read = parse_tiles(option, text, list, tiles);
    free(text);
    return read;
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
