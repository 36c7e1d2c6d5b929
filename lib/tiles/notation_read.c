/* Tiles read from text as players type them: "2468B 246C 33D EEW R Wh", or
 * "2468 bam 246 crak 33 dot east east west red soap".
 *
 * Ranks wait until a suit follows: all that wait are of that suit, so that
 * "3 dots" is one tile. A run of letters that is one of the words in
 * notation_words.c is that word; every other run is read letter by letter, so
 * that "EEW" needs no spaces. Of the words only "green" and "greens" could be
 * read as letters as well (G R E E N); they are the dragon. */
#include "tiles/notation_read.h"
#include "base/status.h"
#include "tiles/kinds.h"
#include "tiles/notation_words.h"

#include <string.h>

#define DIGITS_MAX 256 /* more ranks than any set has tiles */
#define SHOWN_MOST 20  /* characters of a text that a mistake shows again */

/* Where the reader stands. */
struct tile_reader {
    const char *text;
    size_t length, at;
    uint32_t column; /* of text[at], in characters from 1 */
    struct tile_bounds bounds;
    nh_tiles tiles;
    int total;
    int last;          /* the kind read last, where a word such as "dragon" may follow; or -1 */
    size_t dragon_end; /* the byte after a letter for a dragon: a D there belongs to it */
    int digits;        /* ranks that wait for their suit */
    uint8_t digit[DIGITS_MAX];
    uint32_t digit_column[DIGITS_MAX];
    nh_error *error;
};

#define REFUSE(reader, column, ...) error_set((reader)->error, NH_ERROR_TILES, column, __VA_ARGS__)

/* ------------------------------------------------------------- tiles --- */

static nh_status count_tile(struct tile_reader *reader, int kind, uint32_t column) {
    int copies = reader->bounds.set.count[kind], most = reader->bounds.most;
    if (copies == 0 && reader->bounds.on_table.count[kind] > 0)
        return REFUSE(reader, column, "every %s lies on the table already", nh_kind_notation(kind));
    if (reader->tiles.count[kind] >= copies && reader->bounds.on_table.count[kind] > 0)
        return REFUSE(reader, column, "more than %d of %s: the others lie on the table", copies,
                      nh_kind_notation(kind));
    if (copies == 0)
        return REFUSE(reader, column, "the list is played without %s (%s)", nh_kind_name(kind),
                      nh_kind_notation(kind));
    if (reader->tiles.count[kind] >= copies)
        return REFUSE(reader, column, "more than %d of %s: the set has no more of the %s", copies,
                      nh_kind_notation(kind), nh_kind_name(kind));
    if (most > 0 && reader->total >= most)
        return REFUSE(reader, column, "too many tiles: a hand has at most %d%s", most,
                      !reader->bounds.listed                         ? ""
                      : nh_tiles_total(&reader->bounds.on_table) > 0 ? " beside the sets"
                                                                     : " on this list");
    reader->tiles.count[kind]++;
    reader->total++;
    reader->last = kind;
    return NH_OK;
}

/* The ranks that wait are of the suit whose first kind is given. */
static nh_status end_ranks_with_suit(struct tile_reader *reader, int first_kind) {
    for (int i = 0; i < reader->digits; i++) {
        if (reader->digit[i] == 0)
            return REFUSE(reader, reader->digit_column[i],
                          "rank 0 with a suit: ranks run from 1 to 9, and 0 alone is the white "
                          "dragon");
        nh_status status =
            count_tile(reader, first_kind + reader->digit[i] - 1, reader->digit_column[i]);
        if (status != NH_OK)
            return status;
    }
    reader->digits = 0;
    reader->last = -1;
    return NH_OK;
}

/* No suit follows the ranks that wait: zeros are white dragons, others a
 * mistake. */
static nh_status end_ranks(struct tile_reader *reader) {
    for (int i = 0; i < reader->digits; i++)
        if (reader->digit[i] != 0)
            return REFUSE(reader, reader->digit_column[i],
                          "rank %d has no suit: a letter B, C or D must follow it",
                          reader->digit[i]);
    for (int i = 0; i < reader->digits; i++) {
        nh_status status = count_tile(reader, NH_WHITE, reader->digit_column[i]);
        if (status != NH_OK)
            return status;
    }
    reader->digits = 0;
    return NH_OK;
}

static nh_status read_tile(struct tile_reader *reader, int kind) {
    nh_status status = end_ranks(reader);
    return status != NH_OK ? status : count_tile(reader, kind, reader->column);
}

/* "2 east", "2F": a number that is no rank of a suit. */
static nh_status refuse_loose_rank(struct tile_reader *reader, int kind) {
    for (int i = 0; i < reader->digits; i++)
        if (reader->digit[i] != 0)
            return REFUSE(reader, reader->digit_column[i],
                          "rank %d has no suit; for several tiles write each, as in %s%s for two",
                          reader->digit[i], nh_kind_notation(kind), nh_kind_notation(kind));
    return NH_OK;
}

/* -------------------------------------------------------- characters --- */

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

static uint32_t upper_case(uint32_t character) {
    return character >= 'a' && character <= 'z' ? character - 'a' + 'A' : character;
}

/* Whether the byte at a place is this letter, in either case. */
static bool letter_is(const struct tile_reader *reader, size_t at, char letter) {
    return at < reader->length && upper_case((unsigned char)reader->text[at]) == (uint32_t)letter;
}

static bool is_letter_at(const struct tile_reader *reader, size_t at) {
    uint32_t upper = at < reader->length ? upper_case((unsigned char)reader->text[at]) : 0;
    return upper >= 'A' && upper <= 'Z';
}

/* --------------------------------------------------------------- words --- */

static size_t letters_from(const struct tile_reader *reader, size_t start) {
    size_t end = start;
    while (is_letter_at(reader, end))
        end++;
    return end - start;
}

/* "dragon" after its colour, "wind" after its name. */
static nh_status read_kind_of_honour(struct tile_reader *reader, const struct typed_word *word) {
    bool dragon = word->meaning == TYPED_DRAGON;
    nh_status status = end_ranks(reader); /* "0 dragon" */
    bool fits = dragon ? reader->last >= NH_RED && reader->last <= NH_WHITE
                       : reader->last >= NH_EAST && reader->last <= NH_NORTH;
    reader->last = -1;
    if (status != NH_OK || fits)
        return status;
    return REFUSE(reader, reader->column,
                  dragon ? "which dragon? Write red, green or white before it, or R, G or Wh"
                         : "which wind? Write east, south, west or north before it, or E, S, W or "
                           "N");
}

static nh_status read_tile_word(struct tile_reader *reader, int kind) {
    nh_status status = refuse_loose_rank(reader, kind);
    return status != NH_OK ? status : read_tile(reader, kind);
}

/* A plural: of "2 flowers" and "red dragons" the player meant several. */
static nh_status refuse_several(struct tile_reader *reader, const struct typed_word *word) {
    int last = reader->last;
    bool named = (word->kind == NH_RED && last >= NH_RED && last <= NH_WHITE) ||
                 (word->kind == NH_EAST && last >= NH_EAST && last <= NH_NORTH);
    const char *notation = nh_kind_notation(named ? last : word->kind);
    return REFUSE(reader, reader->column, "'%s': write each tile, as in %s%s for two", word->word,
                  notation, notation);
}

static nh_status read_word(struct tile_reader *reader, const struct typed_word *word) {
    switch (word->meaning) {
    case TYPED_SUIT:
        if (reader->digits == 0)
            return REFUSE(reader, reader->column,
                          "'%s' without a rank before it: write the ranks first, as in 246 %s",
                          word->word, word->word);
        return end_ranks_with_suit(reader, word->kind);
    case TYPED_TILE:
        return read_tile_word(reader, word->kind);
    case TYPED_SEVERAL:
        return refuse_several(reader, word);
    default:
        return read_kind_of_honour(reader, word);
    }
}

/* ------------------------------------------------------------- letters --- */

/* B, C or D: the suit of the ranks before it. In "GD", "RD" and "WD" the D
 * says that the letter is a dragon. */
static nh_status read_suit_letter(struct tile_reader *reader, uint32_t upper) {
    if (reader->digits > 0)
        return end_ranks_with_suit(reader, upper == 'B'   ? NH_BAM_1
                                           : upper == 'C' ? NH_CRAK_1
                                                          : NH_DOT_1);
    if (upper == 'D' && reader->at > 0 && reader->dragon_end == reader->at)
        return NH_OK;
    return REFUSE(reader, reader->column,
                  "a suit letter without a rank before it: write 4B, 8C or 1D");
}

/* How many bytes before a place are digits. */
static size_t digits_before(const struct tile_reader *reader) {
    size_t count = 0;
    while (count < reader->at && is_digit((unsigned char)reader->text[reader->at - count - 1]))
        count++;
    return count;
}

/* The letter of a flower or joker right behind ranks: "555JB" has the suit too late, "3J"
 * is meant to be three jokers. */
static nh_status read_after_ranks(struct tile_reader *reader, int kind) {
    size_t ranks = digits_before(reader), jokers = 0;
    while (letter_is(reader, reader->at + jokers, 'J'))
        jokers++;
    const char *letter = reader->text + reader->at;
    size_t suit = reader->at + jokers;
    bool late = jokers > 0 && (letter_is(reader, suit, 'B') || letter_is(reader, suit, 'C') ||
                               letter_is(reader, suit, 'D'));
    if (late && ranks > 0 && ranks + jokers <= SHOWN_MOST)
        return REFUSE(reader, reader->column, "the suit stands before the joker: write %.*s%c%.*s",
                      (int)ranks, letter - ranks, letter[jokers], (int)jokers, letter);
    nh_status status = ranks == 1 ? refuse_loose_rank(reader, kind) : NH_OK;
    return status != NH_OK ? status : read_tile(reader, kind);
}

/* W is west; with an h after it, past spaces, or a D right behind it, the white
 * dragon. `*taken` becomes the bytes up to the h. */
static nh_status read_w(struct tile_reader *reader, size_t *taken) {
    size_t at = reader->at + 1;
    if (letter_is(reader, at, 'D')) {
        if (reader->at > 0 && letter_is(reader, reader->at - 1, 'W'))
            return REFUSE(reader, reader->column,
                          "WWD can be read in two ways: write W Wh, or WhWh for two white dragons");
        reader->dragon_end = at;
        return read_tile(reader, NH_WHITE);
    }
    while (at < reader->length && is_plain_space(reader->text[at]))
        at++;
    if (!letter_is(reader, at, 'H'))
        return read_tile(reader, NH_WEST);
    *taken = at + 1 - reader->at;
    return read_tile(reader, NH_WHITE);
}

/* Names what stands there, or the word that it may have been meant to be. */
static nh_status refuse_character(struct tile_reader *reader, uint32_t character, size_t bytes) {
    if (character == UNICODE_TILE_BACK)
        return REFUSE(reader, reader->column, "a tile that lies face down cannot be counted");
    if (character < 0x20 || (character >= 0x7F && character < 0xA0))
        return REFUSE(reader, reader->column, "a control character is not a tile");
    size_t start = reader->at;
    while (is_letter_at(reader, reader->at) && start > 0 && is_letter_at(reader, start - 1))
        start--;
    size_t letters = letters_from(reader, start);
    const char *near = typed_word_near(reader->text + start, letters);
    if (near != NULL)
        return REFUSE(reader, reader->column - (uint32_t)(reader->at - start),
                      "'%.*s' is not a tile: write %s", (int)letters, reader->text + start, near);
    return REFUSE(reader, reader->column,
                  "'%.*s' is not a tile: write ranks with B, C or D, winds E S W N, dragons R G "
                  "Wh, F, J",
                  (int)bytes, reader->text + reader->at);
}

/* Letters and tile characters. `*taken` is how many bytes they are. */
static nh_status read_letter(struct tile_reader *reader, uint32_t character, size_t *taken) {
    static const char letters[] = "ESWNRG?FJ"; /* in the order of the kinds; Wh for the ? */
    uint32_t upper = upper_case(character);
    if (kind_of_unicode(character) >= 0)
        return read_tile(reader, kind_of_unicode(character));
    if (upper == 'B' || upper == 'C' || upper == 'D')
        return read_suit_letter(reader, upper);
    if (upper == 'W')
        return read_w(reader, taken);
    const char *found = is_letter_at(reader, reader->at) ? strchr(letters, (int)upper) : NULL;
    if (found == NULL)
        return refuse_character(reader, character, *taken);
    int kind = NH_EAST + (int)(found - letters);
    if (kind == NH_RED || kind == NH_GREEN)
        reader->dragon_end = reader->at + 1;
    return kind >= NH_FLOWER ? read_after_ranks(reader, kind) : read_tile(reader, kind);
}

/* --------------------------------------------------------------- ranks --- */

static nh_status read_digit(struct tile_reader *reader, uint8_t digit) {
    if (reader->digits == DIGITS_MAX)
        return REFUSE(reader, reader->column, "too many ranks without a suit letter");
    reader->digit[reader->digits] = digit;
    reader->digit_column[reader->digits++] = reader->column;
    return NH_OK;
}

/* A space ends a run of ranks: one that is all zeros stands for white dragons
 * unless a suit letter comes next. */
static nh_status read_space(struct tile_reader *reader, size_t bytes) {
    size_t at = reader->at + bytes;
    if (reader->digits == 0 || (at < reader->length && is_plain_space(reader->text[at])))
        return NH_OK; /* the last space of several decides */
    for (int i = 0; i < reader->digits; i++)
        if (reader->digit[i] != 0)
            return NH_OK;
    if (letter_is(reader, at, 'B') || letter_is(reader, at, 'C') || letter_is(reader, at, 'D'))
        return NH_OK;
    return end_ranks(reader);
}

/* ---------------------------------------------------------------- text --- */

/* A word, where a run of letters begins and is one. */
static const struct typed_word *word_here(const struct tile_reader *reader) {
    if (reader->at > 0 && is_letter_at(reader, reader->at - 1))
        return NULL;
    return typed_word_find(reader->text + reader->at, letters_from(reader, reader->at));
}

/* The marks that choose how a character is drawn, and that of the byte order. */
static bool is_mark(uint32_t character) {
    return character == 0xFE0E || character == 0xFE0F || character == 0xFEFF;
}

static nh_status read_character(struct tile_reader *reader) {
    uint32_t character = 0;
    size_t bytes = nh_utf8_next(reader->text + reader->at, reader->length - reader->at, &character);
    if (bytes == 0)
        return REFUSE(reader, reader->column, "the text is not valid UTF-8 here");
    nh_status status = NH_OK;
    size_t taken = bytes;
    const struct typed_word *word = word_here(reader);
    if (word != NULL) {
        status = read_word(reader, word);
        taken = strlen(word->word);
    } else if (is_digit(character)) {
        status = read_digit(reader, (uint8_t)(character - '0'));
    } else if (is_space(character)) {
        status = read_space(reader, bytes);
    } else if (!is_mark(character)) {
        status = read_letter(reader, character, &taken);
    }
    reader->at += taken;
    reader->column += (uint32_t)(taken == bytes ? 1 : taken);
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
    struct tile_reader reader = {
        .text = text, .length = length, .column = 1, .bounds = *bounds, .last = -1, .error = error};
    nh_status status = NH_OK;
    while (status == NH_OK && reader.at < length)
        status = read_character(&reader);
    if (status == NH_OK)
        status = end_ranks(&reader);
    if (status == NH_OK)
        *tiles = reader.tiles;
    return status;
}
