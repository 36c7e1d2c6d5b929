/* A hand out of a line. */
#include "hands/hand_line.h"
#include "io/utf8.h"

#include <stdio.h>

static uint32_t characters(const char *text, size_t length) {
    uint32_t count = 0;
    for (size_t at = 0; at < length; count++) {
        uint32_t character;
        at += utf8_decode(text + at, length - at, &character);
    }
    return count;
}

/* Whether the line was read whole; false with the error. */
static bool line_is_whole(const struct line *line, nh_error *error) {
    if (!line->too_long)
        return true;
    error->status = NH_ERROR_LIMIT;
    error->column = characters(line->text, line->length);
    snprintf(error->text, sizeof error->text, "the line is longer than %u bytes", INPUT_LINE_MAX);
    return false;
}

bool hand_read(const nh_list *list, const struct line *line, nh_tiles *hand, nh_error *error) {
    return line_is_whole(line, error) &&
           nh_hand_parse(list, line->text, line->tiles_length, hand, error) == NH_OK;
}

bool claimed_read(const nh_list *list, const struct line *line, nh_tiles *hand, nh_error *error) {
    if (!line_is_whole(line, error) ||
        nh_tiles_parse(list, line->text, line->tiles_length, hand, error) != NH_OK)
        return false;
    if (nh_tiles_total(hand) > 0)
        return true;
    *error = (nh_error){NH_ERROR_TILES, 1, "there are no tiles"};
    return false;
}

bool hand_before_play(const nh_list *list, const nh_tiles *hand, nh_error *error) {
    int size = nh_list_hand_size(list), tiles = nh_tiles_total(hand);
    if (tiles == size || tiles == size - 1)
        return true;
    *error = (nh_error){NH_ERROR_TILES, 0, ""};
    snprintf(error->text, sizeof error->text,
             "this hand has %d tile%s; before play a hand has %d, the dealer's %d", tiles,
             tiles == 1 ? "" : "s", size - 1, size);
    return false;
}

bool hand_before_discard(const nh_list *list, const nh_tiles *hand, nh_error *error) {
    int size = nh_list_hand_size(list), tiles = nh_tiles_total(hand);
    if (tiles >= size && tiles <= nh_list_hand_most(list))
        return true;
    *error = (nh_error){NH_ERROR_TILES, 0, ""};
    snprintf(error->text, sizeof error->text,
             "this hand has %d tile%s; with the tile drawn it has %d before a discard", tiles,
             tiles == 1 ? "" : "s", size);
    return false;
}

uint32_t hand_excess(const nh_list *list, const struct line *line, const nh_tiles *seen) {
    return nh_tiles_excess(list, seen, line->text, line->tiles_length);
}
