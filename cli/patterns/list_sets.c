/* A list with the sets taken from it that lie on the table. */
#include "patterns/list_sets.h"
#include "io/message.h"

#include <string.h>

/* Reads up to `capacity` sets out of the texts of an option; false with a message. */
static bool read_sets(const nh_list *list, const char *option, const char *const *texts, int count,
                      nh_set *sets, size_t capacity, size_t *total) {
    nh_error error;
    *total = 0;
    for (int i = 0; i < count; i++) {
        size_t more = 0;
        if (nh_sets_parse(list, texts[i], strlen(texts[i]), sets + *total, capacity - *total, &more,
                          &error) != NH_OK) {
            misused("%s '%s', column %u: %s", option, texts[i], error.column, error.text);
            return false;
        }
        *total += more;
    }
    return true;
}

bool list_less_sets(nh_list *whole, const char *option, const char *const *texts, int count,
                    nh_list **list) {
    nh_set sets[NH_SETS_MAX];
    size_t total;
    nh_error error;
    *list = whole;
    if (!read_sets(whole, option, texts, count, sets, NH_SETS_MAX, &total))
        return false;
    if (total == 0)
        return true;
    if (nh_list_rest(whole, sets, total, NULL, list, &error) == NH_OK)
        return true;
    misused("%s: %s", option, error.text);
    *list = whole;
    return false;
}

bool list_take_sets(nh_list *whole, const char *const *texts, int count, nh_list **list) {
    return list_less_sets(whole, "--exposed", texts, count, list);
}

static void see_set(const nh_set *set, nh_tiles *seen) {
    nh_tiles tiles;
    nh_set_tiles(set, &tiles);
    nh_tiles_add(seen, &tiles); /* no more than 255: see the capacity */
}

bool see_sets(const nh_list *list, const char *option, const struct texts *texts, nh_tiles *seen,
              struct other_sets *others) {
    size_t room = sizeof others->sets / sizeof *others->sets - others->count, more;
    if (!read_sets(list, option, texts->text, texts->count, others->sets + others->count, room,
                   &more))
        return false;
    for (size_t i = others->count; i < others->count + more; i++)
        see_set(&others->sets[i], seen);
    others->count += more;
    return true;
}

void sets_see(const nh_list *list, nh_tiles *seen) {
    size_t count;
    const nh_set *sets = nh_list_sets(list, &count);
    for (size_t i = 0; i < count; i++)
        see_set(&sets[i], seen);
}

nh_status open_patterns(nh_workspace *workspace, nh_wind prevailing, nh_wind seat, uint8_t *away,
                        nh_error *error) {
    const nh_tiles no_tiles = {{0}};
    nh_situation none_gone = NH_SITUATION;
    none_gone.prevailing = prevailing;
    none_gone.seat = seat;
    return nh_distances(workspace, &no_tiles, &none_gone, away, error);
}

nh_status sets_possible(const nh_list *list, uint8_t *possible, size_t *count) {
    nh_workspace *workspace = NULL;
    nh_status status = nh_workspace_new(list, NULL, &workspace);
    if (status == NH_OK)
        status = open_patterns(workspace, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN, possible, NULL);
    nh_workspace_free(workspace);
    *count = 0;
    for (size_t i = 0; status == NH_OK && i < nh_list_size(list); i++) {
        possible[i] = possible[i] != NH_AWAY_NONE;
        *count += possible[i];
    }
    return status;
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
