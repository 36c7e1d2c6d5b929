/*
 * Tiles in text: what players type is read, what is written is sorted, and
 * what cannot be is refused with its place.
 */
#include "nearhand.h"
#include "random_list.h"
#include "suite.h"

#include <check.h>

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char small_list[] =
    "{\"format\":1,\"title\":\"Small\",\"hand\":5,"
    "\"tiles\":{\"flowers\":2,\"jokers\":1,\"suits\":[\"bam\",\"dot\"],\"winds\":true,"
    "\"dragons\":false},"
    "\"patterns\":[{\"name\":\"Kong and pair\","
    "\"groups\":[{\"kong\":\"any\"},{\"pair\":\"any\"}]}]}";

static nh_list *read_list(const char *json) {
    nh_list *list = NULL;
    ck_assert_int_eq(nh_list_read(json, strlen(json), NULL, &list, NULL), NH_OK);
    return list;
}

static nh_tiles read_tiles(const char *text) {
    nh_tiles tiles;
    nh_error error;
    const nh_status status = nh_tiles_parse(NULL, text, strlen(text), &tiles, &error);
    ck_assert_msg(status == NH_OK, "\"%s\" is refused: %s", text, error.text);
    return tiles;
}

static const char *written(const nh_tiles *tiles) {
    static char text[NH_TILES_TEXT_SIZE];
    const size_t length = nh_tiles_format(tiles, NH_STYLE_LETTERS, text, sizeof text);
    ck_assert_uint_eq(length, strlen(text));
    return text;
}

static void expect(const char *text, const char *sorted) {
    const nh_tiles tiles = read_tiles(text);
    ck_assert_msg(strcmp(written(&tiles), sorted) == 0, "\"%s\" is read as \"%s\", not \"%s\"",
                  text, written(&tiles), sorted);
}

/* The text is refused at this column, with a sentence, and nothing is
 * written. */
static void refuse_by(const nh_list *list, bool hand, const char *text, uint32_t column) {
    nh_tiles tiles;
    memset(&tiles, 7, sizeof tiles);
    const nh_tiles before = tiles;
    nh_error error = {NH_OK, 999, ""};
    const nh_status status = hand ? nh_hand_parse(list, text, strlen(text), &tiles, &error)
                                  : nh_tiles_parse(list, text, strlen(text), &tiles, &error);
    ck_assert_msg(status == NH_ERROR_TILES, "\"%s\" is read", text);
    ck_assert_int_eq(error.status, NH_ERROR_TILES);
    ck_assert_msg(error.column == column, "\"%s\": column %u, not %u (%s)", text, error.column,
                  column, error.text);
    ck_assert_uint_gt(strlen(error.text), 5);
    ck_assert_int_ne(error.text[strlen(error.text) - 1], '.');
    ck_assert_mem_eq(&tiles, &before, sizeof tiles);
}

static void refuse(const char *text, uint32_t column) {
    refuse_by(NULL, false, text, column);
    refuse_by(NULL, true, text, column);
}

/* -------------------------------------------------------------- reading --- */

START_TEST(players_notation) {
    expect("4B", "4B");
    expect("8C", "8C");
    expect("1D", "1D");
    expect("E S W N", "ESWN");
    expect("N W S E", "ESWN");
    expect("R G Wh", "R G Wh");
    expect("Wh G R", "R G Wh");
    expect("F", "F");
    expect("J", "J");
    expect("2468B", "2468B");
    expect("8642B", "2468B");
    expect("2468B 246C 33D EEW R Wh", "2468B 246C 33D EEW R Wh");
    expect("Wh R WEE 33D 642C 8246B", "2468B 246C 33D EEW R Wh");
    expect("JFJF 9D1C5B", "5B 1C 9D FF JJ");
}
END_TEST

START_TEST(case_and_spaces_do_not_matter) {
    expect("2468b246c33deewrwh", "2468B 246C 33D EEW R Wh");
    expect("2 4 6 8 B 2 4 6 C 3 3 D E E W R W h", "2468B 246C 33D EEW R Wh");
    expect("  \t2468B\n246C  ", "2468B 246C");
    expect("24B,33D, E,,F", "24B 33D E F");
    expect(",24B,", "24B");
    expect("5 b", "5B");
    expect("2B 4B 2B", "224B");
}
END_TEST

START_TEST(west_and_white_are_told_apart) {
    expect("W", "W");
    expect("WW", "WW");
    expect("w w", "WW");
    expect("Wh", "Wh");
    expect("WH", "Wh");
    expect("wh", "Wh");
    expect("W h", "Wh");
    expect("WWh", "W Wh");
    expect("WhW", "W Wh");
    expect("EWhS", "ES Wh");
}
END_TEST

START_TEST(zero_is_the_white_dragon) {
    const nh_tiles two = read_tiles("00");
    expect("0", "Wh");
    ck_assert_int_eq(two.count[NH_WHITE], 2);
    ck_assert_int_eq(nh_tiles_total(&two), 2);
    expect("R 0", "R Wh");
    expect("0 R", "R Wh");
    expect("0E", "E Wh");
    expect("246C 0", "246C Wh");
    refuse("0B", 1);
    refuse("20B", 2);
    refuse("0 B", 1);
    refuse("2B 0D", 4);
    refuse("105C", 2);
}
END_TEST

START_TEST(unreadable_text_is_refused_at_its_place) {
    refuse("5", 1);
    refuse("5R", 1);
    refuse("2B 5", 4);
    refuse("2B 5 E", 4);
    refuse("B", 1);
    refuse("2B C", 4);
    refuse("X", 1);
    refuse("24B X", 5);
    refuse("24B 3?", 6);
    refuse("E-S", 2);
    refuse("h", 1);
    refuse("E\xc3\xa9", 2);
    refuse("\xf0\x9f\x80\x90\xf0\x9f\x80\x90 X", 4);
    refuse("\xf0\x9f\x80\xab", 1); /* a tile's back */
    refuse("E\xff", 2);
    refuse("E\xf0\x9f\x80", 2);
}
END_TEST

/* What no encoder writes: lengths that are too long or too short, surrogates,
 * numbers past the last character. */
START_TEST(bytes_that_are_no_characters_are_refused) {
    static const char *const bytes[] = {"\xc0\xaf",     "\xe0\x80\xaf", "\xf0\x80\x80\xaf",
                                        "\xed\xa0\x80", "\xed\xbf\xbf", "\xf4\x90\x80\x80",
                                        "\xe2(\x80",    "\xf8\x88\x80", "\x80"};
    for (size_t i = 0; i < sizeof bytes / sizeof *bytes; i++) {
        nh_tiles tiles;
        nh_error error;
        ck_assert_int_eq(nh_tiles_parse(NULL, bytes[i], strlen(bytes[i]), &tiles, &error),
                         NH_ERROR_TILES);
        ck_assert_uint_eq(error.column, 1);
        ck_assert_str_eq(error.text, "the text is not valid UTF-8 here");
    }
    refuse("\xee\x80\x80", 1); /* a character, but no tile */
    refuse("\xed\x9f\xbf", 1);
    refuse("\xf4\x8f\xbf\xbf", 1);
}
END_TEST

START_TEST(spaces_of_every_script_are_spaces) {
    static const char *const spaces[] = {
        "\t",          "\n",       "\v",           "\f",           "\r",           " ",
        ",",           "\xc2\xa0", "\xe3\x80\x80", "\xe2\x80\xaf", "\xe2\x80\x80", "\xe2\x80\x83",
        "\xe2\x80\x8b"};
    for (size_t i = 0; i < sizeof spaces / sizeof *spaces; i++) {
        char text[32];
        snprintf(text, sizeof text, "0%sE%s0 B", spaces[i], spaces[i]);
        refuse(text, 5); /* the zero before a suit letter */
        snprintf(text, sizeof text, "0%s24%sB%s0%s", spaces[i], spaces[i], spaces[i], spaces[i]);
        expect(text, "24B WhWh");
    }
    expect("0  24  B 0  \xf0\x9f\x80\x90", "124B WhWh");
    refuse("0  B", 1);
    refuse("E\xe1\xbf\xbf", 2);
    refuse("E\xe2\x80\x8c", 2);
    refuse("E\x08", 2);
    refuse("E\x0e", 2);
}
END_TEST

/* Marks that choose how a character is drawn, and of the byte order. */
START_TEST(marks_are_passed_over) {
    expect("\xef\xbb\xbf\xf0\x9f\x80\x84\xef\xb8\x8e"
           "E\xef\xb8\x8f",
           "E R");
    refuse("\xef\xb8\x8d", 1);
    refuse("\xef\xbb\xbe", 1);
}
END_TEST

START_TEST(control_characters_are_no_tiles) {
    static const char *const texts[] = {"\x01", "\x1f", "\x7f", "\xc2\x80", "\xc2\x9f"};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        nh_tiles tiles;
        nh_error error;
        ck_assert_int_eq(nh_tiles_parse(NULL, texts[i], strlen(texts[i]), &tiles, &error),
                         NH_ERROR_TILES);
        ck_assert_str_eq(error.text, "a control character is not a tile");
    }
    nh_tiles tiles;
    nh_error error;
    ck_assert_int_eq(nh_tiles_parse(NULL, "0 \0", 3, &tiles, &error), NH_ERROR_TILES);
    ck_assert_uint_eq(error.column, 3);
    refuse("~", 1);
    refuse("\xc2\xa1", 1);
}
END_TEST

START_TEST(ranks_without_end_are_refused) {
    char text[300];
    memset(text, '1', sizeof text);
    nh_tiles tiles;
    nh_error error;
    ck_assert_int_eq(nh_tiles_parse(NULL, text, sizeof text, &tiles, &error), NH_ERROR_TILES);
    ck_assert_uint_eq(error.column, 257);
    ck_assert_str_eq(error.text, "too many ranks without a suit letter");
    ck_assert_int_eq(nh_tiles_parse(NULL, text, 256, &tiles, &error), NH_ERROR_TILES);
    ck_assert_uint_eq(error.column, 1);
}
END_TEST

START_TEST(only_the_given_bytes_are_read) {
    nh_tiles tiles;
    ck_assert_int_eq(nh_tiles_parse(NULL, "24B 6C", 3, &tiles, NULL), NH_OK);
    ck_assert_str_eq(written(&tiles), "24B");
    ck_assert_int_eq(nh_tiles_parse(NULL, "24B\0E", 5, &tiles, NULL), NH_ERROR_TILES);
}
END_TEST

START_TEST(no_tiles) {
    static const char *const texts[4] = {"", "   ", ",", "\t\n"};
    for (int i = 0; i < 4; i++) {
        nh_tiles tiles = {{1}};
        nh_error error;
        ck_assert_int_eq(nh_tiles_parse(NULL, texts[i], strlen(texts[i]), &tiles, &error), NH_OK);
        ck_assert_int_eq(nh_tiles_total(&tiles), 0);
        ck_assert_int_eq(nh_hand_parse(NULL, texts[i], strlen(texts[i]), &tiles, &error),
                         NH_ERROR_TILES);
        ck_assert_uint_gt(strlen(error.text), 5);
    }
    const nh_tiles none = {{0}};
    ck_assert_str_eq(written(&none), "");
}
END_TEST

START_TEST(no_more_tiles_than_a_set_holds) {
    expect("5555B", "5555B");
    refuse("55555B", 5);
    refuse("5B 5B 5B 5B 5B", 13);
    refuse("EEEEE", 5);
    refuse("00000", 5);
    expect("FFFFFFFF", "FFFFFFFF");
    refuse("FFFFFFFFF", 9);
    expect("JJJJJJJJJJJJJJJJ", "JJJJJJJJJJJJJJJJ");
    refuse("JJJJJJJJJJJJJJJJJ", 17);
}
END_TEST

START_TEST(no_more_tiles_than_the_lists_set_holds) {
    nh_list *list = read_list(small_list);
    nh_tiles tiles;
    ck_assert_int_eq(nh_hand_parse(list, "5555B FJ", 8, &tiles, NULL), NH_OK);
    ck_assert_str_eq(written(&tiles), "5555B F J");
    refuse_by(list, true, "5B 5C", 4);
    refuse_by(list, true, "R", 1);
    refuse_by(list, true, "0", 1);
    refuse_by(list, true, "FFF", 3);
    refuse_by(list, true, "EJJ", 3);
    refuse_by(list, false, "EJJ", 3);
    nh_list_free(list);
}
END_TEST

/* A hand of 5 tiles and a replacement for one kong: 6 at most. */
START_TEST(no_more_tiles_than_a_hand_comes_to) {
    nh_list *list = read_list(small_list);
    nh_tiles tiles;
    ck_assert_int_eq(nh_list_hand_most(list), 6);
    ck_assert_int_eq(nh_hand_parse(list, "1234 56B", 8, &tiles, NULL), NH_OK);
    refuse_by(list, true, "1234567B", 7);
    refuse_by(list, true, "123456B E", 9);
    ck_assert_int_eq(nh_tiles_parse(list, "123456B ESWN", 12, &tiles, NULL), NH_OK);
    ck_assert_int_eq(nh_tiles_total(&tiles), 10);
    nh_list_free(list);

    ck_assert_int_eq(nh_hand_parse(NULL, "123456789B 123456789C 123456D", 29, &tiles, NULL), NH_OK);
    refuse_by(NULL, true, "123456789B 123456789C 1234567D", 29);
}
END_TEST

START_TEST(a_hand_that_does_not_fit_the_tiles_seen) {
    static const struct {
        const char *seen, *text;
        uint32_t column;
    } cases[] = {
        {"33B", "2468B 33B", 0}, {"33B", "2468B 333B", 9}, {"3B", "333 bam 3B", 9},
        {"EEEE", "2B, E W", 5},  {"", "2468B 33B", 0},     {"NN Wh", "0 N 00 NN", 9},
        {"3333B", "3B 9X", 0},   {"9D", "99999D", 0},      {"FFFFFFFF", "1B F", 4},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const nh_tiles seen = read_tiles(cases[i].seen);
        const char *text = cases[i].text;
        const uint32_t column = nh_tiles_excess(NULL, &seen, text, strlen(text));
        ck_assert_msg(column == cases[i].column, "\"%s\" with \"%s\" seen: column %u", text,
                      cases[i].seen, column);
    }
    nh_list *list = read_list(small_list); /* which has two flowers */
    const nh_tiles seen = read_tiles("F");
    ck_assert_uint_eq(nh_tiles_excess(list, &seen, "1B FF", 5), 5);
    ck_assert_uint_eq(nh_tiles_excess(list, &seen, "1B F", 4), 0);
    nh_list_free(list);
}
END_TEST

START_TEST(the_largest_hand_of_a_list_is_named) {
    static const struct {
        const char *groups, *hand, *text;
    } rows[] = {{"{\"kong\":1,\"suit\":\"bam\"},{\"single\":\"red\"}", "123456B",
                 "too many tiles: a hand has at most 5 on this list"},
                {"{\"pair\":1,\"suit\":\"bam\"},{\"pair\":\"red\"}", "12345B",
                 "too many tiles: a hand has at most 4 on this list"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char json[300];
        snprintf(json, sizeof json,
                 "{\"format\":1,\"title\":\"Small\",\"hand\":4,\"patterns\":["
                 "{\"name\":\"One\",\"groups\":[%s]}]}",
                 rows[i].groups);
        nh_list *list = read_list(json);
        nh_tiles tiles;
        nh_error error;
        ck_assert_int_eq(nh_hand_parse(list, rows[i].hand, strlen(rows[i].hand), &tiles, &error),
                         NH_ERROR_TILES);
        ck_assert_str_eq(error.text, rows[i].text);
        nh_list_free(list);
    }
}
END_TEST

/* -------------------------------------------------------------- writing --- */

static nh_tiles random_tiles(random_source *source) {
    nh_tiles pool = {{0}};
    for (int kind = 0; kind < NH_KINDS; kind++) {
        pool.count[kind] = kind == NH_FLOWER ? 8 : kind == NH_JOKER ? 16 : 4;
    }
    const int most = random_percent(source, 10) ? 160 : 24;
    return random_draw(source, &pool, random_below(source, most + 1));
}

/* What is written, spoiled as players may: lower case, and spaces and commas
 * in between. */
static void spoil(random_source *source, const char *text, char *spoiled) {
    for (; *text; text++) {
        *spoiled++ = (char)(random_percent(source, 50) ? tolower((unsigned char)*text) : *text);
        if (random_percent(source, 20)) {
            *spoiled++ = random_percent(source, 50) ? ' ' : ',';
        }
    }
    *spoiled = 0;
}

START_TEST(what_is_written_is_read) {
    const uint64_t seed = random_seed(77001);
    random_source source = {seed};
    printf("seed %llu\n", (unsigned long long)seed);
    for (int i = 0; i < 20000; i++) {
        const nh_tiles tiles = random_tiles(&source);
        char text[NH_TILES_TEXT_SIZE];
        char spoiled[2 * NH_TILES_TEXT_SIZE];
        for (int style = NH_STYLE_LETTERS; style <= NH_STYLE_UNICODE; style++) {
            const size_t length = nh_tiles_format(&tiles, (nh_style)style, text, sizeof text);
            nh_tiles again;
            if (length >= sizeof text ||
                nh_tiles_parse(NULL, text, length, &again, NULL) != NH_OK ||
                memcmp(&tiles, &again, sizeof tiles) != 0) {
                ck_abort_msg("\"%s\" is not read as it was written", text);
            }
        }
        nh_tiles_format(&tiles, NH_STYLE_LETTERS, text, sizeof text);
        spoil(&source, text, spoiled);
        const nh_tiles again = read_tiles(spoiled);
        if (memcmp(&tiles, &again, sizeof tiles) != 0) {
            ck_abort_msg("\"%s\" is not read as \"%s\"", spoiled, text);
        }
    }
}
END_TEST

START_TEST(writing_stops_at_the_end_of_the_buffer) {
    static const char whole[] = "2468B 246C 33D EEW R Wh";
    const nh_tiles tiles = read_tiles(whole);
    ck_assert_uint_eq(nh_tiles_format(&tiles, NH_STYLE_LETTERS, NULL, 0), strlen(whole));
    for (size_t size = 1; size <= sizeof whole; size++) {
        char buffer[sizeof whole + 1];
        memset(buffer, '#', sizeof buffer);
        ck_assert_uint_eq(nh_tiles_format(&tiles, NH_STYLE_LETTERS, buffer, size), strlen(whole));
        ck_assert_mem_eq(buffer, whole, size - 1);
        ck_assert_int_eq(buffer[size - 1], 0);
        ck_assert_int_eq(buffer[size], '#');
    }
}
END_TEST

/* A buffer of the size that always suffices and one that just fits the text, which are
 * written in different ways. */
START_TEST(any_buffer_holds_the_same_text) {
    random_source source = {random_seed(77002)};
    for (int round = 0; round < 20000; round++) {
        nh_tiles tiles = random_tiles(&source);
        int total = 0;
        if (random_percent(&source, 10))
            tiles.count[random_below(&source, NH_KINDS)] = (uint8_t)random_below(&source, 20);
        for (int kind = 0; kind < NH_KINDS; kind++)
            total += tiles.count[kind];
        ck_assert_int_eq(nh_tiles_total(&tiles), total);
        char roomy[NH_TILES_TEXT_SIZE], tight[NH_TILES_TEXT_SIZE];
        const size_t length = nh_tiles_format(&tiles, NH_STYLE_LETTERS, NULL, 0);
        ck_assert_uint_eq(nh_tiles_format(&tiles, NH_STYLE_LETTERS, roomy, sizeof roomy), length);
        ck_assert_uint_eq(nh_tiles_format(&tiles, NH_STYLE_LETTERS, tight, length + 1), length);
        ck_assert_str_eq(roomy, tight);
    }
}
END_TEST

START_TEST(the_longest_text_fits) {
    nh_tiles all;
    memset(&all, 4, sizeof all);
    all.count[NH_FLOWER] = 8;
    all.count[NH_JOKER] = 16;
    ck_assert_int_eq(nh_tiles_total(&all), 160);
    ck_assert_uint_lt(nh_tiles_format(&all, NH_STYLE_LETTERS, NULL, 0), NH_TILES_TEXT_SIZE);
    ck_assert_uint_lt(nh_tiles_format(&all, NH_STYLE_UNICODE, NULL, 0), NH_TILES_TEXT_SIZE);
}
END_TEST

START_TEST(tile_characters_stand_apart_by_suit) {
    char text[NH_TILES_TEXT_SIZE];
    const nh_tiles tiles = read_tiles("12B 3C");
    nh_tiles_format(&tiles, NH_STYLE_UNICODE, text, sizeof text);
    ck_assert_str_eq(text, "\xf0\x9f\x80\x90\xf0\x9f\x80\x91 \xf0\x9f\x80\x89");
}
END_TEST

/* ---------------------------------------------------------------- kinds --- */

static const char *const numbers[9] = {"one", "two",   "three", "four", "five",
                                       "six", "seven", "eight", "nine"};
static const char *const honours[7] = {"east wind",  "south wind",   "west wind",   "north wind",
                                       "red dragon", "green dragon", "white dragon"};

START_TEST(kinds_have_names) {
    ck_assert_str_eq(nh_kind_name(NH_BAM_1 + 3), "four of bams");
    ck_assert_str_eq(nh_kind_name(NH_CRAK_1 + 7), "eight of craks");
    ck_assert_str_eq(nh_kind_name(NH_DOT_1), "one of dots");
    ck_assert_str_eq(nh_kind_name(NH_RED), "red dragon");
    ck_assert_str_eq(nh_kind_name(NH_GREEN), "green dragon");
    ck_assert_str_eq(nh_kind_name(NH_WHITE), "white dragon");
    ck_assert_str_eq(nh_kind_name(NH_FLOWER), "flower");
    ck_assert_str_eq(nh_kind_name(NH_JOKER), "joker");
    ck_assert_ptr_null(nh_kind_name(-1));
    ck_assert_ptr_null(nh_kind_name(NH_KINDS));
    for (int a = 0; a < NH_KINDS; a++) {
        for (int b = 0; b < a; b++) {
            ck_assert_str_ne(nh_kind_name(a), nh_kind_name(b));
        }
    }
}
END_TEST

START_TEST(kinds_have_notation) {
    ck_assert_str_eq(nh_kind_notation(NH_BAM_1 + 3), "4B");
    ck_assert_str_eq(nh_kind_notation(NH_EAST), "E");
    ck_assert_str_eq(nh_kind_notation(NH_WHITE), "Wh");
    ck_assert_ptr_null(nh_kind_notation(-1));
    ck_assert_ptr_null(nh_kind_notation(NH_KINDS));
    for (int kind = 0; kind < NH_KINDS; kind++) {
        const nh_tiles tiles = read_tiles(nh_kind_notation(kind));
        ck_assert_int_eq(tiles.count[kind], 1);
        ck_assert_int_eq(nh_tiles_total(&tiles), 1);
    }
}
END_TEST

/* -------------------------------------------------------------- Unicode --- */

/* The Unicode Standard's name of a kind: bams are bamboos, craks characters,
 * dots circles, and the first of the flowers stands for them all. */
static void standard_name(int kind, char name[64]) {
    static const char *const suits[3] = {"bamboos", "characters", "circles"};
    if (kind < NH_EAST) {
        snprintf(name, 64, "mahjong tile %s of %s", numbers[kind % 9], suits[kind / 9]);
    } else if (kind <= NH_WHITE) {
        snprintf(name, 64, "mahjong tile %s", honours[kind - NH_EAST]);
    } else {
        snprintf(name, 64, "mahjong tile %s", kind == NH_FLOWER ? "plum" : "joker");
    }
    for (char *at = name; *at; at++) {
        *at = (char)toupper((unsigned char)*at);
    }
}

/* Looks a character up by its name in the Unicode Character Database. */
static unsigned long code_point(const char *name) {
    FILE *file = fopen("/usr/share/unicode/UnicodeData.txt", "r");
    ck_assert_msg(file != NULL, "UnicodeData.txt is not there: install unicode-data");
    char line[1024];
    unsigned long code = 0;
    while (code == 0 && fgets(line, sizeof line, file) != NULL) {
        char *rest;
        const unsigned long value = strtoul(line, &rest, 16);
        const size_t length = strlen(name);
        if (*rest == ';' && strncmp(rest + 1, name, length) == 0 && rest[1 + length] == ';') {
            code = value;
        }
    }
    fclose(file);
    ck_assert_msg(code != 0, "no character is called %s", name);
    return code;
}

/* All of the block have four bytes of UTF-8. */
static void encode(unsigned long code, char text[5]) {
    text[0] = (char)(0xf0 | code >> 18);
    text[1] = (char)(0x80 | (code >> 12 & 0x3f));
    text[2] = (char)(0x80 | (code >> 6 & 0x3f));
    text[3] = (char)(0x80 | (code & 0x3f));
    text[4] = 0;
}

/* Source: the Unicode Standard, block Mahjong Tiles, as UnicodeData.txt gives
 * it. */
START_TEST(characters_are_those_of_the_standard) {
    for (int kind = 0; kind < NH_KINDS; kind++) {
        char name[64];
        char text[5];
        standard_name(kind, name);
        encode(code_point(name), text);
        ck_assert_msg(strcmp(nh_kind_unicode(kind), text) == 0, "%s is not written so", name);
        const nh_tiles tiles = read_tiles(text);
        ck_assert_int_eq(tiles.count[kind], 1);
        ck_assert_int_eq(nh_tiles_total(&tiles), 1);
    }
    ck_assert_ptr_null(nh_kind_unicode(-1));
    ck_assert_ptr_null(nh_kind_unicode(NH_KINDS));
}
END_TEST

START_TEST(every_flower_and_season_is_a_flower) {
    static const char *const flowers[8] = {"PLUM",   "ORCHID", "BAMBOO", "CHRYSANTHEMUM",
                                           "SPRING", "SUMMER", "AUTUMN", "WINTER"};
    for (int i = 0; i < 8; i++) {
        char name[64];
        char text[5];
        snprintf(name, sizeof name, "MAHJONG TILE %s", flowers[i]);
        encode(code_point(name), text);
        const nh_tiles tiles = read_tiles(text);
        ck_assert_int_eq(tiles.count[NH_FLOWER], 1);
        ck_assert_int_eq(nh_tiles_total(&tiles), 1);
    }
}
END_TEST

START_TEST(characters_and_letters_mix) {
    expect("\xf0\x9f\x80\x90"
           "2B E\xf0\x9f\x80\x84",
           "12B E R");
    expect("\xf0\x9f\x80\x90\xf0\x9f\x80\x90\xf0\x9f\x80\x90", "111B");
    refuse("5\xf0\x9f\x80\x90", 1);
    refuse("\xf0\x9f\x80\x90"
           "1111B",
           5);
}
END_TEST

/* ---------------------------------------------------------------- words --- */

START_TEST(winds_and_directions_have_words) {
    static const char *const winds[] = {NULL, "east", "south", "west", "north"};
    for (int wind = NH_WIND_EAST; wind <= NH_WIND_NORTH; wind++) {
        ck_assert_str_eq(nh_wind_name((nh_wind)wind), winds[wind]);
        ck_assert_int_eq(nh_wind_letter((nh_wind)wind), nh_kind_notation(NH_EAST + wind - 1)[0]);
    }
    ck_assert_str_eq(nh_direction_name(NH_RIGHT), "right");
    ck_assert_str_eq(nh_direction_name(NH_ACROSS), "across");
    ck_assert_str_eq(nh_direction_name(NH_LEFT), "left");
    static const int others[] = {-1, 0, 5, 1000};
    for (size_t i = 0; i < sizeof others / sizeof *others; i++) {
        ck_assert_ptr_null(nh_wind_name((nh_wind)others[i]));
        ck_assert_int_eq(nh_wind_letter((nh_wind)others[i]), 0);
        if (others[i] != 0)
            ck_assert_ptr_null(nh_direction_name((nh_direction)others[i]));
    }
}
END_TEST

/* ---------------------------------------------------------------- suite --- */

static TCase *reading(void) {
    TCase *tests = tcase_create("reading");
    tcase_add_test(tests, players_notation);
    tcase_add_test(tests, case_and_spaces_do_not_matter);
    tcase_add_test(tests, west_and_white_are_told_apart);
    tcase_add_test(tests, zero_is_the_white_dragon);
    tcase_add_test(tests, unreadable_text_is_refused_at_its_place);
    tcase_add_test(tests, bytes_that_are_no_characters_are_refused);
    tcase_add_test(tests, spaces_of_every_script_are_spaces);
    tcase_add_test(tests, marks_are_passed_over);
    tcase_add_test(tests, control_characters_are_no_tiles);
    tcase_add_test(tests, ranks_without_end_are_refused);
    tcase_add_test(tests, only_the_given_bytes_are_read);
    tcase_add_test(tests, no_tiles);
    tcase_add_test(tests, no_more_tiles_than_a_set_holds);
    tcase_add_test(tests, no_more_tiles_than_the_lists_set_holds);
    tcase_add_test(tests, no_more_tiles_than_a_hand_comes_to);
    tcase_add_test(tests, a_hand_that_does_not_fit_the_tiles_seen);
    tcase_add_test(tests, the_largest_hand_of_a_list_is_named);
    return tests;
}

static TCase *writing(void) {
    TCase *tests = tcase_create("writing");
    tcase_set_timeout(tests, 0);
    tcase_add_test(tests, what_is_written_is_read);
    tcase_add_test(tests, writing_stops_at_the_end_of_the_buffer);
    tcase_add_test(tests, any_buffer_holds_the_same_text);
    tcase_add_test(tests, the_longest_text_fits);
    tcase_add_test(tests, tile_characters_stand_apart_by_suit);
    return tests;
}

static TCase *kinds(void) {
    TCase *tests = tcase_create("kinds");
    tcase_add_test(tests, kinds_have_names);
    tcase_add_test(tests, kinds_have_notation);
    tcase_add_test(tests, characters_are_those_of_the_standard);
    tcase_add_test(tests, every_flower_and_season_is_a_flower);
    tcase_add_test(tests, characters_and_letters_mix);
    tcase_add_test(tests, winds_and_directions_have_words);
    return tests;
}

int main(void) {
    Suite *suite = suite_create("tiles");
    suite_add_tcase(suite, reading());
    suite_add_tcase(suite, writing());
    suite_add_tcase(suite, kinds());
    return run_suite(suite);
}
