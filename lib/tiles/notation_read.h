/* Tiles read from text as players type them. */
#ifndef NH_TILES_NOTATION_READ_H
#define NH_TILES_NOTATION_READ_H

#include "tiles/tiles.h"

/* What the tiles of a text are checked against. */
struct tile_bounds {
    nh_tiles set;      /* copies of each kind */
    bool listed;       /* they are those of a list */
    int most;          /* most tiles, with one more for each kong; 0 for any number */
    nh_tiles on_table; /* own sets, which are not in `set` */
};

/* The fullest set, and the largest hand of any list. */
struct tile_bounds bounds_full(void);

/* As nh_tiles_parse. */
nh_status notation_read(const struct tile_bounds *bounds, const char *text, size_t length,
                        nh_tiles *tiles, nh_error *error);

#endif
