/* Tiles and hands typed for a list: the text is checked against its set. */
#include "base/status.h"
#include "tiles/notation_read.h"

static struct tile_bounds tile_bounds_of(const nh_list *list) {
    if (list == NULL)
        return bounds_full();
    size_t count;
    const nh_set *sets = nh_list_sets(list, &count);
    struct tile_bounds bounds = {
        .set = *nh_list_set(list), .listed = true, .most = nh_list_hand_most(list)};
    for (size_t i = 0; i < count; i++) {
        nh_tiles tiles;
        nh_set_tiles(&sets[i], &tiles);
        nh_tiles_add(&bounds.on_table, &tiles);
    }
    return bounds;
}

nh_status nh_tiles_parse(const nh_list *list, const char *text, size_t length, nh_tiles *tiles,
                         nh_error *error) {
    struct tile_bounds bounds = tile_bounds_of(list);
    bounds.most = 0;
    return notation_read(&bounds, text, length, tiles, error);
}

nh_status nh_hand_parse(const nh_list *list, const char *text, size_t length, nh_tiles *hand,
                        nh_error *error) {
    struct tile_bounds bounds = tile_bounds_of(list);
    nh_tiles tiles;
    nh_status status = notation_read(&bounds, text, length, &tiles, error);
    if (status != NH_OK)
        return status;
    if (nh_tiles_total(&tiles) == 0)
        return error_set(error, NH_ERROR_TILES, 1, "there are no tiles");
    *hand = tiles;
    return NH_OK;
}

uint32_t nh_tiles_excess(const nh_list *list, const nh_tiles *seen, const char *text,
                         size_t length) {
    struct tile_bounds bounds = tile_bounds_of(list);
    nh_tiles tiles;
    nh_error error;
    bounds.most = 0;
    if (notation_read(&bounds, text, length, &tiles, NULL) != NH_OK)
        return 0;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        uint8_t *left = &bounds.set.count[kind];
        *left = (uint8_t)(*left > seen->count[kind] ? *left - seen->count[kind] : 0);
    }
    return notation_read(&bounds, text, length, &tiles, &error) == NH_OK ? 0 : error.column;
}
