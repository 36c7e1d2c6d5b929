/* Tiles as pictures of an HTML page: symbols that stand in it once, and are used for each
 * tile. What is read aloud are words. */
#ifndef CLI_SHEET_TILE_DRAWING_H
#define CLI_SHEET_TILE_DRAWING_H

#include "nearhand.h"

/* The bytes of tiles.svg. */
extern const unsigned char tiles_svg[];
extern const size_t tiles_svg_size;

/* Writes its symbols, which stand before all tiles. */
void tile_symbols_out(void);

/* How the tiles look, for the style sheet of the page. */
extern const char tile_styles[];

/* Tiles of a hand, sorted as hands are. */
void tiles_drawn_out(const nh_tiles *tiles);

/* A target in its groups: tiles that are needed are dashed, and those that a joker
 * stands for have its mark. `list` is the one that the layout is of. */
void target_drawn_out(const nh_list *list, const nh_ranked *row, const nh_layout *layout);

#endif
