/* UTF-8 read character by character: every character of Unicode, every short
 * byte string that is none, and texts that end too early. */
#define _POSIX_C_SOURCE 200809L
#include "api.h"

/* RFC 3629, section 3: the bytes of a character, written the plain way. */
static size_t encode(uint32_t character, char bytes[4]) {
    if (character < 0x80) {
        bytes[0] = (char)character;
        return 1;
    }
    if (character < 0x800) {
        bytes[0] = (char)(0xC0 | character >> 6);
        bytes[1] = (char)(0x80 | (character & 0x3F));
        return 2;
    }
    if (character < 0x10000) {
        bytes[0] = (char)(0xE0 | character >> 12);
        bytes[1] = (char)(0x80 | (character >> 6 & 0x3F));
        bytes[2] = (char)(0x80 | (character & 0x3F));
        return 3;
    }
    bytes[0] = (char)(0xF0 | character >> 18);
    bytes[1] = (char)(0x80 | (character >> 12 & 0x3F));
    bytes[2] = (char)(0x80 | (character >> 6 & 0x3F));
    bytes[3] = (char)(0x80 | (character & 0x3F));
    return 4;
}

static bool is_character(uint32_t number) {
    return number <= 0x10FFFF && (number < 0xD800 || number > 0xDFFF);
}

START_TEST(every_character_is_read) {
    for (uint32_t number = 0; number <= 0x110000; number++) {
        char bytes[5] = "    ";
        size_t length = encode(number, bytes);
        uint32_t character = 7;
        size_t taken = nh_utf8_next(bytes, sizeof bytes, &character);
        ck_assert_msg(taken == (is_character(number) ? length : 0), "U+%04X", number);
        ck_assert_uint_eq(character, is_character(number) ? number : 7);
        ck_assert_uint_eq(nh_utf8_next(bytes, length - 1, &character), 0);
    }
}
END_TEST

/* Of all strings of three bytes those are read that begin with the bytes of a
 * character. */
START_TEST(only_characters_are_read) {
    for (uint32_t number = 0; number < 1u << 24; number++) {
        char bytes[3] = {(char)(number >> 16), (char)(number >> 8 & 0xFF), (char)(number & 0xFF)};
        char written[4];
        uint32_t character = 0;
        size_t taken = nh_utf8_next(bytes, sizeof bytes, &character);
        if (taken == 0)
            continue;
        if (taken > 3 || !is_character(character) || encode(character, written) != taken ||
            memcmp(written, bytes, taken) != 0)
            ck_abort_msg("%06X is read as U+%04X", number, character);
    }
}
END_TEST

int main(void) {
    Suite *suite = suite_create("utf8");
    ADD_TESTS(suite, "utf8", every_character_is_read, only_characters_are_read);
    return run_suite(suite);
}
