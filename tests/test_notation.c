/* Tiles as players type them. First the plain reader of version 0.1: what it
 * reads is still read as the same, except the word "green". Then the words
 * that came later, and what is said of those that cannot be read. */
#define _POSIX_C_SOURCE 200809L
#include "api.h"
#include "random_list.h"

#include <ctype.h>
#include <strings.h>

/* ----------------------------------------------- the reader of version 0.1 --- */

static bool plain_space(char c) {
    return c == ' ' || c == ',' || (c >= '\t' && c <= '\r');
}

static bool count(nh_tiles *tiles, int kind) {
    int copies = kind == NH_FLOWER ? 8 : kind == NH_JOKER ? 16 : 4;
    return tiles->count[kind]++ < copies;
}

/* Ranks without a suit are zeros, which are white dragons. */
static bool count_zeros(nh_tiles *tiles, const char *ranks) {
    for (; *ranks != '\0'; ranks++)
        if (*ranks != '0' || !count(tiles, NH_WHITE))
            return false;
    return true;
}

static bool count_suit(nh_tiles *tiles, const char *ranks, char suit) {
    bool good = *ranks != '\0';
    int first = suit == 'B' ? NH_BAM_1 : suit == 'C' ? NH_CRAK_1 : NH_DOT_1;
    for (; good && *ranks != '\0'; ranks++)
        good = *ranks != '0' && count(tiles, first + *ranks - '1');
    return good;
}

static const char *after_spaces(const char *text) {
    while (plain_space(*text))
        text++;
    return text;
}

/* Plain text without Unicode, ended by a zero byte. */
static bool read_0_1(const char *text, nh_tiles *tiles) {
    static const char honours[] = "ESWNRG0FJ";
    char ranks[256] = "";
    size_t waiting = 0;
    *tiles = (nh_tiles){{0}};
    for (; *text != '\0'; text++) {
        char upper = (char)toupper((unsigned char)*text);
        const char *next = after_spaces(text + 1);
        bool zeros = strspn(ranks, "0") == waiting;
        if (isdigit((unsigned char)upper)) {
            ranks[waiting++] = upper;
            ranks[waiting] = '\0';
            continue;
        }
        if (plain_space(upper) && (plain_space(text[1]) || !zeros ||
                                   (*next != '\0' && strchr("BCD", toupper((unsigned char)*next)))))
            continue;
        bool white = upper == 'W' && toupper((unsigned char)*next) == 'H';
        const char *honour = isalpha((unsigned char)upper) ? strchr(honours, upper) : NULL;
        bool suit = upper == 'B' || upper == 'C' || upper == 'D';
        if (suit ? !count_suit(tiles, ranks, upper) : !count_zeros(tiles, ranks))
            return false;
        if (white) {
            if (!count(tiles, NH_WHITE))
                return false;
            text = next;
        } else if (honour != NULL) {
            if (!count(tiles, NH_EAST + (int)(honour - honours)))
                return false;
        } else if (!suit && !plain_space(upper)) {
            return false;
        }
        waiting = 0;
        ranks[0] = '\0';
    }
    return count_zeros(tiles, ranks);
}

/* Whether "green" or "greens" stands in the text, with no letter beside it. */
static bool has_green(const char *text) {
    for (const char *at = text; *at != '\0'; at++) {
        if ((at > text && isalpha((unsigned char)at[-1])) || strncasecmp(at, "green", 5) != 0)
            continue;
        const char *end = at + 5 + (toupper((unsigned char)at[5]) == 'S');
        if (!isalpha((unsigned char)*end))
            return true;
    }
    return false;
}

/* Strings of the characters that hands are made of, and of pieces that are near
 * to the words. */
static void random_text(random_source *source, char *text, size_t size) {
    static const char *const pieces[] = {"green", "greens", "G",  "R", "WD",  "W",   "Wh", "w h",
                                         "bam",   "dot",    "gd", "D", "red", "EEN", "0",  " "};
    static const char characters[] = "EESSWWNNRGFJhBCDbcd001234567899 ,  ";
    size_t length = 0;
    for (int parts = 1 + random_below(source, 9); parts > 0 && length + 8 < size; parts--) {
        const char *piece = pieces[random_below(source, 16)];
        if (random_percent(source, 25))
            length += (size_t)snprintf(text + length, size - length, "%s", piece);
        else
            text[length++] = characters[random_below(source, (int)sizeof characters - 1)];
        text[length] = '\0';
    }
}

START_TEST(what_0_1_reads_is_read_as_the_same) {
    random_source source = {random_seed(1)};
    printf("NEARHAND_SEED=%llu\n", (unsigned long long)source.state);
    int read = 0, green = 0;
    for (int i = 0; i < 2000000; i++) {
        char text[128] = "";
        nh_tiles before, now;
        random_text(&source, text, sizeof text);
        if (!read_0_1(text, &before))
            continue;
        if (has_green(text)) {
            green++;
            continue;
        }
        read++;
        if (nh_tiles_parse(NULL, text, strlen(text), &now, NULL) != NH_OK ||
            memcmp(&now, &before, sizeof now) != 0)
            ck_abort_msg("\"%s\" is read otherwise", text);
    }
    printf("%d texts of 0.1 read as the same, %d left out for green\n", read, green);
    ck_assert_int_gt(read, 100000);
    ck_assert_int_gt(green, 1000);
}
END_TEST

/* ---------------------------------------------------------------- words --- */

static const char *written(const nh_tiles *tiles) {
    static char text[NH_TILES_TEXT_SIZE];
    nh_tiles_format(tiles, NH_STYLE_LETTERS, text, sizeof text);
    return text;
}

START_TEST(words_are_read) {
    static const struct {
        const char *typed, *tiles;
    } rows[] = {
        {"27799 bam", "27799B"},
        {"27799bam", "27799B"},
        {"2 7 7 99 BAMS", "27799B"},
        {"27799 bamboo", "27799B"},
        {"3 dots", "3D"},
        {"3 dot", "3D"},
        {"33 circles", "33D"},
        {"2468 bam", "2468B"},
        {"246 craks 33 dots", "246C 33D"},
        {"246crak33dot", "246C 33D"},
        {"246 crack 5 characters", "2456C"},
        {"2b3b", "23B"},
        {"2 bam 3 bam", "23B"},
        {"2bam, 3b, 4 crak", "23B 4C"},
        {"GD RD WD", "R G Wh"},
        {"gdrdwd", "R G Wh"},
        {"RRD GGGD", "RR GGG"},
        {"EWD", "E Wh"},
        {"WhWD", "WhWh"},
        {"3D GD 4D", "34D G"},
        {"north", "N"},
        {"East SOUTH west", "ESW"},
        {"east east wind", "EE"},
        {"north wind", "N"},
        {"N wind", "N"},
        {"red", "R"},
        {"green", "G"},
        {"GREEN green", "GG"},
        {"Red dragon, green dragon", "R G"},
        {"R dragon", "R"},
        {"white soap", "WhWh"},
        {"0 dragon", "Wh"},
        {"00 dragon", "WhWh"},
        {"flower flower F", "FFF"},
        {"joker", "J"},
        {"0 red", "R Wh"},
        {"0east", "E Wh"},
        {"WD G", "G Wh"},
        {"2468 bam 246 crak 33 dot east east west red soap", "2468B 246C 33D EEW R Wh"},
        {"WGREEN", "EENW R G"}, /* no word: letters, as ever */
        {"GREENE", "EEEN R G"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        nh_tiles tiles, expected = tiles_of(rows[i].tiles);
        nh_error error;
        ck_assert_msg(nh_tiles_parse(NULL, rows[i].typed, strlen(rows[i].typed), &tiles, &error) ==
                          NH_OK,
                      "\"%s\": %s", rows[i].typed, error.text);
        ck_assert_msg(memcmp(&tiles, &expected, sizeof tiles) == 0, "\"%s\" is read as \"%s\"",
                      rows[i].typed, written(&tiles));
    }
}
END_TEST

START_TEST(words_that_cannot_be_read_say_what_to_type) {
    static const struct {
        const char *typed;
        uint32_t column;
        const char *text;
    } rows[] = {
        {"24B flwer", 5, "'flwer' is not a tile: write flower"},
        {"nroth", 1, "'nroth' is not a tile: write north"},
        {"24 bma", 4, "'bma' is not a tile: write bam"},
        {"Eest", 1, "'Eest' is not a tile: write east"},
        {"joke", 1, "'joke' is not a tile: write joker"},
        {"2 flowers", 3, "'flowers': write each tile, as in FF for two"},
        {"green dragons", 7, "'dragons': write each tile, as in GG for two"},
        {"dragons", 1, "'dragons': write each tile, as in RR for two"},
        {"south winds", 7, "'winds': write each tile, as in SS for two"},
        {"greens", 1, "'greens': write each tile, as in GG for two"},
        {"2F", 1, "rank 2 has no suit; for several tiles write each, as in FF for two"},
        {"1B 3J", 4, "rank 3 has no suit; for several tiles write each, as in JJ for two"},
        {"2468F", 1, "rank 2 has no suit: a letter B, C or D must follow it"},
        {"2468B 555JB", 10, "the suit stands before the joker: write 555BJ"},
        {"5JC", 2, "the suit stands before the joker: write 5CJ"},
        {"24B 55JJd", 7, "the suit stands before the joker: write 55dJJ"},
        {"5 JB", 1, "rank 5 has no suit: a letter B, C or D must follow it"},
        {"123456789123456789JJJB", 1, "rank 1 has no suit: a letter B, C or D must follow it"},
        {"2 east", 1, "rank 2 has no suit; for several tiles write each, as in EE for two"},
        {"dragon", 1, "which dragon? Write red, green or white before it, or R, G or Wh"},
        {"E dragon", 3, "which dragon? Write red, green or white before it, or R, G or Wh"},
        {"R 2B dragon", 6, "which dragon? Write red, green or white before it, or R, G or Wh"},
        {"F dragon", 3, "which dragon? Write red, green or white before it, or R, G or Wh"},
        {"5 dragon", 1, "rank 5 has no suit: a letter B, C or D must follow it"},
        {"F dragons", 3, "'dragons': write each tile, as in RR for two"},
        {"R winds", 3, "'winds': write each tile, as in EE for two"},
        {"3B winds", 4, "'winds': write each tile, as in EE for two"},
        {"0 C", 1, "rank 0 with a suit: ranks run from 1 to 9, and 0 alone is the white dragon"},
        {"wind", 1, "which wind? Write east, south, west or north before it, or E, S, W or N"},
        {"red wind", 5, "which wind? Write east, south, west or north before it, or E, S, W or N"},
        {"bam", 1, "'bam' without a rank before it: write the ranks first, as in 246 bam"},
        {"dots 33", 1, "'dots' without a rank before it: write the ranks first, as in 246 dots"},
        {"0 dots", 1, "rank 0 with a suit: ranks run from 1 to 9, and 0 alone is the white dragon"},
        {"WWD", 2, "WWD can be read in two ways: write W Wh, or WhWh for two white dragons"},
        {"W D", 3, "a suit letter without a rank before it: write 4B, 8C or 1D"},
        {"D", 1, "a suit letter without a rank before it: write 4B, 8C or 1D"},
        {"GDD", 3, "a suit letter without a rank before it: write 4B, 8C or 1D"},
        {"ED", 2, "a suit letter without a rank before it: write 4B, 8C or 1D"},
        {"5 north", 1, "rank 5 has no suit; for several tiles write each, as in NN for two"},
        {"east bam", 6, "'bam' without a rank before it: write the ranks first, as in 246 bam"},
        {"EEEE east", 6, "more than 4 of E: the set has no more of the east wind"},
        {"qu", 1,
         "'q' is not a tile: write ranks with B, C or D, winds E S W N, dragons R G Wh, F, J"},
        {"EEX", 3,
         "'X' is not a tile: write ranks with B, C or D, winds E S W N, dragons R G Wh, F, J"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        nh_tiles tiles;
        nh_error error;
        ck_assert_msg(nh_tiles_parse(NULL, rows[i].typed, strlen(rows[i].typed), &tiles, &error) ==
                          NH_ERROR_TILES,
                      "\"%s\" is read as \"%s\"", rows[i].typed, written(&tiles));
        ck_assert_msg(strcmp(error.text, rows[i].text) == 0, "\"%s\": %s", rows[i].typed,
                      error.text);
        ck_assert_msg(error.column == rows[i].column, "\"%s\": column %u", rows[i].typed,
                      error.column);
    }
}
END_TEST

/* The name of every kind in the words of a player. */
START_TEST(every_kind_has_words) {
    static const char *const suits[] = {"bam", "crak", "dot"};
    static const char *const others[] = {"east",  "south", "west",   "north", "red",
                                         "green", "white", "flower", "joker"};
    for (int kind = 0; kind < NH_KINDS; kind++) {
        char text[16];
        if (kind < NH_EAST)
            snprintf(text, sizeof text, "%d %s", kind % 9 + 1, suits[kind / 9]);
        else
            snprintf(text, sizeof text, "%s", others[kind - NH_EAST]);
        nh_tiles tiles = tiles_of(text);
        ck_assert_int_eq(nh_tiles_total(&tiles), 1);
        ck_assert_int_eq(tiles.count[kind], 1);
    }
}
END_TEST

int main(void) {
    Suite *suite = suite_create("notation");
    ADD_TESTS(suite, "notation", what_0_1_reads_is_read_as_the_same, words_are_read,
              words_that_cannot_be_read_say_what_to_type, every_kind_has_words);
    return run_suite(suite);
}
