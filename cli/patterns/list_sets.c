/* A list with the sets taken from it that lie on the table. */
#include "patterns/list_sets.h"
#include "io/message.h"

#include <string.h>

bool list_take_sets(nh_list *whole, const char *const *texts, int count, nh_list **list) {
    nh_set sets[NH_SETS_MAX];
    size_t total = 0;
    nh_error error;
    *list = whole;
    for (int i = 0; i < count; i++) {
        size_t more = 0;
        if (nh_sets_parse(whole, texts[i], strlen(texts[i]), sets + total, NH_SETS_MAX - total,
                          &more, &error) != NH_OK) {
            misused("--exposed '%s', column %u: %s", texts[i], error.column, error.text);
            return false;
        }
        total += more;
    }
    if (total == 0)
        return true;
    if (nh_list_rest(whole, sets, total, NULL, list, &error) == NH_OK)
        return true;
    misused("--exposed: %s", error.text);
    *list = whole;
    return false;
}

void set_text(const nh_set *set, char *text) {
    nh_tiles tiles;
    char spaced[NH_TILES_TEXT_SIZE];
    nh_set_tiles(set, &tiles);
    nh_tiles_format(&tiles, NH_STYLE_LETTERS, spaced, sizeof spaced);
    for (const char *from = spaced; *from != '\0'; from++)
        if (*from != ' ')
            *text++ = *from;
    *text = '\0';
}
