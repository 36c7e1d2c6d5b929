/* UTF-8 text, character by character, and the columns that characters take. */
#include "io/utf8.h"
#include "nearhand.h"

size_t utf8_decode(const char *text, size_t length, uint32_t *character) {
    size_t bytes = nh_utf8_next(text, length, character);
    if (bytes > 0)
        return bytes;
    *character = UTF8_REPLACEMENT;
    return 1;
}

size_t utf8_encode(uint32_t character, char bytes[4]) {
    if (character < 0x80) {
        bytes[0] = (char)character;
        return 1;
    }
    size_t length = character < 0x800 ? 2 : character < 0x10000 ? 3 : 4;
    for (size_t i = length - 1; i > 0; i--, character >>= 6)
        bytes[i] = (char)(0x80 | (character & 0x3F));
    bytes[0] = (char)((0xF00u >> length & 0xFF) | character);
    return length;
}

/* By the Unicode Standard: C0 and C1 controls, line and paragraph separator, and
 * the characters with the property Bidi_Control. */
bool utf8_is_control(uint32_t character) {
    return character < 0x20 || (character >= 0x7F && character < 0xA0) || character == 0x61C ||
           (character >= 0x200E && character <= 0x200F) ||
           (character >= 0x2028 && character <= 0x202E) ||
           (character >= 0x2066 && character <= 0x2069);
}

struct range {
    uint32_t first, last;
};

static bool within(uint32_t character, const struct range *ranges, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (character >= ranges[i].first && character <= ranges[i].last)
            return true;
    return false;
}

int utf8_width(uint32_t character) {
    static const struct range none[] = {
        {0x300, 0x36F},   {0x483, 0x489},   {0x591, 0x5BD},   {0x610, 0x61A},     {0x64B, 0x65F},
        {0x1AB0, 0x1ACE}, {0x1DC0, 0x1DFF}, {0x20D0, 0x20F0}, {0xFE00, 0xFE0F},   {0xFE20, 0xFE2F},
        {0x200B, 0x200D}, {0x2060, 0x2064}, {0xFEFF, 0xFEFF}, {0xE0100, 0xE01EF},
    };
    static const struct range wide[] = {
        {0x1100, 0x115F},   {0x231A, 0x231B},   {0x2329, 0x232A},   {0x23E9, 0x23F3},
        {0x25FD, 0x25FE},   {0x2614, 0x27BF},   {0x2B1B, 0x2B1C},   {0x2B50, 0x2B55},
        {0x2E80, 0xA4CF},   {0xA960, 0xA97C},   {0xAC00, 0xD7A3},   {0xF900, 0xFAFF},
        {0xFE10, 0xFE19},   {0xFE30, 0xFE6F},   {0xFF01, 0xFF60},   {0xFFE0, 0xFFE6},
        {0x16FE0, 0x1B2FB}, {0x1D300, 0x1D376}, {0x1F004, 0x1F004}, {0x1F0CF, 0x1F0CF},
        {0x1F100, 0x1FAFF}, {0x20000, 0x3FFFD},
    };
    if (character < 0x300)
        return 1;
    if (within(character, none, sizeof none / sizeof *none))
        return 0;
    return within(character, wide, sizeof wide / sizeof *wide) ? 2 : 1;
}
