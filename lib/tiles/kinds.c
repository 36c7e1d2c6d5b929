/* The kinds of tiles: their names, notations and Unicode characters. */
#include "tiles/kinds.h"

static const char *const names[NH_KINDS] = {
    "one of bams",    "two of bams",    "three of bams", "four of bams",  "five of bams",
    "six of bams",    "seven of bams",  "eight of bams", "nine of bams",  "one of craks",
    "two of craks",   "three of craks", "four of craks", "five of craks", "six of craks",
    "seven of craks", "eight of craks", "nine of craks", "one of dots",   "two of dots",
    "three of dots",  "four of dots",   "five of dots",  "six of dots",   "seven of dots",
    "eight of dots",  "nine of dots",   "east wind",     "south wind",    "west wind",
    "north wind",     "red dragon",     "green dragon",  "white dragon",  "flower",
    "joker"};

static const char *const notations[NH_KINDS] = {
    "1B", "2B", "3B", "4B", "5B", "6B", "7B", "8B", "9B", "1C", "2C", "3C",
    "4C", "5C", "6C", "7C", "8C", "9C", "1D", "2D", "3D", "4D", "5D", "6D",
    "7D", "8D", "9D", "E",  "S",  "W",  "N",  "R",  "G",  "Wh", "F",  "J"};

/* The Unicode Standard, block Mahjong Tiles: winds from U+1F000, dragons from
 * U+1F004, characters (craks), bamboos and circles from U+1F007, the four
 * plants and four seasons (flowers) from U+1F022, the joker U+1F02A. */
#define UNICODE_FIRST 0x1F000u
static const uint8_t unicode_kinds[UNICODE_TILE_BACK - UNICODE_FIRST] = {
    27, 28, 29, 30, 31, 32, 33, 9,  10, 11, 12, 13, 14, 15, 16, 17, 0,  1,  2,  3,  4, 5,
    6,  7,  8,  18, 19, 20, 21, 22, 23, 24, 25, 26, 34, 34, 34, 34, 34, 34, 34, 34, 35};

static const char *const unicodes[NH_KINDS] = {
    "\U0001F010", "\U0001F011", "\U0001F012", "\U0001F013", "\U0001F014", "\U0001F015",
    "\U0001F016", "\U0001F017", "\U0001F018", "\U0001F007", "\U0001F008", "\U0001F009",
    "\U0001F00A", "\U0001F00B", "\U0001F00C", "\U0001F00D", "\U0001F00E", "\U0001F00F",
    "\U0001F019", "\U0001F01A", "\U0001F01B", "\U0001F01C", "\U0001F01D", "\U0001F01E",
    "\U0001F01F", "\U0001F020", "\U0001F021", "\U0001F000", "\U0001F001", "\U0001F002",
    "\U0001F003", "\U0001F004", "\U0001F005", "\U0001F006", "\U0001F022", "\U0001F02A"};

const char *nh_kind_name(int kind) {
    return kind >= 0 && kind < NH_KINDS ? names[kind] : NULL;
}

const char *nh_kind_notation(int kind) {
    return kind >= 0 && kind < NH_KINDS ? notations[kind] : NULL;
}

const char *nh_kind_unicode(int kind) {
    return kind >= 0 && kind < NH_KINDS ? unicodes[kind] : NULL;
}

int kind_of_unicode(uint32_t character) {
    bool face = character >= UNICODE_FIRST && character < UNICODE_TILE_BACK;
    return face ? unicode_kinds[character - UNICODE_FIRST] : -1;
}
