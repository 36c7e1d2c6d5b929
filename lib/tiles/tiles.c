/* Tiles and their notation: names of the kinds, hand text in, hand text out. */
#include "tiles/tiles.h"

#include <stdio.h>
#include <string.h>

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
#define UNICODE_BACK 0x1F02Bu
static const uint8_t unicode_kinds[UNICODE_BACK - UNICODE_FIRST] = {
    27, 28, 29, 30, 31, 32, 33, 9,  10, 11, 12, 13, 14, 15, 16, 17, 0,  1,  2,  3,  4, 5,
    6,  7,  8,  18, 19, 20, 21, 22, 23, 24, 25, 26, 34, 34, 34, 34, 34, 34, 34, 34, 35};

static const char *const unicodes[NH_KINDS] = {
    "\U0001F010", "\U0001F011", "\U0001F012", "\U0001F013", "\U0001F014", "\U0001F015",
    "\U0001F016", "\U0001F017", "\U0001F018", "\U0001F007", "\U0001F008", "\U0001F009",
    "\U0001F00A", "\U0001F00B", "\U0001F00C", "\U0001F00D", "\U0001F00E", "\U0001F00F",
    "\U0001F019", "\U0001F01A", "\U0001F01B", "\U0001F01C", "\U0001F01D", "\U0001F01E",
    "\U0001F01F", "\U0001F020", "\U0001F021", "\U0001F000", "\U0001F001", "\U0001F002",
    "\U0001F003", "\U0001F004", "\U0001F005", "\U0001F006", "\U0001F022", "\U0001F02A"};

const char *nh_version(void) {
    return NH_VERSION;
}

const char *nh_status_text(nh_status status) {
    switch (status) {
    case NH_OK:
        return "no error";
    case NH_ERROR_MEMORY:
        return "memory is short";
    case NH_ERROR_ARGUMENT:
        return "a value is out of range";
    case NH_ERROR_TILES:
        return "the tiles cannot be read, or the set does not have them";
    case NH_ERROR_LIST:
        return "the list has mistakes";
    case NH_ERROR_FILE:
        return "the file cannot be read";
    case NH_ERROR_LIMIT:
        return "a limit was passed";
    }
    return "unknown status";
}

nh_status error_set(nh_error *error, nh_status status, uint32_t column, const char *format, ...) {
    if (error == NULL)
        return status;
    error->status = status;
    error->column = column;
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(error->text, sizeof error->text, format, arguments);
    va_end(arguments);
    return status;
}

const char *nh_kind_name(int kind) {
    return kind >= 0 && kind < NH_KINDS ? names[kind] : NULL;
}

const char *nh_kind_notation(int kind) {
    return kind >= 0 && kind < NH_KINDS ? notations[kind] : NULL;
}

const char *nh_kind_unicode(int kind) {
    return kind >= 0 && kind < NH_KINDS ? unicodes[kind] : NULL;
}

int nh_tiles_total(const nh_tiles *tiles) {
    int total = 0;
    for (int kind = 0; kind < NH_KINDS; kind++)
        total += tiles->count[kind];
    return total;
}

/* ----------------------------------------------------------- reading --- */

#define DIGITS_MAX 256 /* more ranks than any set has tiles */

/* Where the reader stands. Ranks wait until a suit letter tells their suit. */
struct reader {
    const char *text;
    size_t length, at;
    uint32_t column; /* of text[at], in characters from 1 */
    nh_tiles tiles, set;
    int total, whole, most; /* of a hand, with kongs; 0 for any number of tiles */
    int digits;
    uint8_t digit[DIGITS_MAX];
    uint32_t digit_column[DIGITS_MAX];
    nh_error *error;
};

size_t tiles_decode(const char *text, size_t length, uint32_t *character) {
    static const uint32_t least[5] = {0, 0, 0x80, 0x800, 0x10000};
    unsigned char lead = (unsigned char)text[0];
    size_t bytes = lead < 0x80       ? 1
                   : lead >> 5 == 6  ? 2
                   : lead >> 4 == 14 ? 3
                   : lead >> 3 == 30 ? 4
                                     : 0;
    if (bytes == 0 || bytes > length)
        return 0;
    uint32_t value = bytes == 1 ? lead : lead & (0x7Fu >> bytes);
    for (size_t i = 1; i < bytes; i++) {
        unsigned char next = (unsigned char)text[i];
        if (next >> 6 != 2)
            return 0;
        value = value << 6 | (next & 0x3Fu);
    }
    if (value < least[bytes] || value > 0x10FFFF || (value >= 0xD800 && value < 0xE000))
        return 0;
    *character = value;
    return bytes;
}

static nh_status add_tile(struct reader *reader, int kind, uint32_t column) {
    if (reader->tiles.count[kind] >= reader->set.count[kind]) {
        int copies = reader->set.count[kind];
        if (copies == 0)
            return error_set(reader->error, NH_ERROR_TILES, column,
                             "the list is played without %s (%s)", names[kind], notations[kind]);
        return error_set(reader->error, NH_ERROR_TILES, column,
                         "more than %d of %s: the set has no more of the %s", copies,
                         notations[kind], names[kind]);
    }
    if (reader->most > 0 && reader->total >= reader->most)
        return error_set(reader->error, NH_ERROR_TILES, column, "too many tiles: a hand has %d%s",
                         reader->whole,
                         reader->most > reader->whole ? ", and one more for each kong" : "");
    reader->tiles.count[kind]++;
    reader->total++;
    return NH_OK;
}

/* Ranks before a suit letter: all of them are of that suit. */
static nh_status add_suit(struct reader *reader, int first_kind) {
    if (reader->digits == 0)
        return error_set(reader->error, NH_ERROR_TILES, reader->column,
                         "a suit letter without a rank before it: write 4B, 8C or 1D");
    for (int i = 0; i < reader->digits; i++) {
        if (reader->digit[i] == 0)
            return error_set(reader->error, NH_ERROR_TILES, reader->digit_column[i],
                             "rank 0 with a suit: ranks run from 1 to 9, and 0 alone is the white "
                             "dragon");
        nh_status status =
            add_tile(reader, first_kind + reader->digit[i] - 1, reader->digit_column[i]);
        if (status != NH_OK)
            return status;
    }
    reader->digits = 0;
    return NH_OK;
}

/* Ranks that no suit letter follows: zeros are white dragons, others a mistake.
 */
static nh_status add_zeros(struct reader *reader) {
    for (int i = 0; i < reader->digits; i++)
        if (reader->digit[i] != 0)
            return error_set(reader->error, NH_ERROR_TILES, reader->digit_column[i],
                             "rank %d has no suit: a letter B, C or D must follow it",
                             reader->digit[i]);
    for (int i = 0; i < reader->digits; i++) {
        nh_status status = add_tile(reader, NH_WHITE, reader->digit_column[i]);
        if (status != NH_OK)
            return status;
    }
    reader->digits = 0;
    return NH_OK;
}

static bool is_space(uint32_t character) {
    return character == ' ' || character == ',' || (character >= '\t' && character <= '\r') ||
           character == 0xA0 || character == 0x3000 || character == 0x202F ||
           (character >= 0x2000 && character <= 0x200B);
}

/* As is_space, of one byte: a byte of a longer character is no space. */
static bool is_plain_space(char byte) {
    return (unsigned char)byte < 0x80 && is_space((unsigned char)byte);
}

static bool is_digit(uint32_t character) {
    return character >= '0' && character <= '9';
}

/* Whether what is ahead, past spaces, is an h: then W is the white dragon. */
static size_t white_ahead(const struct reader *reader) {
    size_t at = reader->at + 1;
    while (at < reader->length && is_plain_space(reader->text[at]))
        at++;
    return at < reader->length && (reader->text[at] == 'h' || reader->text[at] == 'H')
               ? at + 1 - reader->at
               : 0;
}

static nh_status add_digit(struct reader *reader, uint8_t digit) {
    if (reader->digits == DIGITS_MAX)
        return error_set(reader->error, NH_ERROR_TILES, reader->column,
                         "too many ranks without a suit letter");
    reader->digit[reader->digits] = digit;
    reader->digit_column[reader->digits++] = reader->column;
    return NH_OK;
}

/* A space ends a run of ranks; one that is all zeros stands for white dragons
 * unless a suit letter comes next. */
static nh_status end_of_run(struct reader *reader, size_t taken) {
    size_t at = reader->at + taken;
    if (reader->digits == 0 || (at < reader->length && is_plain_space(reader->text[at])))
        return NH_OK; /* the last space of several decides */
    for (int i = 0; i < reader->digits; i++)
        if (reader->digit[i] != 0)
            return NH_OK;
    if (at < reader->length && reader->text[at] != '\0' &&
        strchr("bcdBCD", reader->text[at]) != NULL)
        return NH_OK;
    return add_zeros(reader);
}

/* Letters and tile characters. `taken` is how many bytes of ASCII they are. */
static nh_status add_letter(struct reader *reader, uint32_t character, size_t *taken) {
    static const char letters[] = "ESWNRG?FJ";
    uint32_t upper = character >= 'a' && character <= 'z' ? character - 32 : character;
    if (upper == 'B' || upper == 'C' || upper == 'D')
        return add_suit(reader, upper == 'B' ? NH_BAM_1 : upper == 'C' ? NH_CRAK_1 : NH_DOT_1);
    int kind = -1;
    if (character >= UNICODE_FIRST && character < UNICODE_BACK)
        kind = unicode_kinds[character - UNICODE_FIRST];
    else if (upper == 'W' && white_ahead(reader) != 0) {
        *taken = white_ahead(reader);
        kind = NH_WHITE;
    } else if (upper < 128 && upper != '?' && upper != 0 && strchr(letters, (int)upper) != NULL)
        kind = NH_EAST + (int)(strchr(letters, (int)upper) - letters);
    if (kind >= 0) {
        nh_status status = add_zeros(reader);
        return status != NH_OK ? status : add_tile(reader, kind, reader->column);
    }
    if (character == UNICODE_BACK)
        return error_set(reader->error, NH_ERROR_TILES, reader->column,
                         "a tile that lies face down cannot be counted");
    if (character < 0x20 || (character >= 0x7F && character < 0xA0))
        return error_set(reader->error, NH_ERROR_TILES, reader->column,
                         "a control character is not a tile");
    return error_set(reader->error, NH_ERROR_TILES, reader->column,
                     "'%.*s' is not a tile: write ranks with B, C or D, winds E "
                     "S W N, dragons R "
                     "G Wh, F, J",
                     (int)*taken, reader->text + reader->at);
}

static nh_status read_character(struct reader *reader) {
    uint32_t character = 0;
    size_t taken = tiles_decode(reader->text + reader->at, reader->length - reader->at, &character);
    if (taken == 0)
        return error_set(reader->error, NH_ERROR_TILES, reader->column,
                         "the text is not valid UTF-8 here");
    nh_status status = NH_OK;
    size_t columns = 1;
    if (is_digit(character))
        status = add_digit(reader, (uint8_t)(character - '0'));
    else if (is_space(character))
        status = end_of_run(reader, taken);
    else if (character != 0xFE0E && character != 0xFE0F && character != 0xFEFF) {
        size_t bytes = taken;
        status = add_letter(reader, character, &taken);
        if (taken != bytes)
            columns = taken;
    }
    reader->at += taken;
    reader->column += (uint32_t)columns;
    return status;
}

static nh_status read_tiles(const nh_list *list, const char *text, size_t length, int most,
                            nh_tiles *tiles, nh_error *error) {
    struct reader reader = {.text = text, .length = length, .column = 1, .error = error};
    reader.set = list_set_or_full(list);
    reader.whole = list != NULL ? nh_list_hand_size(list) : 0;
    reader.most = most;
    nh_status status = NH_OK;
    while (status == NH_OK && reader.at < length)
        status = read_character(&reader);
    if (status == NH_OK)
        status = add_zeros(&reader);
    if (status == NH_OK)
        *tiles = reader.tiles;
    return status;
}

nh_status nh_tiles_parse(const nh_list *list, const char *text, size_t length, nh_tiles *tiles,
                         nh_error *error) {
    return read_tiles(list, text, length, 0, tiles, error);
}

nh_status nh_hand_parse(const nh_list *list, const char *text, size_t length, nh_tiles *hand,
                        nh_error *error) {
    nh_tiles tiles;
    nh_status status = read_tiles(list, text, length, list_most_or_full(list), &tiles, error);
    if (status != NH_OK)
        return status;
    if (nh_tiles_total(&tiles) == 0)
        return error_set(error, NH_ERROR_TILES, 1, "there are no tiles");
    *hand = tiles;
    return NH_OK;
}

/* ----------------------------------------------------------- writing --- */

/* A text that grows in a buffer of fixed size, as snprintf's does. */
struct writer {
    char *buffer;
    size_t size, length;
};

static void put(struct writer *writer, const char *text, size_t length) {
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
        const char *text = style == NH_STYLE_UNICODE ? unicodes[kind] : notations[kind];
        size_t length = suit && style == NH_STYLE_LETTERS ? 1 : strlen(text);
        for (int i = 0; i < tiles->count[kind]; i++)
            put(writer, text, length);
    }
    if (suit && style == NH_STYLE_LETTERS)
        put(writer, notations[first] + 1, 1);
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
            put(&writer, " ", 1);
        put_word(&writer, tiles, words[i].first, words[i].last, style);
    }
    if (size > 0)
        buffer[writer.length < size ? writer.length : size - 1] = '\0';
    return writer.length;
}
