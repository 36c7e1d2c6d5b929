/*
 * Figures that others have published, each with its source beside it: how many
 * targets and hands well-known patterns have, and how far the hands of one suit
 * are from being complete.
 *
 * Sources, by their number in the tests:
 *   [1] 1kawaya, "麻雀概論I", parts 3 and 4.
 *   [2] wandm.syakuhati.com, "天和の確率" (Chinese and Japanese rules) and
 *       "天和時の役複合率".
 *   [3] Project Euler, problem 696.
 *   [4] endlessriichi, "Computing all Chinitsu possibilities", 24 August 2016.
 *   [5] mahjong-lurker.xyz, "清一色の組み合わせ".
 *   [6] ShengKungYi, "Mahjong Combinatorics", Small_Mahjong_Probabilities.
 */
#include "ask.h"
#include "nearhand.h"
#include "reference.h"
#include "suite.h"

#include <check.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define HEAD "{\"format\":1,\"title\":\"Published figures\","
#define KNITTED                                                                                    \
    "{\"one_of\":[{\"single\":[1,4,7],\"suit\":\"x\"},{\"single\":[2,5,8],\"suit\":\"y\"},"        \
    "{\"single\":[3,6,9],\"suit\":\"z\"}],\"distinct\":true,\"times\":"
#define THREE_SUITS(shape)                                                                         \
    "{\"" shape "\":\"n\",\"suit\":\"bam\"},{\"" shape "\":\"n\",\"suit\":\"crak\"},{\"" shape     \
    "\":\"n\",\"suit\":\"dot\"},{\"set\":\"any\"},{\"pair\":\"any\"}"

static nh_list *read_list(const char *json) {
    nh_list *list = NULL;
    nh_mistakes *mistakes = NULL;
    const nh_status status = nh_list_read(json, strlen(json), NULL, &list, &mistakes);
    ck_assert_msg(status == NH_OK, "%s: %s", nh_status_text(status),
                  nh_mistakes_size(mistakes) ? nh_mistakes_at(mistakes, 0)->text : "");
    return list;
}

static void expect_digits(const char *what, const nh_natural *number, const char *published) {
    char digits[NH_NATURAL_TEXT_SIZE];
    char plain[NH_NATURAL_TEXT_SIZE];
    size_t length = 0;
    for (const char *at = published; *at; at++) {
        if (*at != ',') {
            plain[length++] = *at;
        }
    }
    plain[length] = 0;
    nh_natural_format(number, digits, sizeof digits);
    ck_assert_msg(strcmp(digits, plain) == 0, "%s: %s, published %s", what, digits, plain);
}

/* A pattern alone in its list, and its published figures; NULL where there is
 * none. `small` has the plain reference count it too. */
typedef struct figure {
    const char *name;
    const char *hand;
    const char *tiles;
    const char *pattern;
    const char *targets;
    const char *ways;
    bool small;
} figure;

static void write_list(const figure *one, char *json, size_t size) {
    const int length =
        snprintf(json, size, HEAD "\"hand\":%s,\"tiles\":{%s},\"patterns\":[{\"name\":\"%s\",%s}]}",
                 one->hand, one->tiles, one->name, one->pattern);
    ck_assert(length > 0 && (size_t)length < size);
}

static void check_by_reference(const figure *one, const char *json) {
    ref_list *list = reference_read(json);
    ref_targets targets;
    ck_assert(reference_expand(list, 0, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN, 1000000, &targets));
    const ref_count count = reference_count(list, &targets);
    if (one->targets != NULL) {
        expect_digits(one->name, &count.targets, one->targets);
    }
    if (one->ways != NULL) {
        expect_digits(one->name, &count.ways, one->ways);
    }
    reference_release(&targets);
    reference_free(list);
}

static void check_figure(const figure *one) {
    char json[2048];
    write_list(one, json, sizeof json);
    nh_list *list = read_list(json);
    nh_figures count;
    ck_assert_int_eq(ask_figures(list, 0, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN, &count), NH_OK);
    if (one->targets != NULL) {
        expect_digits(one->name, &count.targets, one->targets);
    }
    if (one->ways != NULL) {
        expect_digits(one->name, &count.ways, one->ways);
        expect_digits(one->name, &count.dealt_ways, one->ways);
    }
    nh_list_free(list);
    if (one->small) {
        check_by_reference(one, json);
    }
}

/* On a set of 136 tiles. */
static const figure whole_set[] = {
    /* targets: common knowledge, no source; ways: [1][2] */
    {"Four sets and a pair", "14", "",
     "\"groups\":[{\"set\":\"any\",\"times\":4},{\"pair\":\"any\"}]", "11,498,658",
     "11,353,128,141,498", false},
    /* targets: [3]; ways: [2] */
    {"Four sets and a pair, suited tiles only", "14", "",
     "\"groups\":[{\"set\":\"any\",\"times\":4},{\"pair\":\"any\"}],"
     "\"limits\":{\"honours\":\"none\"}",
     "5,237,550", "7,140,498,565,560", false},
    /* targets: three times those of one suit, [3][4]; ways: [1] */
    {"Four sets and a pair in one suit", "14", "",
     "\"groups\":[{\"set\":\"any\",\"suit\":\"x\",\"times\":4},{\"pair\":\"any\",\"suit\":\"x\"}]",
     "39,777", "1,321,781,052", true},
    /* [3][4] */
    {"Four sets and a pair in bams", "14", "",
     "\"groups\":[{\"set\":\"any\",\"suit\":\"bam\",\"times\":4},"
     "{\"pair\":\"any\",\"suit\":\"bam\"}]",
     "13,259", NULL, true},
    /* [1] */
    {"Four pungs and a pair", "14", "",
     "\"groups\":[{\"pung\":\"any\",\"times\":4},{\"pair\":\"any\"}]", "1,391,280", "2,137,006,080",
     false},
    /* targets: C(34,7); ways: [1][2] */
    {"Seven different pairs", "14", "",
     "\"groups\":[{\"pair\":\"any\",\"times\":7,\"distinct\":true}]", "5,379,616",
     "1,505,948,184,576", false},
    /* [2] */
    {"Seven pairs, four alike counting as two", "14", "",
     "\"groups\":[{\"pair\":\"any\",\"times\":7}]", NULL, "1,569,298,171,584", false},
    /* [1][2] */
    {"Thirteen orphans", "14", "",
     "\"groups\":[{\"single\":\"orphan\",\"times\":13,\"distinct\":true},{\"single\":\"orphan\"}]",
     "13", "1,308,622,848", true},
    /* [1] */
    {"Three chows of one number in three suits, a set and a pair", "14", "",
     "\"groups\":[" THREE_SUITS("chow") "]", "12,852", "217,494,700,032", true},
    /* [1] */
    {"Three pungs of one number in three suits, a set and a pair", "14", "",
     "\"groups\":[" THREE_SUITS("pung") "]", "14,229", "103,947,264", true},
    /* [2] */
    {"Seven honours and seven of the nine knitted tiles", "14", "",
     "\"groups\":[{\"single\":\"honour\",\"times\":7,\"distinct\":true}," KNITTED "7}]", "216",
     "57,982,058,496", true},
    /* [2] */
    {"Fourteen of the honours and the knitted tiles, not all seven honours", "14", "",
     "\"variants\":[[{\"single\":\"honour\",\"times\":6,\"distinct\":true}," KNITTED
     "8}],[{\"single\":\"honour\",\"times\":5,\"distinct\":true}," KNITTED "9}]]",
     NULL, "135,291,469,824", true},
};

START_TEST(patterns_on_the_whole_set) {
    check_figure(&whole_set[_i]);
}
END_TEST

/* w(n, s, t): targets of t sets and a pair on s suits of ranks 1 to n. Source:
 * [3]. */
static const figure numbered[] = {
    {"w(4,1,1)", "5", "",
     "\"groups\":[{\"set\":\"suited\",\"suit\":\"bam\"},{\"pair\":\"suited\",\"suit\":\"bam\"}],"
     "\"limits\":{\"ranks\":[1,2,3,4]}",
     "20", NULL, true},
    {"w(9,1,4)", "14", "\"suits\":[\"crak\"],\"winds\":false,\"dragons\":false",
     "\"groups\":[{\"set\":\"any\",\"times\":4},{\"pair\":\"any\"}]", "13,259", NULL, true},
    {"w(9,3,4)", "14", "\"winds\":false,\"dragons\":false",
     "\"groups\":[{\"set\":\"any\",\"times\":4},{\"pair\":\"any\"}]", "5,237,550", NULL, false},
};

START_TEST(sets_and_a_pair_on_few_ranks) {
    check_figure(&numbered[_i]);
}
END_TEST

/* Games with fewer suits and smaller hands. Source: [6]. */
static const figure small_games[] = {
    {"Two suits, two sets and a pair", "8",
     "\"suits\":[\"bam\",\"dot\"],\"winds\":false,\"dragons\":false",
     "\"groups\":[{\"set\":\"any\",\"times\":2},{\"pair\":\"any\"}]", NULL, "29,132,488", true},
    {"Two suits and dragons, three sets and a pair", "11",
     "\"suits\":[\"crak\",\"dot\"],\"winds\":false",
     "\"groups\":[{\"set\":\"any\",\"times\":3},{\"pair\":\"any\"}]", NULL, "6,232,346,696", false},
    {"Three suits and dragons, four sets and a pair", "14", "\"winds\":false",
     "\"groups\":[{\"set\":\"any\",\"times\":4},{\"pair\":\"any\"}]", NULL, "8,840,918,606,082",
     false},
};

START_TEST(small_games_count) {
    check_figure(&small_games[_i]);
}
END_TEST

/* All hands: as many as there are ways to draw a hand's tiles from the whole
 * set, when no tile is in hand yet. */
static void check_all_hands(const figure *one, int size, const char *published) {
    char json[2048];
    write_list(one, json, sizeof json);
    nh_list *list = read_list(json);
    nh_workspace *workspace = NULL;
    ck_assert_int_eq(nh_workspace_new(list, NULL, &workspace), NH_OK);
    const nh_tiles nothing = {{0}};
    nh_situation situation = NH_SITUATION;
    nh_ranked row;
    nh_ranking ranking;
    ck_assert_int_eq(ask_rank(workspace, &nothing, &situation, size, NULL, &row, 1, &ranking, NULL),
                     NH_OK);
    expect_digits("all hands", &ranking.draws, published);
    nh_workspace_free(workspace);
    nh_list_free(list);
}

START_TEST(all_hands_count) {
    check_all_hands(&whole_set[0], 14, "4,250,305,029,168,216,000"); /* [1] */
    check_all_hands(&small_games[0], 8, "11,969,016,345");           /* [6] */
}
END_TEST

/* ------------------------------------------------------------- one suit --- */

enum { SETS_AND_PAIR, SEVEN_PAIRS, ONE_SUIT_PATTERNS };

/* What is found over all hands of one size. */
typedef struct one_suit {
    nh_list *list;
    nh_workspace *workspace;
    nh_situation situation;
    int hands;
    int away[NH_HAND_MAX]; /* hands by tiles away from either pattern */
    int waits[10];         /* by kinds that complete four sets and a pair */
} one_suit;

static void measure(one_suit *suit, const nh_tiles *hand, uint8_t away[ONE_SUIT_PATTERNS]) {
    const nh_status status = nh_distances(suit->workspace, hand, &suit->situation, away, NULL);
    if (status != NH_OK) {
        ck_abort_msg("a hand of one suit is refused: %s", nh_status_text(status));
    }
}

/* The kinds that complete four sets and a pair, of those not all in the hand. */
static int count_waits(one_suit *suit, const nh_tiles *hand) {
    int waits = 0;
    for (int kind = 0; kind < 9; kind++) {
        nh_tiles drawn = *hand;
        uint8_t away[ONE_SUIT_PATTERNS];
        if (drawn.count[kind] < 4) {
            drawn.count[kind]++;
            measure(suit, &drawn, away);
            waits += away[SETS_AND_PAIR] == 0;
        }
    }
    return waits;
}

static void measure_hands(one_suit *suit, nh_tiles *hand, int kind, int left) {
    if (kind == 9) {
        uint8_t away[ONE_SUIT_PATTERNS];
        if (left > 0) {
            return;
        }
        measure(suit, hand, away);
        const int sets = away[SETS_AND_PAIR];
        const int pairs = away[SEVEN_PAIRS];
        suit->hands++;
        suit->away[sets < pairs ? sets : pairs]++;
        if (sets == 1 && nh_tiles_total(hand) == 13) {
            suit->waits[count_waits(suit, hand)]++;
        }
        return;
    }
    for (int copies = 0; copies <= 4 && copies <= left; copies++) {
        hand->count[kind] = (uint8_t)copies;
        measure_hands(suit, hand, kind + 1, left - copies);
    }
    hand->count[kind] = 0;
}

static one_suit measure_all(int size) {
    static const char json[] =
        HEAD "\"tiles\":{\"suits\":[\"bam\"],\"winds\":false,\"dragons\":false},\"patterns\":["
             "{\"name\":\"Sets\",\"groups\":[{\"set\":\"any\",\"times\":4},{\"pair\":\"any\"}]},"
             "{\"name\":\"Pairs\","
             "\"groups\":[{\"pair\":\"any\",\"times\":7,\"distinct\":true}]}]}";
    one_suit suit = {.list = read_list(json), .situation = NH_SITUATION};
    nh_tiles hand = {{0}};
    ck_assert_int_eq(nh_workspace_new(suit.list, NULL, &suit.workspace), NH_OK);
    measure_hands(&suit, &hand, 0, size);
    nh_workspace_free(suit.workspace);
    nh_list_free(suit.list);
    return suit;
}

/* Source: [5]. */
START_TEST(hands_of_fourteen_in_one_suit) {
    const one_suit suit = measure_all(14);
    ck_assert_int_eq(suit.hands, 118800);
    ck_assert_int_eq(suit.away[0], 13277);
    ck_assert_int_eq(suit.away[1], 91437);
    ck_assert_int_eq(suit.away[2], 14086);
}
END_TEST

/* Sources: distances [5], waits [4]. */
START_TEST(hands_of_thirteen_in_one_suit) {
    static const int waits[10] = {0, 14067, 14493, 6739, 2948, 1335, 392, 79, 16, 1};
    const one_suit suit = measure_all(13);
    int all = 0;
    ck_assert_int_eq(suit.hands, 93600);
    ck_assert_int_eq(suit.away[1], 40196);
    ck_assert_int_eq(suit.away[2], 52791);
    ck_assert_int_eq(suit.away[3], 613);
    for (int kinds = 0; kinds <= 9; kinds++) {
        ck_assert_int_eq(suit.waits[kinds], waits[kinds]);
        all += suit.waits[kinds];
    }
    ck_assert_int_eq(all, 40070);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("published");
    TCase *tests = tcase_create("published figures");
    tcase_set_timeout(tests, 0);
    tcase_add_loop_test(tests, patterns_on_the_whole_set, 0,
                        (int)(sizeof whole_set / sizeof *whole_set));
    tcase_add_loop_test(tests, sets_and_a_pair_on_few_ranks, 0,
                        (int)(sizeof numbered / sizeof *numbered));
    tcase_add_loop_test(tests, small_games_count, 0,
                        (int)(sizeof small_games / sizeof *small_games));
    tcase_add_test(tests, all_hands_count);
    tcase_add_test(tests, hands_of_fourteen_in_one_suit);
    tcase_add_test(tests, hands_of_thirteen_in_one_suit);
    suite_add_tcase(suite, tests);
    return run_suite(suite);
}
