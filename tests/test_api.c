/* The public interface, as its header promises it: versions and texts, numbers,
 * what a list says of itself, reports of mistakes, files, and rankings. */
#define _POSIX_C_SOURCE 200809L
#include "api.h"
#include "ask.h"

/* An invented list of five-tile hands: 34 kinds of 4, 4 flowers and 2 jokers
 * are 142 tiles. */
static const char small_list[] =
    "{'format': 1, 'title': 'Skerry Light List', 'edition': 'Spring tide',\n"
    " 'note': 'For three lamps', 'hand': 5, 'tiles': {'flowers': 4, 'jokers': 2},\n"
    " 'charleston': {'tiles': 2, 'rounds': [['right', 'left'], ['across']],\n"
    "                'courtesy': 1, 'keep': 'F Wh'},\n"
    " 'patterns': [\n"
    "  {'name': 'Low pung', 'section': 'Pungs', 'ref': 'P1', 'note': 'East is fixed',\n"
    "   'points': 25, 'groups': [{'pung': 1, 'suit': 'bam'}, {'pair': 'east'}]},\n"
    "  {'name': 'Five in a row', 'concealed': true,\n"
    "   'groups': [{'run': 1, 'length': 5, 'suit': 'crak'}]},\n"
    "  {'name': 'Dragons', 'points': 30.5,\n"
    "   'groups': [{'pung': 'red'}, {'pair': 'green'}]}\n"
    " ]}\n";
enum { LOW_PUNG, FIVE_IN_A_ROW, DRAGONS, SMALL_PATTERNS };

static void assert_tiles(const nh_tiles *tiles, const char *expected) {
    char text[NH_TILES_TEXT_SIZE];
    nh_tiles_format(tiles, NH_STYLE_LETTERS, text, sizeof text);
    ck_assert_str_eq(text, expected);
}

static void assert_natural(const nh_natural *number, const char *expected) {
    char text[NH_NATURAL_TEXT_SIZE];
    ck_assert_uint_eq(nh_natural_format(number, text, sizeof text), strlen(expected));
    ck_assert_str_eq(text, expected);
}

/* ------------------------------------------------------ version, texts --- */

START_TEST(version_is_that_of_the_header) {
    char expected[32];
    snprintf(expected, sizeof expected, "%d.%d.%d", NH_VERSION_MAJOR, NH_VERSION_MINOR,
             NH_VERSION_PATCH);
    ck_assert_str_eq(NH_VERSION, expected);
    ck_assert_str_eq(nh_version(), NH_VERSION);
}
END_TEST

START_TEST(every_status_has_its_own_text) {
    for (int i = NH_OK; i <= NH_ERROR_LIMIT; i++) {
        const char *text = nh_status_text((nh_status)i);
        ck_assert_ptr_nonnull(text);
        ck_assert_str_ne(text, "");
        for (int j = NH_OK; j < i; j++)
            ck_assert_str_ne(text, nh_status_text((nh_status)j));
        ck_assert_str_ne(text, nh_status_text((nh_status)1000));
    }
    ck_assert_str_ne(nh_status_text((nh_status)1000), "");
}
END_TEST

/* ------------------------------------------------------------- numbers --- */

/* Powers of two as decimal digits: computed with whole numbers of any size. */
START_TEST(naturals_are_written_in_full) {
    nh_natural zero = {{0, 0, 0}}, limb = {{UINT64_MAX, 0, 0}}, second = {{0, 1, 0}};
    nh_natural third = {{0, 0, 1}}, all = {{UINT64_MAX, UINT64_MAX, UINT64_MAX}};
    assert_natural(&zero, "0");
    assert_natural(&limb, "18446744073709551615");
    assert_natural(&second, "18446744073709551616");
    assert_natural(&third, "340282366920938463463374607431768211456");
    assert_natural(&all, "6277101735386680763835789423207666416102355444464034512895");
}
END_TEST

START_TEST(naturals_are_cut_like_snprintf) {
    nh_natural number = {{1234567, 0, 0}};
    char text[8] = "???????";
    ck_assert_uint_eq(nh_natural_format(&number, text, 4), 7);
    ck_assert_str_eq(text, "123");
    ck_assert_int_eq(text[4], '?');
    ck_assert_uint_eq(nh_natural_format(&number, text, 1), 7);
    ck_assert_str_eq(text, "");
    ck_assert_uint_eq(nh_natural_format(&number, NULL, 0), 7);
    ck_assert_uint_eq(nh_natural_format(&number, text, sizeof text), 7);
    ck_assert_str_eq(text, "1234567");
}
END_TEST

START_TEST(naturals_are_compared_from_the_highest_limb) {
    nh_natural a = {{9, 9, 1}}, b = {{0, 0, 2}}, c = {{9, 8, 1}}, d = {{8, 9, 1}};
    ck_assert_int_eq(nh_natural_compare(&a, &b), -1);
    ck_assert_int_eq(nh_natural_compare(&b, &a), 1);
    ck_assert_int_eq(nh_natural_compare(&a, &c), 1);
    ck_assert_int_eq(nh_natural_compare(&d, &a), -1);
    ck_assert_int_eq(nh_natural_compare(&a, &a), 0);
}
END_TEST

START_TEST(naturals_become_doubles) {
    const double bound = 0x1p-51;
    nh_natural zero = {{0, 0, 0}}, one = {{1, 0, 0}}, three = {{3, 0, 0}};
    nh_natural high = {{0, 0, 1}}, triple = {{0, 0, 3}};
    nh_natural all = {{UINT64_MAX, UINT64_MAX, UINT64_MAX}};
    ck_assert_double_eq(nh_natural_double(&zero), 0);
    ck_assert_double_eq(nh_natural_double(&high), 0x1p128);
    ck_assert_double_eq(nh_natural_double(&all), 0x1p192);
    ck_assert_double_eq(nh_natural_ratio(&one, &zero), 0);
    ck_assert_double_eq(nh_natural_ratio(&zero, &three), 0);
    ck_assert_double_eq(nh_natural_ratio(&all, &all), 1);
    ck_assert_double_eq_tol(nh_natural_ratio(&one, &three), 1.0 / 3.0, bound / 3.0);
    ck_assert_double_eq_tol(nh_natural_ratio(&triple, &one) * 0x1p-128, 3, 3 * bound);
    ck_assert_double_eq_tol(nh_natural_ratio(&one, &high) * 0x1p128, 1, bound);
}
END_TEST

/* --------------------------------------------------------------- lists --- */

START_TEST(list_tells_what_it_says) {
    nh_list *list = read_list(small_list);
    ck_assert_str_eq(nh_list_title(list), "Skerry Light List");
    ck_assert_str_eq(nh_list_edition(list), "Spring tide");
    ck_assert_str_eq(nh_list_note(list), "For three lamps");
    ck_assert_int_eq(nh_list_hand_size(list), 5);
    ck_assert_int_eq(nh_list_hand_most(list), 5);
    ck_assert_uint_eq(nh_list_size(list), SMALL_PATTERNS);
    const nh_tiles *set = nh_list_set(list);
    ck_assert_int_eq(nh_tiles_total(set), 34 * 4 + 4 + 2);
    ck_assert_int_eq(set->count[NH_BAM_1], 4);
    ck_assert_int_eq(set->count[NH_WHITE], 4);
    ck_assert_int_eq(set->count[NH_FLOWER], 4);
    ck_assert_int_eq(set->count[NH_JOKER], 2);
    nh_list_free(list);
}
END_TEST

START_TEST(patterns_that_are_not_there) {
    nh_list *list = read_list(small_list);
    ck_assert_ptr_nonnull(nh_list_pattern(list, nh_list_size(list) - 1));
    ck_assert_ptr_null(nh_list_pattern(list, nh_list_size(list)));
    nh_list_free(list);
}
END_TEST

START_TEST(patterns_tell_what_they_say) {
    nh_list *list = read_list(small_list);
    nh_pattern pung = *nh_list_pattern(list, LOW_PUNG);
    ck_assert_str_eq(pung.name, "Low pung");
    ck_assert_str_eq(pung.section, "Pungs");
    ck_assert_str_eq(pung.ref, "P1");
    ck_assert_str_eq(pung.note, "East is fixed");
    ck_assert(pung.has_points);
    ck_assert_double_eq(pung.points, 25);
    ck_assert(!pung.concealed);
    nh_pattern row = *nh_list_pattern(list, FIVE_IN_A_ROW);
    ck_assert_str_eq(row.name, "Five in a row");
    ck_assert_ptr_null(row.section);
    ck_assert_ptr_null(row.ref);
    ck_assert_ptr_null(row.note);
    ck_assert(!row.has_points);
    ck_assert(row.concealed);
    ck_assert_double_eq(nh_list_pattern(list, DRAGONS)->points, 30.5);
    nh_list_free(list);
}
END_TEST

START_TEST(charleston_as_written) {
    nh_list *list = read_list(small_list);
    const nh_charleston *charleston = nh_list_charleston(list);
    ck_assert_uint_eq(charleston->tiles, 2);
    ck_assert_uint_eq(charleston->courtesy, 1);
    ck_assert_uint_eq(charleston->rounds, 2);
    ck_assert_uint_eq(charleston->steps[0], 2);
    ck_assert_uint_eq(charleston->direction[0][0], NH_RIGHT);
    ck_assert_uint_eq(charleston->direction[0][1], NH_LEFT);
    ck_assert_uint_eq(charleston->steps[1], 1);
    ck_assert_uint_eq(charleston->direction[1][0], NH_ACROSS);
    for (int kind = 0; kind < NH_KINDS; kind++) {
        bool kept = kind == NH_WHITE || kind == NH_FLOWER || kind == NH_JOKER;
        ck_assert_int_eq(charleston->keep.count[kind] > 0, kept);
    }
    nh_list_free(list);
}
END_TEST

START_TEST(what_a_list_leaves_out_is_usual) {
    nh_list *list = read_list("{'format': 1, 'title': 'Bare', 'patterns': [{'name': 'A',"
                              " 'groups': [{'pair': 'any', 'times': 7}]}]}");
    ck_assert_ptr_null(nh_list_edition(list));
    ck_assert_ptr_null(nh_list_note(list));
    ck_assert_int_eq(nh_list_hand_size(list), 14);
    ck_assert_int_eq(nh_tiles_total(nh_list_set(list)), 34 * 4);
    const nh_charleston *charleston = nh_list_charleston(list);
    ck_assert_uint_eq(charleston->tiles, 3);
    ck_assert_uint_eq(charleston->courtesy, 0);
    ck_assert_uint_eq(charleston->rounds, 1);
    ck_assert_uint_eq(charleston->steps[0], 3);
    ck_assert_uint_eq(charleston->direction[0][0], NH_RIGHT);
    ck_assert_uint_eq(charleston->direction[0][1], NH_ACROSS);
    ck_assert_uint_eq(charleston->direction[0][2], NH_LEFT);
    ck_assert_int_eq(nh_tiles_total(&charleston->keep), charleston->keep.count[NH_JOKER]);
    ck_assert_int_gt(charleston->keep.count[NH_JOKER], 0);
    nh_list_free(list);
}
END_TEST

START_TEST(kongs_make_the_largest_hand) {
    nh_list *list = read_list("{'format': 1, 'title': 'Kongs', 'hand': 8, 'patterns': [\n"
                              " {'name': 'A', 'groups': [{'kong': 1, 'suit': 'bam'},\n"
                              "   {'kong': 2, 'suit': 'bam'}, {'pair': 'east'}]},\n"
                              " {'name': 'B', 'groups': [{'kong': 1, 'suit': 'bam'}, "
                              "{'kong': 'red'}]}]}");
    ck_assert_int_eq(nh_list_hand_size(list), 8);
    ck_assert_int_eq(nh_list_hand_most(list), 10);
    nh_tiles hand;
    ck_assert_int_eq(nh_hand_parse(list, "1111B 2222B EE", 14, &hand, NULL), NH_OK);
    nh_error error;
    ck_assert_int_eq(nh_hand_parse(list, "1111B 2222B EEE", 15, &hand, &error), NH_ERROR_TILES);
    ck_assert_str_eq(error.text, "too many tiles: a hand has at most 10 on this list");
    nh_list_free(list);
    list = read_list("{'format': 1, 'title': 'Pairs', 'hand': 2, 'patterns': [\n"
                     " {'name': 'A', 'groups': [{'pair': 'east'}]}]}");
    ck_assert_int_eq(nh_hand_parse(list, "EEE", 3, &hand, &error), NH_ERROR_TILES);
    ck_assert_str_eq(error.text, "too many tiles: a hand has at most 2 on this list");
    nh_list_free(list);
}
END_TEST

/* ------------------------------------------------------------ mistakes --- */

/* A list with one mistake in each of some lines. */
static const char mistaken_list[] =
    "{\n"
    "  'format': 2,\n"                                                 /* 2 */
    "  'title': 'Wrong Turn List',\n"                                  /* 3 */
    "  'tils': {'flowers': 8},\n"                                      /* 4 */
    "  'hand': 5,\n"                                                   /* 5 */
    "  'patterns': [\n"                                                /* 6 */
    "    {'name': 'Ebb', 'points': 'many',\n"                          /* 7 */
    "     'groups': [{'pung': 1, 'suit': 'bam'},\n"                    /* 8 */
    "                  {'pear': 'east'}]},\n"                          /* 9 */
    "    {'name': 'Flood', 'groups': [{'pung': 'red'},\n"              /* 10 */
    "                                   {'pair': 'gren'}]},\n"         /* 11 */
    "    {'name': 'Slack', 'groups': [{'pung': 3, 'suit': 'bam'}]},\n" /* 12 */
    "    {'section': 'Nameless',\n"                                    /* 13 */
    "     'groups': [{'pung': 3, 'suit': 'bam'}, {'pair': 'east'}]},\n"
    "    {'name': 'Ebb',\n" /* 15 */
    "     'groups': [{'pung': 4, 'suit': 'bam'}, {'pair': 'east'}]}\n"
    "  ]\n"
    "}\n";

struct expected_mistake {
    uint32_t line;
    const char *pattern; /* NULL outside of one */
    const char *words[3];
};

/* Every line with a mistake is reported, in the order of the text, with words that
 * name pattern, group and culprit. Some are worded in more than one way. */
static void assert_mistakes(const nh_mistakes *mistakes, const struct expected_mistake *expected,
                            size_t count) {
    size_t at = 0;
    for (size_t i = 0; i < nh_mistakes_size(mistakes); i++) {
        nh_mistake mistake = *nh_mistakes_at(mistakes, i);
        if (at + 1 < count && mistake.line > expected[at].line)
            at++;
        const struct expected_mistake *here = &expected[at];
        ck_assert_msg(mistake.line == here->line, "line %u where %u was expected: %s",
                      (unsigned)mistake.line, (unsigned)here->line, mistake.text);
        ck_assert_uint_gt(mistake.column, 0);
        ck_assert_pstr_eq(mistake.pattern, here->pattern);
        for (int w = 0; w < 3 && here->words[w] != NULL; w++)
            ck_assert_msg(strstr(mistake.text, here->words[w]) != NULL, "%s: not in '%s'",
                          here->words[w], mistake.text);
    }
    ck_assert_uint_eq(at + 1, count);
}

START_TEST(every_mistake_is_told_in_order) {
    static const struct expected_mistake expected[] = {
        {2, NULL, {"format"}},
        {4, NULL, {"tils"}},
        {7, "Ebb", {"Ebb", "points"}},
        {9, "Ebb", {"Ebb", "group 2"}},
        {11, "Flood", {"Flood", "group 2", "gren"}},
        {12, "Slack", {"Slack", "size"}},
        {13, NULL, {"pattern 4", "name"}},
        {15, "Ebb", {"Ebb", "duplicate"}},
    };
    nh_list *list = read_list(small_list);
    nh_list_free(list);
    nh_mistakes *mistakes = NULL;
    ck_assert_int_eq(try_list(mistaken_list, NULL, &list, &mistakes), NH_ERROR_LIST);
    ck_assert_ptr_null(list);
    assert_mistakes(mistakes, expected, sizeof expected / sizeof *expected);
    nh_mistakes_free(mistakes);
}
END_TEST

START_TEST(patterns_without_a_target_are_named) {
    static const struct expected_mistake expected[] = {
        {3, "Five reds", {"Five reds", "no target"}},
        {5, "Off the edge", {"Off the edge", "no target"}},
    };
    static const char json[] =
        "{'format': 1, 'title': 'Dead Calm', 'hand': 5, 'patterns': [\n"
        "  {'name': 'Fine', 'groups': [{'pung': 'red'}, {'pair': 'east'}]},\n"
        "  {'name': 'Five reds', 'groups': [{'pung': 'red'}, {'pair': 'red'}]},\n"
        "  {'name': 'Fine too', 'groups': [{'pung': 'red'}, {'pair': 'west'}]},\n"
        "  {'name': 'Off the edge', 'groups': [{'run': 7, 'length': 5, 'suit': "
        "'x'}]}\n"
        "]}";
    nh_list *list = NULL;
    nh_mistakes *mistakes = NULL;
    ck_assert_int_eq(try_list(json, NULL, &list, &mistakes), NH_ERROR_LIST);
    ck_assert_ptr_null(list);
    assert_mistakes(mistakes, expected, 2);
    nh_mistakes_free(mistakes);
}
END_TEST

/* The text stops being JSON at a given line and column, in characters. */
static void assert_syntax(const char *json, uint32_t line, uint32_t column) {
    nh_list *list = NULL;
    nh_mistakes *mistakes = NULL;
    ck_assert_int_eq(try_list(json, NULL, &list, &mistakes), NH_ERROR_LIST);
    ck_assert_ptr_null(list);
    ck_assert_uint_eq(nh_mistakes_size(mistakes), 1);
    nh_mistake mistake = *nh_mistakes_at(mistakes, 0);
    ck_assert_uint_eq(mistake.line, line);
    ck_assert_uint_eq(mistake.column, column);
    ck_assert_ptr_null(mistake.pattern);
    ck_assert_str_ne(mistake.text, "");
    nh_mistakes_free(mistakes);
}

START_TEST(broken_json_is_told_by_line_and_column) {
    assert_syntax("{\n  'format': 1\n  'title': 'x'\n}", 3, 3);
    assert_syntax("{'format': 1,\n 'title': '\xC3\xA9t\xC3\xA9' 'hand': 14}", 2, 17);
    assert_syntax("{'format': 1,\r\n 'title': oops}", 2, 11);
    assert_syntax("{'format': 1,\n 'title': 'x'}\n}", 3, 1);
    assert_syntax("{'format': 1,\n 'title': '\xC3('}", 2, 12);
}
END_TEST

START_TEST(nothing_is_no_list) {
    assert_syntax("", 1, 1);
    assert_syntax(" ", 1, 1);
}
END_TEST

START_TEST(report_may_be_left_out) {
    nh_list *list = NULL;
    ck_assert_int_eq(try_list(mistaken_list, NULL, &list, NULL), NH_ERROR_LIST);
    ck_assert_ptr_null(list);
    ck_assert_int_eq(nh_list_load("/nowhere/at/all.json", NULL, &list, NULL), NH_ERROR_FILE);
    ck_assert_ptr_null(list);
}
END_TEST

/* --------------------------------------------------------------- files --- */

START_TEST(list_is_loaded_from_a_file) {
    char path[] = "/tmp/nearhand-test-XXXXXX";
    write_list(path, small_list);
    nh_list *list = NULL;
    nh_mistakes *mistakes = (nh_mistakes *)&list; /* anything but NULL */
    ck_assert_int_eq(nh_list_load(path, NULL, &list, &mistakes), NH_OK);
    ck_assert_ptr_null(mistakes);
    ck_assert_int_eq(unlink(path), 0);
    ck_assert_str_eq(nh_list_title(list), "Skerry Light List");
    ck_assert_uint_eq(nh_list_size(list), SMALL_PATTERNS);
    nh_list_free(list);
}
END_TEST

static void assert_no_file(const char *path) {
    nh_list *list = (nh_list *)&path; /* anything but NULL */
    nh_mistakes *mistakes = NULL;
    ck_assert_int_eq(nh_list_load(path, NULL, &list, &mistakes), NH_ERROR_FILE);
    ck_assert_ptr_null(list);
    ck_assert_uint_eq(nh_mistakes_size(mistakes), 1);
    nh_mistake mistake = *nh_mistakes_at(mistakes, 0);
    ck_assert_uint_eq(mistake.line, 0);
    ck_assert_uint_eq(mistake.column, 0);
    ck_assert_ptr_null(mistake.pattern);
    ck_assert_ptr_nonnull(strstr(mistake.text, path));
    nh_mistakes_free(mistakes);
}

START_TEST(files_that_cannot_be_read_are_named) {
    assert_no_file("/nowhere/at/all.json");
    assert_no_file("/tmp"); /* a folder */
}
END_TEST

/* ---------------------------------------------------------------- NULL --- */

START_TEST(freeing_nothing_does_nothing) {
    nh_list_free(NULL);
    nh_workspace_free(NULL);
    nh_mistakes_free(NULL);
    ck_assert_uint_eq(nh_mistakes_size(NULL), 0);
}
END_TEST

START_TEST(kinds_out_of_range_have_no_name) {
    static const int outside[] = {-1, NH_KINDS, 1000000};
    for (int i = 0; i < 3; i++) {
        ck_assert_ptr_null(nh_kind_name(outside[i]));
        ck_assert_ptr_null(nh_kind_notation(outside[i]));
        ck_assert_ptr_null(nh_kind_unicode(outside[i]));
    }
}
END_TEST

START_TEST(errors_may_be_left_out) {
    nh_list *list = read_list(small_list);
    nh_workspace *workspace = new_workspace(list);
    nh_tiles tiles = tiles_of("1B");
    nh_situation situation = NH_SITUATION;
    nh_ranked rows[SMALL_PATTERNS];
    nh_ranking ranking;
    uint8_t away[SMALL_PATTERNS];
    ck_assert_int_eq(nh_tiles_parse(NULL, "4X", 2, &tiles, NULL), NH_ERROR_TILES);
    ck_assert_int_eq(nh_hand_parse(list, "", 0, &tiles, NULL), NH_ERROR_TILES);
    ck_assert_int_eq(
        ask_rank(workspace, &tiles, &situation, -1, NULL, rows, SMALL_PATTERNS, &ranking, NULL),
        NH_ERROR_ARGUMENT);
    situation.seen.count[NH_BAM_1] = 4;
    ck_assert_int_eq(nh_distances(workspace, &tiles, &situation, away, NULL), NH_ERROR_TILES);
    assert_tiles(&tiles, "1B");
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

START_TEST(format_of_no_buffer_is_a_length) {
    nh_tiles tiles = tiles_of("2468B 246C 33D EEW R Wh");
    ck_assert_uint_eq(nh_tiles_format(&tiles, NH_STYLE_LETTERS, NULL, 0),
                      strlen("2468B 246C 33D EEW R Wh"));
}
END_TEST

/* ------------------------------------------------------------- ranking --- */

/* A list with its workspace, and room for every row. */
struct table {
    nh_list *list;
    nh_workspace *workspace;
    nh_situation situation;
    int draws; /* for the chance */
    nh_ranked rows[SMALL_PATTERNS];
    nh_ranking ranking;
    nh_error error;
};

static struct table lay_table(const char *json) {
    struct table table = {.situation = NH_SITUATION, .draws = NH_DRAWS_DEFAULT};
    table.list = read_list(json);
    ck_assert_uint_le(nh_list_size(table.list), SMALL_PATTERNS);
    table.workspace = new_workspace(table.list);
    return table;
}

static void clear_table(struct table *table) {
    nh_workspace_free(table->workspace);
    nh_list_free(table->list);
}

static nh_status rank_chosen(struct table *table, const char *hand, const uint8_t *chosen,
                             size_t capacity) {
    nh_tiles tiles = tiles_of(hand);
    return ask_rank(table->workspace, &tiles, &table->situation, table->draws, chosen, table->rows,
                    capacity, &table->ranking, &table->error);
}

static nh_status rank(struct table *table, const char *hand) {
    return rank_chosen(table, hand, NULL, SMALL_PATTERNS);
}

/* Of 142 tiles 137 are unseen. The pung's third tile is one of two bams or two
 * jokers, so one draw completes it in 4 ways. */
START_TEST(ranking_tells_keep_need_and_spare) {
    struct table table = lay_table(small_list);
    table.draws = 1;
    ck_assert_int_eq(rank(&table, "11B EE 1C"), NH_OK);
    ck_assert_uint_eq(table.ranking.live, 3);
    ck_assert_uint_eq(table.ranking.rows, 3);
    ck_assert_uint_eq(table.ranking.nearest, 1);
    ck_assert_uint_eq(table.ranking.within_one, 1);
    ck_assert_uint_eq(table.ranking.unseen, 137);
    assert_natural(&table.ranking.draws, "137");
    const nh_ranked *first = &table.rows[0];
    ck_assert_uint_eq(first->pattern, LOW_PUNG);
    ck_assert_uint_eq(first->away, 1);
    assert_tiles(&first->target, "111B EE");
    assert_tiles(&first->keep, "11B EE");
    assert_tiles(&first->need, "1B");
    assert_tiles(&first->spare, "1C");
    assert_tiles(&first->joked, "");
    assert_natural(&first->completing, "4");
    ck_assert_double_eq(first->chance, 4.0 / 137);
    ck_assert_uint_eq(table.rows[1].pattern, FIVE_IN_A_ROW);
    ck_assert_uint_eq(table.rows[1].away, 4);
    ck_assert_uint_eq(table.rows[2].pattern, DRAGONS);
    ck_assert_uint_eq(table.rows[2].away, 5);
    clear_table(&table);
}
END_TEST

START_TEST(jokers_stand_for_tiles_of_a_pung) {
    struct table table = lay_table(small_list);
    ck_assert_int_eq(rank(&table, "1B E JJ 9D"), NH_OK);
    const nh_ranked *first = &table.rows[0];
    ck_assert_uint_eq(first->pattern, LOW_PUNG);
    ck_assert_uint_eq(first->away, 1); /* the pair takes no joker */
    assert_tiles(&first->keep, "1B E JJ");
    assert_tiles(&first->joked, "11B");
    assert_tiles(&first->need, "E");
    assert_tiles(&first->spare, "9D");
    ck_assert_uint_eq(table.rows[1].pattern, DRAGONS);
    ck_assert_uint_eq(table.rows[1].away, 3);
    ck_assert_uint_eq(table.rows[2].pattern, FIVE_IN_A_ROW);
    ck_assert_uint_eq(table.rows[2].away, 5); /* nor does a run */
    clear_table(&table);
}
END_TEST

START_TEST(no_draws_complete_only_what_is_complete) {
    struct table table = lay_table(small_list);
    table.draws = 0;
    ck_assert_int_eq(rank(&table, "111B EE"), NH_OK);
    assert_natural(&table.ranking.draws, "1");
    ck_assert_uint_eq(table.rows[0].away, 0);
    ck_assert_double_eq(table.rows[0].chance, 1);
    for (int i = 1; i < SMALL_PATTERNS; i++) {
        assert_natural(&table.rows[i].completing, "0");
        ck_assert_double_eq(table.rows[i].chance, 0);
    }
    clear_table(&table);
}
END_TEST

START_TEST(more_draws_than_tiles_mean_all) {
    struct table table = lay_table(small_list);
    table.draws = NH_DRAWS_MAX;
    ck_assert_int_eq(rank(&table, "1B"), NH_OK);
    ck_assert_uint_eq(table.ranking.unseen, 141);
    assert_natural(&table.ranking.draws, "1");
    for (int i = 0; i < SMALL_PATTERNS; i++)
        ck_assert_double_eq(table.rows[i].chance, 1);
    clear_table(&table);
}
END_TEST

START_TEST(rows_beyond_the_capacity_are_not_written) {
    struct table table = lay_table(small_list);
    memset(table.rows, 0x5A, sizeof table.rows);
    ck_assert_int_eq(rank_chosen(&table, "11B EE 1C", NULL, 2), NH_OK);
    ck_assert_uint_eq(table.ranking.rows, 2);
    ck_assert_uint_eq(table.ranking.live, 3);
    ck_assert_uint_eq(table.rows[0].pattern, LOW_PUNG);
    ck_assert_uint_eq(table.rows[1].pattern, FIVE_IN_A_ROW);
    const unsigned char *third = (const unsigned char *)&table.rows[2];
    for (size_t i = 0; i < sizeof table.rows[2]; i++)
        ck_assert_uint_eq(third[i], 0x5A);
    ck_assert_int_eq(rank_chosen(&table, "11B EE 1C", NULL, 0), NH_OK);
    ck_assert_uint_eq(table.ranking.rows, 0);
    ck_assert_uint_eq(table.ranking.live, 3);
    ck_assert_uint_eq(table.ranking.nearest, 1);
    clear_table(&table);
}
END_TEST

START_TEST(only_chosen_patterns_are_ranked) {
    static const uint8_t but_the_first[SMALL_PATTERNS] = {0, 1, 255};
    static const uint8_t none[SMALL_PATTERNS] = {0};
    struct table table = lay_table(small_list);
    ck_assert_int_eq(rank_chosen(&table, "11B EE 1C", but_the_first, SMALL_PATTERNS), NH_OK);
    ck_assert_uint_eq(table.ranking.live, 2);
    ck_assert_uint_eq(table.ranking.rows, 2);
    ck_assert_uint_eq(table.ranking.nearest, 4);
    ck_assert_uint_eq(table.ranking.within_one, 2);
    ck_assert_uint_eq(table.rows[0].pattern, FIVE_IN_A_ROW);
    ck_assert_uint_eq(table.rows[1].pattern, DRAGONS);
    ck_assert_int_eq(rank_chosen(&table, "11B EE 1C", none, SMALL_PATTERNS), NH_OK);
    ck_assert_uint_eq(table.ranking.live, 0);
    ck_assert_uint_eq(table.ranking.rows, 0);
    ck_assert_uint_eq(table.ranking.nearest, NH_AWAY_NONE);
    ck_assert_uint_eq(table.ranking.within_one, 0);
    clear_table(&table);
}
END_TEST

/* Three of the bams' four copies must be in the hand, unseen, or jokers. */
START_TEST(seen_tiles_make_patterns_dead) {
    struct table table = lay_table(small_list);
    nh_tiles hand = tiles_of("11B EE");
    uint8_t away[SMALL_PATTERNS];
    table.situation.seen = tiles_of("11B");
    ck_assert_int_eq(rank(&table, "11B EE"), NH_OK);
    ck_assert_uint_eq(table.ranking.live, 3);
    ck_assert_uint_eq(table.rows[0].pattern, LOW_PUNG);
    ck_assert_uint_eq(table.rows[0].away, 1);
    table.situation.seen = tiles_of("11B JJ");
    ck_assert_int_eq(rank(&table, "11B EE"), NH_OK);
    ck_assert_uint_eq(table.ranking.live, 2);
    ck_assert_uint_eq(table.ranking.unseen, 142 - 4 - 4);
    ck_assert_uint_eq(table.ranking.nearest, 5);
    ck_assert_int_eq(nh_distances(table.workspace, &hand, &table.situation, away, NULL), NH_OK);
    ck_assert_uint_eq(away[LOW_PUNG], NH_AWAY_NONE);
    ck_assert_uint_eq(away[FIVE_IN_A_ROW], 5);
    ck_assert_uint_eq(away[DRAGONS], 5);
    table.situation.seen = tiles_of("11B 1111C GGG JJ");
    ck_assert_int_eq(rank(&table, "11B EE"), NH_OK);
    ck_assert_uint_eq(table.ranking.live, 0);
    ck_assert_uint_eq(table.ranking.nearest, NH_AWAY_NONE);
    clear_table(&table);
}
END_TEST

static void assert_refused(struct table *table, const char *hand, nh_status expected) {
    nh_tiles tiles = tiles_of(hand);
    uint8_t away[SMALL_PATTERNS];
    for (int distances = 0; distances < 2; distances++) {
        table->error = (nh_error){NH_OK, 99, ""};
        nh_status status = distances ? nh_distances(table->workspace, &tiles, &table->situation,
                                                    away, &table->error)
                                     : rank(table, hand);
        ck_assert_int_eq(status, expected);
        ck_assert_int_eq(table->error.status, expected);
        ck_assert_uint_eq(table->error.column, 0);
        ck_assert_str_ne(table->error.text, "");
    }
    table->situation = (nh_situation)NH_SITUATION;
}

START_TEST(situations_out_of_range_are_refused) {
    struct table table = lay_table(small_list);
    table.situation.prevailing = (nh_wind)5;
    assert_refused(&table, "1B", NH_ERROR_ARGUMENT);
    table.situation.seat = (nh_wind)5;
    assert_refused(&table, "1B", NH_ERROR_ARGUMENT);
    ck_assert_int_eq(rank(&table, "1B"), NH_OK);
    clear_table(&table);
}
END_TEST

START_TEST(more_tiles_than_the_set_has_are_refused) {
    struct table table = lay_table(small_list);
    table.situation.seen = tiles_of("11B");
    assert_refused(&table, "111B", NH_ERROR_TILES);
    assert_refused(&table, "FFFFF", NH_ERROR_TILES);
    table.situation.seen = tiles_of("J");
    assert_refused(&table, "JJ", NH_ERROR_TILES);
    table.situation.seen.count[NH_EAST] = 255;
    assert_refused(&table, "EE", NH_ERROR_TILES);
    table.situation.seen = tiles_of("11B J");
    ck_assert_int_eq(rank(&table, "11B J"), NH_OK);
    clear_table(&table);
}
END_TEST

/* Whatever the numbers, of whatever kind. */
START_TEST(tiles_are_counted_without_end) {
    static const uint8_t counts[] = {0, 1, 2, 3, 4, 5, 8, 63, 64, 127, 128, 192, 251, 252, 255};
    struct table table = lay_table(small_list);
    const nh_tiles *set = nh_list_set(table.list);
    uint8_t away[SMALL_PATTERNS];
    for (size_t i = 0; i < sizeof counts; i++) {
        for (size_t j = 0; j < sizeof counts; j++) {
            for (int kind = 0; kind < NH_KINDS; kind++) {
                nh_tiles hand = {{0}};
                nh_situation situation = NH_SITUATION;
                hand.count[kind] = counts[i];
                situation.seen.count[kind] = counts[j];
                bool enough = counts[i] + counts[j] <= set->count[kind];
                nh_status status = nh_distances(table.workspace, &hand, &situation, away, NULL);
                ck_assert_int_eq(status, enough ? NH_OK : NH_ERROR_TILES);
            }
        }
    }
    clear_table(&table);
}
END_TEST

/* Same distance and same chance by symmetry: points, then the list's order. */
START_TEST(equals_go_by_points_then_by_place) {
    static const char json[] = "{'format': 1, 'title': 'Even', 'hand': 3, 'patterns': [\n"
                               " {'name': 'A', 'points': 10, 'groups': [{'pung': 'red'}]},\n"
                               " {'name': 'B', 'groups': [{'pung': 'green'}]},\n"
                               " {'name': 'C', 'points': 20, 'groups': [{'pung': 'white'}]}]}";
    static const char again[] = "{'format': 1, 'title': 'Even', 'hand': 3, 'patterns': [\n"
                                " {'name': 'A', 'groups': [{'pung': 'red'}]},\n"
                                " {'name': 'B', 'points': 0, 'groups': [{'pung': 'green'}]},\n"
                                " {'name': 'C', 'points': 0, 'groups': [{'pung': 'white'}]}]}";
    struct table table = lay_table(json);
    ck_assert_int_eq(rank(&table, "E"), NH_OK);
    ck_assert_uint_eq(table.rows[0].pattern, 2);
    ck_assert_uint_eq(table.rows[1].pattern, 0);
    ck_assert_uint_eq(table.rows[2].pattern, 1);
    /* chance goes before points: one white dragon fewer */
    table.situation.seen = tiles_of("Wh");
    ck_assert_int_eq(rank(&table, "E"), NH_OK);
    ck_assert_uint_eq(table.rows[0].pattern, 0);
    ck_assert_uint_eq(table.rows[1].pattern, 1);
    ck_assert_uint_eq(table.rows[2].pattern, 2);
    clear_table(&table);
    table = lay_table(again);
    ck_assert_int_eq(rank(&table, "E"), NH_OK);
    ck_assert_uint_eq(table.rows[0].pattern, 1);
    ck_assert_uint_eq(table.rows[1].pattern, 2);
    ck_assert_uint_eq(table.rows[2].pattern, 0);
    clear_table(&table);
}
END_TEST

START_TEST(winds_are_presumed_or_told) {
    struct table table =
        lay_table("{'format': 1, 'title': 'Windy', 'hand': 5, 'patterns': [\n"
                  " {'name': 'A', 'groups': [{'pung': 'prevailing'}, {'pair': 'seat'}]}]}");
    ck_assert_int_eq(rank(&table, "WW NN"), NH_OK);
    ck_assert_uint_eq(table.rows[0].away, 1);
    ck_assert_uint_eq(table.rows[0].prevailing + table.rows[0].seat,
                      (unsigned)NH_WIND_WEST + (unsigned)NH_WIND_NORTH);
    table.situation.prevailing = NH_WIND_SOUTH;
    ck_assert_int_eq(rank(&table, "WW NN"), NH_OK);
    ck_assert_uint_eq(table.rows[0].away, 3);
    ck_assert_uint_eq(table.rows[0].target.count[NH_SOUTH], 3);
    table.situation.seat = NH_WIND_EAST;
    ck_assert_int_eq(rank(&table, "WW NN"), NH_OK);
    ck_assert_uint_eq(table.rows[0].away, 5);
    assert_tiles(&table.rows[0].target, "EESSS");
    clear_table(&table);
}
END_TEST

/* Three east winds may be jokers where east prevails, or is the seat, and else not:
 * the other way to the same tiles is for another wind. */
static void assert_ways(const char *list, bool seat) {
    struct table table = lay_table(list);
    nh_wind *wind = seat ? &table.situation.seat : &table.situation.prevailing;
    table.draws = 1;
    *wind = NH_WIND_SOUTH;
    ck_assert_int_eq(rank(&table, "EE RR J"), NH_OK);
    ck_assert_uint_eq(table.rows[0].away, 1);
    assert_tiles(&table.rows[0].target, "EEE RR");
    ck_assert_uint_eq(table.rows[0].completing.limb[0], 2); /* the east winds left */
    *wind = NH_WIND_EAST;
    ck_assert_int_eq(rank(&table, "EE RR"), NH_OK);
    ck_assert_uint_eq(table.rows[0].away, 1);
    ck_assert_uint_eq(table.rows[0].completing.limb[0], 2 + 8); /* and the jokers */
    clear_table(&table);
}

START_TEST(ways_of_other_winds_do_not_count) {
    assert_ways("{'format': 1, 'title': 'Windy', 'hand': 5, 'tiles': {'jokers': 8},\n"
                " 'patterns': [{'name': 'A', 'variants': [\n"
                "   [{'pung': 'prevailing'}, {'pair': 'red'}],\n"
                "   [{'pair': 'east'}, {'single': 'east'}, {'pair': 'red'}]]}]}",
                false);
    assert_ways("{'format': 1, 'title': 'Windy', 'hand': 5, 'tiles': {'jokers': 8},\n"
                " 'patterns': [{'name': 'A', 'variants': [\n"
                "   [{'pung': 'seat'}, {'pair': 'red'}],\n"
                "   [{'pair': 'east'}, {'single': 'east'}, {'pair': 'red'}]]}]}",
                true);
}
END_TEST

/* ---------------------------------------------------------------- suite --- */

int main(void) {
    Suite *suite = suite_create("api");
    ADD_TESTS(suite, "texts", version_is_that_of_the_header, every_status_has_its_own_text);
    ADD_TESTS(suite, "numbers", naturals_are_written_in_full, naturals_are_cut_like_snprintf,
              naturals_are_compared_from_the_highest_limb, naturals_become_doubles);
    ADD_TESTS(suite, "lists", list_tells_what_it_says, patterns_that_are_not_there,
              patterns_tell_what_they_say, charleston_as_written, what_a_list_leaves_out_is_usual,
              kongs_make_the_largest_hand);
    ADD_TESTS(suite, "mistakes", every_mistake_is_told_in_order,
              patterns_without_a_target_are_named, broken_json_is_told_by_line_and_column,
              nothing_is_no_list, report_may_be_left_out);
    ADD_TESTS(suite, "files", list_is_loaded_from_a_file, files_that_cannot_be_read_are_named);
    ADD_TESTS(suite, "nothing", freeing_nothing_does_nothing, kinds_out_of_range_have_no_name,
              errors_may_be_left_out, format_of_no_buffer_is_a_length);
    ADD_TESTS(suite, "ranking", ranking_tells_keep_need_and_spare, jokers_stand_for_tiles_of_a_pung,
              no_draws_complete_only_what_is_complete, more_draws_than_tiles_mean_all,
              rows_beyond_the_capacity_are_not_written, only_chosen_patterns_are_ranked,
              seen_tiles_make_patterns_dead, situations_out_of_range_are_refused,
              more_tiles_than_the_set_has_are_refused, tiles_are_counted_without_end,
              equals_go_by_points_then_by_place, winds_are_presumed_or_told,
              ways_of_other_winds_do_not_count);
    return run_suite(suite);
}
