/* Sets on the table: how they are read, what is refused, and choices that must differ
 * from those that lie there. */
#define _POSIX_C_SOURCE 200809L
#include "api.h"
#include "sharing.h"

static const char distinct_list[] =
    "{'format': 1, 'title': 'Shown', 'hand': 8, 'tiles': {'jokers': 4}, 'patterns': [\n"
    " {'name': 'Two that differ', 'groups': [\n"
    "  {'one_of': [{'pung': [2, 3, 4], 'suit': 'bam'}, [{'pung': 5, 'suit': 'crak'}],\n"
    "    [{'pair': 8, 'suit': 'dot'}, {'single': 9, 'suit': 'dot'}],\n"
    "    [{'one_of': [{'single': 'wind', 'times': 3, 'distinct': true}]}],\n"
    "    [{'single': [6, 7], 'suit': 'dot', 'times': 3}],\n"
    "    {'chow': 1, 'suit': 'dot'}], 'times': 2, 'distinct': true},\n"
    "  {'pair': 'red'}]},\n"
    " {'name': 'Hidden', 'concealed': true, 'groups': [\n"
    "  {'pung': 2, 'suit': 'bam'}, {'pung': 'wind'}, {'pair': 'red'}]}]}\n";

/* Two pungs in one choice, beside another that differs and alone; and a variant that has no
 * hand at all, as it has more letters for suits than there are suits. */
static const char several_list[] =
    "{'format': 1, 'title': 'Several', 'hand': 14, 'patterns': [\n"
    " {'name': 'Two in one', 'variants': [\n"
    "  [{'one_of': [[{'pung': [2, 3], 'suit': 'bam', 'distinct': true}, {'pung': [2, 3], 'suit': "
    "'bam'}],\n"
    "    [{'kong': 'east'}, {'pair': 'south'}]], 'times': 2, 'distinct': true}, {'pair': 'red'}],\n"
    "  [{'one_of': [[{'pung': 4, 'suit': 'bam'}, {'pung': 'n', 'suit': 'bam'}],\n"
    "    [{'pair': 9, 'suit': 'dot', 'times': 2}, {'pair': 'n', 'suit': 'dot'}]],\n"
    "    'times': 1, 'distinct': true}, {'kong': 'west'}, {'kong': 'green'}],\n"
    "  [{'single': 1, 'suit': 'w'}, {'single': 1, 'suit': 'x'}, {'single': 1, 'suit': 'y'},\n"
    "   {'single': 1, 'suit': 'z'}, {'kong': 'red'}, {'kong': 'green'}, {'pair': 'white'}]]},\n"
    " {'name': 'Hidden', 'concealed': true, 'groups': [{'pung': 'n', 'suit': 'x'}, {'pung': 'n', "
    "'suit': 'y'}, {'kong': 'red'}, {'kong': 'green'}]}]}\n";

static nh_status parse(const nh_list *list, const char *text, size_t capacity, nh_set *sets,
                       size_t *count, nh_error *error) {
    return nh_sets_parse(list, text, strlen(text), sets, capacity, count, error);
}

START_TEST(sets_are_read) {
    nh_set sets[NH_SETS_MAX];
    nh_tiles tiles;
    nh_error error;
    size_t count = 9;
    ck_assert_int_eq(parse(NULL, " 444D,EEEJ 0000\t123B ", NH_SETS_MAX, sets, &count, &error),
                     NH_OK);
    ck_assert_uint_eq(count, 4);
    ck_assert(sets[0].shape == NH_PUNG && sets[0].kind == NH_DOT_1 + 3 && sets[0].jokers == 0);
    ck_assert(sets[1].shape == NH_KONG && sets[1].kind == NH_EAST && sets[1].jokers == 1);
    ck_assert(sets[2].shape == NH_KONG && sets[2].kind == NH_WHITE);
    ck_assert(sets[3].shape == NH_CHOW && sets[3].kind == NH_BAM_1 && sets[3].tiles == 3);
    nh_set_tiles(&sets[1], &tiles);
    ck_assert(tiles.count[NH_EAST] == 3 && tiles.count[NH_JOKER] == 1);
    nh_set_tiles(&sets[3], &tiles);
    ck_assert_int_eq(nh_tiles_total(&tiles), 3);
    ck_assert_int_eq(parse(NULL, "", 0, sets, &count, &error), NH_OK);
    ck_assert_uint_eq(count, 0);
}
END_TEST

START_TEST(what_is_no_set_is_refused) {
    static const struct {
        const char *text;
        uint32_t column;
    } rows[] = {{"44D", 1},   {"EEE 12B", 5}, {"JJJ", 1},     {"EEE 4X", 6},
                {"891B", 1},  {"135B", 1},    {"124B", 1},    {"EEES", 1},
                {"1234B", 1}, {"89B1C", 1},   {"FFFFFFF", 1}, {"EEE EEE EEE", 9}};
    nh_list *list = read_list(distinct_list);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        nh_set sets[2];
        size_t count = 7;
        nh_error error = {NH_OK, 0, ""};
        nh_status status = parse(NULL, rows[i].text, 2, sets, &count, &error);
        ck_assert_msg(status == NH_ERROR_TILES && error.column == rows[i].column, "%s: %u: %s",
                      rows[i].text, error.column, error.text);
        ck_assert_uint_eq(count, 7);
        ck_assert_int_eq(parse(NULL, rows[i].text, 2, sets, &count, NULL), NH_ERROR_TILES);
    }
    nh_set sets[2];
    size_t count;
    nh_error error;
    ck_assert_int_eq(parse(list, "1B2B3B4B5B6B7B8B9B1C2C3C4C5C6C7C8C9C1D2D3D4D5D6D7D8D9DESWNRGWhF",
                           2, sets, &count, &error),
                     NH_ERROR_TILES);
    ck_assert_str_eq(error.text,
                     "'1B2B3B4B5B6B7B8B9B1C2C3C4C5C6C7C8C9C1D2D3D4D5D6D7D8D9DESWNRG' is "
                     "not a set: write 3 to 6 tiles alike or three in a row in one "
                     "word, such as 444D, EEEJ or 123B");
    ck_assert_int_eq(parse(list, "FFF", 2, sets, &count, &error), NH_ERROR_TILES);
    ck_assert_str_eq(error.text, "the list is played without flower (F)");
    ck_assert_int_eq(parse(list, "444D 444D", 2, sets, &count, &error), NH_ERROR_TILES);
    ck_assert_str_eq(error.text, "more than 4 of 4D: the set has no more");
    nh_list_free(list);
}
END_TEST

/* A count has room for 42 sextets. */
START_TEST(sets_that_no_count_holds_are_refused) {
    enum { MOST = UINT8_MAX / 6 };
    char text[7 * (MOST + 1) + 1] = "";
    nh_set sets[MOST + 1];
    size_t count;
    nh_error error;
    for (int i = 0; i <= MOST; i++)
        memcpy(text + (size_t)7 * (size_t)i, "FFFFFF ", 8);
    ck_assert_int_eq(parse(NULL, text, MOST + 1, sets, &count, &error), NH_ERROR_TILES);
    ck_assert_str_eq(error.text, "too many tiles");
    ck_assert_uint_eq(error.column, 7 * MOST + 1);
    ck_assert_int_eq(nh_sets_parse(NULL, text, 7 * MOST, sets, MOST + 1, &count, &error), NH_OK);
    ck_assert_uint_eq(count, MOST);
}
END_TEST

START_TEST(what_is_no_set_has_no_tiles) {
    static const nh_set sets[] = {{NH_CHOW, 255, 3, 0}, {NH_PUNG, NH_JOKER, 3, 0},
                                  {NH_PUNG, 200, 3, 1}, {NH_KONG, 0, 4, 5},
                                  {0, 0, 0, 0},         {NH_PAIR, 0, 2, 0}};
    const nh_tiles nothing = {{0}};
    for (size_t i = 0; i < sizeof sets / sizeof *sets; i++) {
        nh_tiles tiles;
        memset(&tiles, 9, sizeof tiles);
        nh_set_tiles(&sets[i], &tiles);
        ck_assert(nh_tiles_equal(&tiles, &nothing));
    }
}
END_TEST

START_TEST(rests_refuse_what_cannot_lie_there) {
    static const nh_set wrong[] = {
        {NH_PAIR, NH_EAST, 2, 0},  {NH_PUNG, NH_EAST, 4, 0},  {NH_PUNG, NH_EAST, 3, 3},
        {NH_PUNG, NH_JOKER, 3, 0}, {NH_CHOW, NH_EAST, 3, 0},  {NH_CHOW, NH_BAM_1 + 7, 3, 0},
        {NH_CHOW, NH_BAM_1, 3, 1}, {NH_CHOW, NH_BAM_1, 4, 0}, {NH_RUN, NH_BAM_1, 4, 0}};
    nh_list *list = read_list(distinct_list), *rest = NULL;
    nh_error error;
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++)
        ck_assert_int_eq(nh_list_rest(list, &wrong[i], 1, NULL, &rest, &error), NH_ERROR_ARGUMENT);
    nh_set many[NH_SETS_MAX + 1];
    for (size_t i = 0; i <= NH_SETS_MAX; i++)
        many[i] = (nh_set){NH_PUNG, (uint8_t)i, 3, 0};
    ck_assert_int_eq(nh_list_rest(list, many, NH_SETS_MAX + 1, NULL, &rest, &error),
                     NH_ERROR_TILES);
    many[1] = many[0];
    ck_assert_int_eq(nh_list_rest(list, many, 2, NULL, &rest, &error), NH_ERROR_TILES);
    ck_assert_str_eq(error.text, "the sets hold more one of bams than there are");
    ck_assert_ptr_null(rest);
    nh_list_free(list);
}
END_TEST

/* A hand holds no tile that lies on the table. */
START_TEST(tiles_on_the_table_are_in_no_hand) {
    static const struct {
        const char *text;
        uint32_t column;
        const char *mistake;
    } rows[] = {{"2B E", 4, "every E lies on the table already"},
                {"44D", 2, "more than 1 of 4D: the others lie on the table"},
                {"4D JJJJ", 7, "more than 3 of J: the others lie on the table"},
                {"F", 1, "the list is played without flower (F)"},
                {"22222B", 5, "more than 4 of 2B: the set has no more of the two of bams"}};
    nh_list *list = read_list(distinct_list), *rest = NULL;
    nh_set sets[2];
    size_t count;
    nh_tiles tiles;
    nh_error error;
    ck_assert_int_eq(parse(list, "444D EEEEJ", 2, sets, &count, NULL), NH_OK);
    ck_assert_int_eq(nh_list_rest(list, sets, count, NULL, &rest, NULL), NH_OK);
    ck_assert_int_eq(nh_hand_parse(rest, "123456789B 123456789C", 21, &tiles, &error),
                     NH_ERROR_TILES);
    char most[64];
    snprintf(most, sizeof most, "too many tiles: a hand has at most %d beside the sets",
             nh_list_hand_most(rest));
    ck_assert_str_eq(error.text, most);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const char *text = rows[i].text;
        ck_assert_msg(nh_tiles_parse(rest, text, strlen(text), &tiles, &error) == NH_ERROR_TILES &&
                          strcmp(error.text, rows[i].mistake) == 0,
                      "%s: %s", text, error.text);
        ck_assert_uint_eq(error.column, rows[i].column);
    }
    ck_assert_int_eq(nh_tiles_parse(rest, "4D JJJ", 6, &tiles, &error), NH_OK);
    nh_list_free(rest);
    nh_list_free(list);
}
END_TEST

/* How far a hand is from the first pattern with sets on the table. */
static unsigned away_with(const nh_list *list, const char *sets_text, const char *hand_text) {
    nh_set sets[NH_SETS_MAX];
    size_t count = 0;
    nh_list *rest = NULL;
    uint8_t away[2];
    nh_tiles hand = tiles_of(hand_text);
    ck_assert_int_eq(parse(list, sets_text, NH_SETS_MAX, sets, &count, NULL), NH_OK);
    ck_assert_int_eq(nh_list_rest(list, sets, count, NULL, &rest, NULL), NH_OK);
    nh_workspace *workspace = new_workspace(rest);
    ck_assert_int_eq(nh_distances(workspace, &hand, NULL, away, NULL), NH_OK);
    ck_assert_uint_eq(away[1], NH_AWAY_NONE); /* concealed */
    nh_workspace_free(workspace);
    nh_list_free(rest);
    return away[0];
}

START_TEST(choices_differ_from_those_on_the_table) {
    nh_list *list = read_list(distinct_list);
    ck_assert_uint_eq(away_with(list, "222B", "333B RR"), 0);
    ck_assert_uint_eq(away_with(list, "222B", "2B RR"), 3); /* not the same pung again */
    ck_assert_uint_eq(away_with(list, "222B", "889D RR"), 0);
    ck_assert_uint_eq(away_with(list, "222B", "ESW RR"), 0);
    ck_assert_uint_eq(away_with(list, "222B", "EEE RR"), 2);
    ck_assert_uint_eq(away_with(list, "222B", "667D RR"), 0);
    ck_assert_uint_eq(away_with(list, "555C", "123D RR"), 0);
    ck_assert_uint_eq(away_with(list, "123D", "123D RR"), 3);
    ck_assert_uint_eq(away_with(list, "123D 22BJ", "RR"), 0);
    ck_assert_uint_eq(away_with(list, "444D", "123D RR"), NH_AWAY_NONE);
    nh_list_free(list);
}
END_TEST

static void fail_everywhere(const char *json, bool fail_on) {
    nh_list *list = read_list(json);
    nh_set set = {NH_PUNG, NH_BAM_1 + 1, 3, 0};
    size_t refused = 0;
    for (size_t failing = 0;; failing += json == wide_list ? 1 + failing / 40 : 1) {
        struct counting counting = {.fail_at = failing, .fail_on = fail_on};
        nh_allocator allocator = counted_by(&counting);
        nh_list *rest = NULL;
        nh_status status = nh_list_rest(list, &set, 1, &allocator, &rest, NULL);
        bool whole = counting.calls <= failing;
        ck_assert_int_eq(status, whole ? NH_OK : NH_ERROR_MEMORY);
        refused += !whole;
        nh_list_free(rest);
        ck_assert_uint_eq(counting.blocks, 0);
        if (whole)
            break;
    }
    ck_assert_uint_gt(refused, 50);
    nh_list_free(list);
}

START_TEST(rests_bear_failing_memory) {
    for (int fail_on = 0; fail_on < 2; fail_on++) {
        fail_everywhere(distinct_list, fail_on != 0);
        fail_everywhere(several_list, fail_on != 0);
        fail_everywhere(wide_list, fail_on != 0);
    }
}
END_TEST

/* A list that can be loaded can be too much beside sets, where letters take all their
 * values in turn; not for groups alike, of which each order is the same. */
START_TEST(work_for_rests) {
    nh_list *list = read_list(
        "{'format': 1, 'title': 'Reach', 'hand': 12, 'patterns': [{'name': 'Letters', 'groups': ["
        "{'single': 'a', 'suit': 'x'}, {'single': 'b', 'suit': 'x'}, {'single': 'c', 'suit': 'y'}, "
        "{'single': 'd', 'suit': 'y'}, {'single': 'e', 'suit': 'y'}, {'single': 'f', 'suit': 'z'}, "
        "{'single': 'g', 'suit': 'z'}, {'single': 'h', 'suit': 'z'}, {'single': 'i', 'suit': 'z'}, "
        "{'pung': 'wind'}]}]}");
    nh_list *rest = NULL;
    nh_set set = {NH_PUNG, NH_EAST, 3, 0};
    nh_error error;
    ck_assert_int_eq(nh_list_rest(list, &set, 1, NULL, &rest, &error), NH_ERROR_LIMIT);
    ck_assert_str_eq(error.text, "what is left of the list takes too much work");
    ck_assert_ptr_null(rest);
    nh_list_free(list);
    list = read_list("{'format': 1, 'title': 'Alike', 'hand': 11, 'patterns': [{'name': 'Fours', "
                     "'groups': [{'one_of': [[{'single': [1, 2, 3, 4], 'suit': 'any'}, {'single': "
                     "[1, 2, 3, 4], 'suit': 'any'}, {'single': [1, 2, 3, 4], 'suit': 'any'}, "
                     "{'single': [1, 2, 3, 4], 'suit': 'any'}], {'kong': 'red'}], 'times': 2, "
                     "'distinct': true}, {'pung': 'wind'}]}]}");
    ck_assert_int_eq(nh_list_rest(list, &set, 1, NULL, &rest, &error), NH_OK);
    nh_workspace *workspace = new_workspace(rest);
    static const struct {
        const char *hand;
        unsigned away;
    } rows[] = {{"1234B 1234C", 0}, {"1234B RRRR", 0}, {"1111D RRR 5C", 1}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const nh_tiles hand = tiles_of(rows[i].hand);
        uint8_t away;
        ck_assert_int_eq(nh_distances(workspace, &hand, NULL, &away, NULL), NH_OK);
        ck_assert_uint_eq(away, rows[i].away);
    }
    nh_workspace_free(workspace);
    nh_list_free(rest);
    nh_list_free(list);
}
END_TEST

/* A set on the table is one group of a choice, not two. */
START_TEST(a_set_serves_once) {
    nh_list *list = read_list(several_list);
    ck_assert_uint_eq(away_with(list, "222B", "333B EEEE SS RR"), 0);
    ck_assert_uint_eq(away_with(list, "222B", "2B EEEE SS RR"), 3);
    ck_assert_uint_eq(away_with(list, "222B 333B", "EEEE SS RR"), 0);
    ck_assert_uint_eq(away_with(list, "444B", "777B WWWW GGGG"), 0);
    ck_assert_uint_eq(away_with(list, "444B", "4B WWWW GGGG"), 3);
    ck_assert_uint_eq(away_with(list, "222B 555C", "RR"), NH_AWAY_NONE);
    nh_list_free(list);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("sets");
    ADD_TESTS(suite, "sets", sets_are_read, what_is_no_set_is_refused,
              sets_that_no_count_holds_are_refused, what_is_no_set_has_no_tiles,
              tiles_on_the_table_are_in_no_hand, rests_refuse_what_cannot_lie_there,
              choices_differ_from_those_on_the_table, rests_bear_failing_memory, work_for_rests,
              a_set_serves_once);
    return run_suite(suite);
}
