/* Tiles read from text as players type them: "2468B 246C 33D EEW R Wh". */
#include "tiles/notation_read.h"
#include "base/status.h"
#include "tiles/kinds.h"

#include <string.h>

#define DIGITS_MAX 256 /* more ranks than any set has tiles */

/* Where the reader stands. Ranks wait until a suit letter follows. */
struct reader {
    const char *text;
    size_t length, at;
    uint32_t column; /* of text[at], in characters from 1 */
    struct tile_bounds bounds;
    nh_tiles tiles;
    int total;
    int digits;
    uint8_t digit[DIGITS_MAX];
    uint32_t digit_column[DIGITS_MAX];
    nh_error *error;
};

static nh_status add_tile(struct reader *reader, int kind, uint32_t column) {
    if (reader->tiles.count[kind] >= reader->bounds.set.count[kind]) {
        int copies = reader->bounds.set.count[kind];
        if (copies == 0)
            return error_set(reader->error, NH_ERROR_TILES, column,
                             "the list is played without %s (%s)", nh_kind_name(kind),
                             nh_kind_notation(kind));
        return error_set(reader->error, NH_ERROR_TILES, column,
                         "more than %d of %s: the set has no more of the %s", copies,
                         nh_kind_notation(kind), nh_kind_name(kind));
    }
    if (reader->bounds.most > 0 && reader->total >= reader->bounds.most)
        return error_set(reader->error, NH_ERROR_TILES, column, "too many tiles: a hand has %d%s",
                         reader->bounds.hand,
                         reader->bounds.most > reader->bounds.hand ? ", and one more for each kong"
                                                                   : "");
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
    if (kind_of_unicode(character) >= 0)
        kind = kind_of_unicode(character);
    else if (upper == 'W' && white_ahead(reader) != 0) {
        *taken = white_ahead(reader);
        kind = NH_WHITE;
    } else if (upper < 128 && upper != '?' && upper != 0 && strchr(letters, (int)upper) != NULL)
        kind = NH_EAST + (int)(strchr(letters, (int)upper) - letters);
    if (kind >= 0) {
        nh_status status = add_zeros(reader);
        return status != NH_OK ? status : add_tile(reader, kind, reader->column);
    }
    if (character == UNICODE_TILE_BACK)
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
    size_t taken = nh_utf8_next(reader->text + reader->at, reader->length - reader->at, &character);
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

struct tile_bounds bounds_full(void) {
    struct tile_bounds bounds = {.most = NH_TARGET_MAX};
    memset(bounds.set.count, COPIES, sizeof bounds.set.count);
    bounds.set.count[NH_FLOWER] = FLOWERS_MAX;
    bounds.set.count[NH_JOKER] = JOKERS_MAX;
    return bounds;
}

nh_status notation_read(const struct tile_bounds *bounds, const char *text, size_t length,
                        nh_tiles *tiles, nh_error *error) {
    struct reader reader = {
        .text = text, .length = length, .column = 1, .bounds = *bounds, .error = error};
    nh_status status = NH_OK;
    while (status == NH_OK && reader.at < length)
        status = read_character(&reader);
    if (status == NH_OK)
        status = add_zeros(&reader);
    if (status == NH_OK)
        *tiles = reader.tiles;
    return status;
}
