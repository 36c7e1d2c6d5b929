/*
 * nearhand, chapter 2: tiles, and how players write them.
 */
#ifndef NEARHAND_TILES_H
#define NEARHAND_TILES_H

#include "nearhand_base.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ------------------------------------------------------------ tiles --- */

/* The tile kinds, in the order in which hands are written. A kind is a number
 * from 0 to NH_KINDS - 1; ranks of a suit are consecutive. */
enum {
    NH_BAM_1 = 0,  /* bams 1-9: 0-8 */
    NH_CRAK_1 = 9, /* craks 1-9: 9-17 */
    NH_DOT_1 = 18, /* dots 1-9: 18-26 */
    NH_EAST = 27,
    NH_SOUTH = 28,
    NH_WEST = 29,
    NH_NORTH = 30,
    NH_RED = 31,
    NH_GREEN = 32,
    NH_WHITE = 33,
    NH_FLOWER = 34,
    NH_JOKER = 35,
    NH_KINDS = 36
};

/* Most tiles in a complete hand of a list, and in any single target (a hand
 * and one replacement tile for each kong). */
#define NH_HAND_MAX 18
#define NH_TARGET_MAX 24

/* A multiset of tiles: count[kind] tiles of that kind. Hands, targets and the
 * tiles known to be gone are all of this type. A plain value: copy it freely.
 * All zero is "no tiles". Complete: it will not grow. */
typedef struct nh_tiles {
    uint8_t count[NH_KINDS];
} nh_tiles;

/* How many tiles there are in all. */
NH_API int nh_tiles_total(const nh_tiles *tiles);

/* Whether both are the same tiles. */
NH_API bool nh_tiles_equal(const nh_tiles *a, const nh_tiles *b);

/* Adds `more` to `tiles`. False, and `tiles` stays as it is, where a kind would
 * come to more than 255. */
NH_API bool nh_tiles_add(nh_tiles *tiles, const nh_tiles *more);

/* Takes `fewer` out of `tiles`. False, and `tiles` stays as it is, where it does
 * not hold them all. */
NH_API bool nh_tiles_take(nh_tiles *tiles, const nh_tiles *fewer);

/* The English name of a kind ("four of bams", "red dragon"), its notation
 * ("4B", "R"), and its character in the Unicode block Mahjong Tiles (a UTF-8
 * string); static strings. NULL for a kind out of range. */
NH_API const char *nh_kind_name(int kind);
NH_API const char *nh_kind_notation(int kind);
NH_API const char *nh_kind_unicode(int kind);

/* Winds, of the round and of seats. */
typedef enum nh_wind {
    NH_WIND_UNKNOWN = 0, /* each of the four in turn */
    NH_WIND_EAST = 1,
    NH_WIND_SOUTH = 2,
    NH_WIND_WEST = 3,
    NH_WIND_NORTH = 4
} nh_wind;

/* "east" to "north" (static), and 'E' to 'N'; NULL and 0 for the unknown wind
 * and for any other value. */
NH_API const char *nh_wind_name(nh_wind wind);
NH_API char nh_wind_letter(nh_wind wind);

typedef struct nh_list nh_list;

/* Reads tiles as players write them: "2468B 246C 33D EEW R Wh". Case and
 * spaces do not matter, commas are spaces, the white dragon may be typed 0,
 * and Unicode tile characters may be mixed in. Words are read as well: suits
 * ("2468 bam", "33 dots"), winds, dragons ("green", "GD", "red dragon",
 * "soap"), "flower", "joker". All ranks before a suit belong to it, so that
 * "3 dots" is one tile. A run of letters that is a word is that word: "green"
 * is the dragon, not five tiles. `text` is `length` bytes of UTF-8 and need
 * not end in a zero byte.
 *
 * With a `list`, no kind may have more tiles than the list's set holds; with
 * NULL the bound is 4 of each kind, 8 flowers and 16 jokers.
 * nh_hand_parse also refuses an empty hand and one with more tiles than a
 * hand of the list can come to (nh_list_hand_most; NH_TARGET_MAX with NULL);
 * nh_tiles_parse takes any number, for tiles seen elsewhere.
 *
 * Returns NH_OK, or NH_ERROR_TILES with the column of the first tile that
 * cannot be. `*tiles` is written only on success. Allocates nothing.
 * Thread-safe. */
NH_API nh_status nh_tiles_parse(const nh_list *list, const char *text, size_t length,
                                nh_tiles *tiles, nh_error *error);
NH_API nh_status nh_hand_parse(const nh_list *list, const char *text, size_t length, nh_tiles *hand,
                               nh_error *error);

/* The column of the first tile of a text of which there are, with those of `seen`,
 * more than the set holds (the bounds of nh_tiles_parse): it shows where a hand does
 * not fit the tiles seen. 0 if there is none, or the text cannot be read. Allocates
 * nothing. Thread-safe. */
NH_API uint32_t nh_tiles_excess(const nh_list *list, const nh_tiles *seen, const char *text,
                                size_t length);

/* Bytes that always suffice for nh_tiles_format, in either style, for up to
 * 160 tiles. */
#define NH_TILES_TEXT_SIZE 1024

typedef enum nh_style {
    NH_STYLE_LETTERS = 0, /* 2468B 246C 33D EEW R Wh */
    NH_STYLE_UNICODE = 1  /* tile characters, one space between suits */
} nh_style;

/* Writes tiles in sorted order: bams, craks, dots, winds E S W N, dragons
 * R G Wh, flowers, jokers. Like snprintf: returns the length of the whole text
 * and writes at most `size` bytes of it, the last of them zero; `buffer` may
 * be NULL when `size` is 0. */
NH_API size_t nh_tiles_format(const nh_tiles *tiles, nh_style style, char *buffer, size_t size);

#ifdef __cplusplus
}
#endif

#endif /* NEARHAND_TILES_H */
