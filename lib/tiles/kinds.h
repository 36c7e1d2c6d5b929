/* The kinds of tiles; their names are public (nh_kind_name and others). */
#ifndef NH_TILES_KINDS_H
#define NH_TILES_KINDS_H

#include "nearhand.h"

/* The character of a tile that lies face down. */
#define UNICODE_TILE_BACK 0x1F02Bu

/* The kind that a character of the Unicode block Mahjong Tiles shows, or -1. */
int kind_of_unicode(uint32_t character);

#endif
