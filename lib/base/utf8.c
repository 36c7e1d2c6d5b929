/* UTF-8 text, one character at a time. */
#include "nearhand.h"

size_t nh_utf8_next(const char *text, size_t length, uint32_t *character) {
    /* The first character that needs so many bytes: shorter ones are refused,
     * as RFC 3629, section 3, asks. */
    static const uint32_t least[5] = {0, 0, 0x80, 0x800, 0x10000};
    if (length == 0)
        return 0;
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
