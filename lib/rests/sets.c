/* Sets that lie on the table: read from text. */
#include "base/status.h"
#include "compile/compiled.h"
#include "nearhand_play.h"
#include "tiles/table_sets.h"

#include <string.h>

static bool is_chow(const nh_tiles *tiles, int first) {
    return nh_tiles_total(tiles) == 3 && chow_begins_at(first) && tiles->count[first] == 1 &&
           tiles->count[first + 1] == 1 && tiles->count[first + 2] == 1;
}

/* Whether the tiles are a set. */
static bool set_of_tiles(const nh_tiles *tiles, nh_set *set) {
    int first = 0, total = nh_tiles_total(tiles), jokers = tiles->count[NH_JOKER];
    while (first < NH_JOKER && tiles->count[first] == 0)
        first++;
    if (first == NH_JOKER)
        return false;
    set->kind = (uint8_t)first;
    set->tiles = (uint8_t)total;
    set->jokers = (uint8_t)jokers;
    bool chow = is_chow(tiles, first);
    set->shape = (uint8_t)(chow ? NH_CHOW : total);
    return chow ||
           (total >= NH_PUNG && total <= NH_SEXTET && tiles->count[first] + jokers == total);
}

static bool is_gap(char c) {
    return c == ' ' || c == ',' || c == '\t';
}

static nh_status refuse_excess(const nh_list *list, int kind, uint32_t column, nh_error *error) {
    if (list->set.count[kind] == 0)
        return error_set(error, NH_ERROR_TILES, column, "the list is played without %s (%s)",
                         nh_kind_name(kind), nh_kind_notation(kind));
    return error_set(error, NH_ERROR_TILES, column, "more than %d of %s: the set has no more",
                     list->off_table.count[kind], nh_kind_notation(kind));
}

nh_status nh_sets_parse(const nh_list *list, const char *text, size_t length, nh_set *sets,
                        size_t capacity, size_t *set_count, nh_error *error) {
    nh_tiles all = {{0}};
    size_t count = 0;
    for (size_t at = 0; at < length;) {
        size_t end = at;
        while (end < length && !is_gap(text[end]))
            end++;
        if (end > at) {
            nh_tiles tiles;
            nh_set set;
            uint32_t column = (uint32_t)at + 1;
            nh_status status = nh_tiles_parse(NULL, text + at, end - at, &tiles, error);
            if (status != NH_OK) {
                if (error != NULL)
                    error->column += (uint32_t)at;
                return status;
            }
            if (!set_of_tiles(&tiles, &set))
                return error_set(
                    error, NH_ERROR_TILES, column,
                    "'%.*s' is not a set: write 3 to 6 tiles alike or three in a row in "
                    "one word, such as 444D, EEEJ or 123B",
                    (int)(end - at < 60 ? end - at : 60), text + at);
            if (count == capacity)
                return error_set(error, NH_ERROR_TILES, column, "more than %zu sets", capacity);
            if (!nh_tiles_add(&all, &tiles))
                return error_set(error, NH_ERROR_TILES, column, "too many tiles");
            for (int kind = 0; list != NULL && kind < NH_KINDS; kind++)
                if (all.count[kind] > list->off_table.count[kind])
                    return refuse_excess(list, kind, column, error);
            sets[count++] = set;
        }
        at = end + 1;
    }
    *set_count = count;
    return NH_OK;
}
