/* Tiles written in hand notation, sorted: "2468B 246C 33D EEW R Wh". */
#include "tiles/tiles.h"

#include <string.h>

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

size_t nh_tiles_format(const nh_tiles *tiles, nh_style style, char *buffer, size_t size) {
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
