/* Tiles written in hand notation, sorted: "2468B 246C 33D EEW R Wh".
 *
 * Nearly all texts are of letters, of few tiles, into a buffer with room to spare. They are
 * written without asking how many tiles of a kind there are: a row of its characters goes
 * down, and as many stay as there are tiles, the next kind being written over the others. */
#include "tiles/tiles.h"

#include <string.h>

/* ------------------------------------------------------------ few tiles --- */

/* A row has more characters than a kind has tiles here. */
#define ROW 16

/* Whether each kind has fewer tiles than a row has room for. */
static bool are_few(const nh_tiles *tiles) {
    uint32_t four, any = 0;
    for (size_t kind = 0; kind < NH_KINDS; kind += sizeof four) {
        memcpy(&four, tiles->count + kind, sizeof four);
        any |= four;
    }
    return (any & ~(0x01010101u * (ROW - 1))) == 0;
}

static char *put_row(char *to, char letter, uint8_t count) {
    memset(to, letter, ROW);
    return to + count;
}

static char *put_suit(char *to, const uint8_t *count, char suit) {
    uint64_t first_eight;
    memcpy(&first_eight, count, sizeof first_eight);
    if (first_eight == 0 && count[PART_KINDS - 1] == 0)
        return to;
    for (int slot = 0; slot < PART_KINDS; slot++)
        to = put_row(to, (char)('1' + slot), count[slot]);
    *to++ = suit;
    *to++ = ' ';
    return to;
}

static char *put_winds(char *to, const uint8_t *count) {
    char *winds = to;
    to = put_row(to, 'E', count[NH_EAST]);
    to = put_row(to, 'S', count[NH_SOUTH]);
    to = put_row(to, 'W', count[NH_WEST]);
    to = put_row(to, 'N', count[NH_NORTH]);
    *to = ' ';
    return to == winds ? to : to + 1;
}

static char *put_alike(char *to, char letter, uint8_t count) {
    char *tile = to;
    to = put_row(to, letter, count);
    *to = ' ';
    return to == tile ? to : to + 1;
}

static char *put_white(char *to, uint8_t count) {
    for (int i = 0; i < count; i++, to += 2)
        memcpy(to, "Wh", 2);
    *to = ' ';
    return count == 0 ? to : to + 1;
}

/* Each word ends in a space, the last of which gives way to the zero byte. */
static size_t write_few(const nh_tiles *tiles, char *buffer) {
    const uint8_t *count = tiles->count;
    char *to = buffer;
    for (int part = PART_BAM; part < SUITS; part++)
        to = put_suit(to, count + part * PART_KINDS, "BCD"[part]);
    to = put_winds(to, count);
    to = put_alike(to, 'R', count[NH_RED]);
    to = put_alike(to, 'G', count[NH_GREEN]);
    to = put_white(to, count[NH_WHITE]);
    to = put_alike(to, 'F', count[NH_FLOWER]);
    to = put_alike(to, 'J', count[NH_JOKER]);
    if (to > buffer)
        to--;
    *to = '\0';
    return (size_t)(to - buffer);
}

/* -------------------------------------------------------------- any text --- */

/* A text that grows in a buffer of fixed size, as snprintf's does. */
struct writer {
    char *buffer;
    size_t size, length;
};

static void put_bytes(struct writer *writer, const char *text, size_t length) {
    for (size_t i = 0; i < length; i++, writer->length++)
        if (writer->length + 1 < writer->size)
            writer->buffer[writer->length] = text[i];
}

/* Kinds that are written as one word: a suit, the winds, each dragon, flowers,
 * jokers. */
static const struct {
    uint8_t first, last;
} words[] = {{0, 8}, {9, 17}, {18, 26}, {27, 30}, {31, 31}, {32, 32}, {33, 33}, {34, 34}, {35, 35}};

static void put_word(struct writer *writer, const nh_tiles *tiles, int first, int last,
                     nh_style style) {
    bool suit = last - first == PART_KINDS - 1;
    for (int kind = first; kind <= last; kind++) {
        const char *text =
            style == NH_STYLE_UNICODE ? nh_kind_unicode(kind) : nh_kind_notation(kind);
        size_t length = suit && style == NH_STYLE_LETTERS ? 1 : strlen(text);
        for (int i = 0; i < tiles->count[kind]; i++)
            put_bytes(writer, text, length);
    }
    if (suit && style == NH_STYLE_LETTERS)
        put_bytes(writer, nh_kind_notation(first) + 1, 1);
}

static size_t write_any(const nh_tiles *tiles, nh_style style, char *buffer, size_t size) {
    struct writer writer = {buffer, size, 0};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        int total = 0;
        for (int kind = words[i].first; kind <= words[i].last; kind++)
            total += tiles->count[kind];
        if (total == 0)
            continue;
        if (writer.length > 0)
            put_bytes(&writer, " ", 1);
        put_word(&writer, tiles, words[i].first, words[i].last, style);
    }
    if (size > 0)
        buffer[writer.length < size ? writer.length : size - 1] = '\0';
    return writer.length;
}

size_t nh_tiles_format(const nh_tiles *tiles, nh_style style, char *buffer, size_t size) {
    if (style == NH_STYLE_LETTERS && size >= NH_TILES_TEXT_SIZE && are_few(tiles))
        return write_few(tiles, buffer);
    return write_any(tiles, style, buffer, size);
}
