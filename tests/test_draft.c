/* What a list may say and what it may not, key by key; where its mistakes are
 * found; and that a draft bears memory that runs out at any place. Lists are
 * written with ' for ", so that they read as JSON does. */
#define _POSIX_C_SOURCE 200809L
#include "../lib/list/draft_list.h"
#include "api.h"
#include "ask.h"

/* A list with these keys beside those that it must have. */
static struct json list_with(const char *keys) {
    char text[2048];
    ck_assert_int_lt(snprintf(text, sizeof text,
                              "{'format':1,'title':'Slack Water List','hand':2,%s'patterns':["
                              "{'name':'Ebb','groups':[{'pair':1,'suit':'bam'}]}]}",
                              keys),
                     (int)sizeof text);
    return json_of(text);
}

/* A list of one pattern with these keys beside its name. */
static struct json pattern_with(const char *keys) {
    char text[2048];
    ck_assert_int_lt(snprintf(text, sizeof text,
                              "{'format':1,'title':'Slack Water List','hand':2,'patterns':["
                              "{'name':'Ebb',%s}]}",
                              keys),
                     (int)sizeof text);
    return json_of(text);
}

static struct json group_with(const char *keys) {
    char text[1024];
    ck_assert_int_lt(snprintf(text, sizeof text, "'groups':[{%s}]", keys), (int)sizeof text);
    return pattern_with(text);
}

static struct json limited_by(const char *limits) {
    char text[1024];
    ck_assert_int_lt(snprintf(text, sizeof text, "'groups':[{'pair':'any'}],'limits':%s", limits),
                     (int)sizeof text);
    return pattern_with(text);
}

/* The list is refused with one mistake, which begins and ends in these words. */
static nh_mistake refuse(struct json json, const char *begin, const char *end) {
    static char text[2048];
    nh_list *list = NULL;
    nh_mistakes *mistakes = NULL;
    ck_assert_msg(nh_list_read(json.text, json.length, NULL, &list, &mistakes) == NH_ERROR_LIST,
                  "taken: %s", json.text);
    ck_assert_msg(nh_mistakes_size(mistakes) == 1, "%zu mistakes: %s", nh_mistakes_size(mistakes),
                  nh_mistakes_at(mistakes, 0)->text);
    nh_mistake mistake = *nh_mistakes_at(mistakes, 0);
    snprintf(text, sizeof text, "%s", mistake.text);
    size_t length = strlen(text), tail = strlen(end);
    ck_assert_msg(strncmp(text, begin, strlen(begin)) == 0 && length >= tail &&
                      strcmp(text + length - tail, end) == 0,
                  "%s\nis refused with: %s", json.text, text);
    mistake.text = text;
    mistake.pattern = NULL;
    ck_assert_ptr_null(nh_mistakes_at(mistakes, 1));
    ck_assert_ptr_null(nh_mistakes_at(NULL, 0));
    nh_mistakes_free(mistakes);
    return mistake;
}

static nh_list *load_good(struct json json) {
    nh_list *list = NULL;
    nh_mistakes *mistakes = NULL;
    nh_status status = nh_list_read(json.text, json.length, NULL, &list, &mistakes);
    ck_assert_msg(status == NH_OK, "%s\nis refused: %s", json.text,
                  nh_mistakes_at(mistakes, 0)->text);
    return list;
}

struct refusal {
    const char *keys, *end;
};

#define REFUSE_ALL(make, begin, rows)                                                              \
    for (size_t i = 0; i < sizeof(rows) / sizeof *(rows); i++)                                     \
    refuse(make((rows)[i].keys), begin, (rows)[i].end)

/* --------------------------------------------------------------- tiles --- */

#define NO_TILE                                                                                    \
    "is not a tile: a rank from 1 to 9, a letter such as \"n\" or \"n+1\", an honour or a class "  \
    "is expected"
#define NO_WORD                                                                                    \
    "which tile: a rank, a letter such as \"n\" or \"n+1\", an honour or a class of tiles is "     \
    "expected here"

START_TEST(words_that_are_no_tile) {
    static const char *const words[] = {"",     "n+",   "n+/", "n+X-",  "n+100", "n*2",   "n1",
                                        "nn",   "1x-n", "-n",  "100-n", "10-9",  "10-nn", "10-",
                                        "10-{", "Q+",   "~",   "x-n-1", "1/-n",  "easter"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        char keys[64], end[200];
        snprintf(keys, sizeof keys, "'pair':'%s','suit':'x'", words[i]);
        snprintf(end, sizeof end, "\"%s\" " NO_TILE, words[i]);
        refuse(group_with(keys), "pattern \"Ebb\", group 1: ", end);
    }
}
END_TEST

START_TEST(values_that_are_no_tile) {
    static const struct refusal rows[] = {
        {"'pair':true", NO_WORD},
        {"'pair':null", NO_WORD},
        {"'pair':{}", NO_WORD},
        {"'pair':[1,[2]],'suit':'bam'", NO_WORD},
        {"'pair':[],'suit':'bam'", "an array of alternatives must hold 1 to 256 tiles"},
        {"'pair':10,'suit':'bam'", "a rank must be a whole number from 1 to 9"},
        {"'pair':1e300,'suit':'bam'", "a rank must be a whole number from 1 to 9"},
    };
    REFUSE_ALL(group_with, "pattern \"Ebb\", group 1", rows);
}
END_TEST

/* Letters count up and down, and from the numbers before a minus. */
START_TEST(letters_and_offsets) {
    static const struct {
        const char *word;
        int least, most; /* ranks that it can come to */
    } rows[] = {{"n", 1, 9},    {"n+0", 1, 9}, {"n+7", 8, 9}, {"n-08", 1, 1},
                {"10-n", 1, 9}, {"2-n", 1, 1}, {"18-z", 9, 9}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char keys[64];
        snprintf(keys, sizeof keys, "'pair':'%s','suit':'bam'", rows[i].word);
        nh_list *list = load_good(group_with(keys));
        nh_workspace *workspace = new_workspace(list);
        for (int rank = 1; rank <= 9; rank++) {
            nh_tiles hand = {{0}};
            nh_situation situation = NH_SITUATION;
            uint8_t away = 0;
            hand.count[NH_BAM_1 + rank - 1] = 2;
            ck_assert_int_eq(nh_distances(workspace, &hand, &situation, &away, NULL), NH_OK);
            ck_assert_int_eq(away == 0, rows[i].least <= rank && rank <= rows[i].most);
        }
        nh_workspace_free(workspace);
        nh_list_free(list);
    }
}
END_TEST

START_TEST(suits_that_are_none) {
    static const struct refusal rows[] = {
        {"'pair':1,'suit':'{'", "or a lower-case letter"},
        {"'pair':1,'suit':'xy'", "or a lower-case letter"},
        {"'pair':1,'suit':''", "or a lower-case letter"},
        {"'pair':1,'suit':null", "or a lower-case letter"},
    };
    REFUSE_ALL(group_with,
               "pattern \"Ebb\", group 1: \"suit\" must be \"bam\", \"crak\", \"dot\", \"any\"",
               rows);
}
END_TEST

START_TEST(alternatives_that_are_none) {
    static const struct refusal rows[] = {
        {"'one_of':5", "\"one_of\" must be an array of 1 to 256 alternatives"},
        {"'one_of':{}", "\"one_of\" must be an array of 1 to 256 alternatives"},
    };
    REFUSE_ALL(group_with, "pattern \"Ebb\", group 1: ", rows);
}
END_TEST

/* -------------------------------------------------------------- limits --- */

#define SUITS_LIMIT "\"suits\" must be how many suits occur, 0 to 3, or [least, most]"
#define RANKS_LIMIT "\"ranks\" must be an array of the ranks, 1 to 9, that may occur"

START_TEST(limits_that_are_none) {
    static const struct refusal rows[] = {
        {"5", "\"limits\" must be an object"},
        {"[]", "\"limits\" must be an object"},
        {"{'suits':[0,1,2]}", SUITS_LIMIT},
        {"{'suits':[1,'two']}", SUITS_LIMIT},
        {"{'suits':['one',2]}", SUITS_LIMIT},
        {"{'suits':[]}", SUITS_LIMIT},
        {"{'honours':3}", "\"honours\" must be \"none\", \"some\" or \"only\""},
        {"{'ranks':5}", RANKS_LIMIT},
        {"{'ranks':[]}", RANKS_LIMIT},
        {"{'ranks':{}}", RANKS_LIMIT},
        {"{'ranks':[10,1]}", RANKS_LIMIT},
        {"{'tiles':5}", "\"tiles\" must be tiles in hand notation, such as \"23468B G\""},
        {"{'tiles':'1B J'}", "\"tiles\" names the joker, which no pattern asks for"},
    };
    REFUSE_ALL(limited_by, "pattern \"Ebb\": ", rows);
}
END_TEST

/* The honours of a target are counted, and its flowers are none: a choice of
 * either is told apart tile by tile. */
START_TEST(flowers_are_no_honours) {
    static const struct {
        const char *limits;
        bool flowers, winds, bams; /* that may be the pair */
    } rows[] = {{"{'honours':'none'}", true, false, true},
                {"{'honours':'some'}", false, true, false},
                {"{'honours':'only'}", false, true, false},
                {"{'suits':0}", true, true, false},
                {"{'suits':0,'honours':'none'}", true, false, false}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char text[1024];
        snprintf(text, sizeof text,
                 "{'format':1,'title':'Slack Water List','hand':2,'tiles':{'flowers':8},"
                 "'patterns':[{'name':'Ebb','groups':[{'one_of':[{'pair':['east','flower']},"
                 "{'pair':1,'suit':'bam'}]}],'limits':%s}]}",
                 rows[i].limits);
        nh_list *list = read_list(text);
        nh_figures count;
        ck_assert_int_eq(ask_figures(list, 0, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN, &count), NH_OK);
        ck_assert_uint_eq(count.targets.limb[0],
                          (uint64_t)(rows[i].flowers + rows[i].winds + rows[i].bams));
        /* C(8, 2) pairs of flowers, C(4, 2) of a kind that has four */
        ck_assert_uint_eq(count.ways.limb[0], (uint64_t)(rows[i].flowers ? 28 : 0) +
                                                  (uint64_t)(rows[i].winds ? 6 : 0) +
                                                  (uint64_t)(rows[i].bams ? 6 : 0));
        nh_list_free(list);
    }
}
END_TEST

/* ------------------------------------------------------------ patterns --- */

#define RANGE_OF_N "the range of \"n\" must be [least, most], ranks from 1 to 9"

START_TEST(ranges_that_are_none) {
    static const struct refusal rows[] = {
        {"5", "\"ranks\" must be an object such as {\"n\": [1, 7]}"},
        {"{'n+1':[1,2]}", "\"ranks\" names a letter for each range, not \"n+1\""},
        {"{'{':[1,2]}", "\"ranks\" names a letter for each range, not \"{\""},
        {"{'n':5}", RANGE_OF_N},
        {"{'n':{'a':1,'b':2}}", RANGE_OF_N},
        {"{'n':[1]}", RANGE_OF_N},
        {"{'n':[1,2,3]}", RANGE_OF_N},
        {"{'n':['1',2]}", RANGE_OF_N},
        {"{'n':[1,'2']}", RANGE_OF_N},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char keys[256];
        snprintf(keys, sizeof keys, "'groups':[{'pair':'n','suit':'bam'}],'ranks':%s",
                 rows[i].keys);
        refuse(pattern_with(keys), "pattern \"Ebb\": ", rows[i].end);
    }
}
END_TEST

/* Ten letters, and nine ranks. */
START_TEST(letters_that_cannot_all_differ) {
    char text[1024];
    int at = snprintf(text, sizeof text,
                      "{'format':1,'title':'Slack Water List','hand':10,"
                      "'patterns':[{'name':'Ebb','groups':[");
    for (char letter = 'a'; letter <= 'j'; letter++)
        at += snprintf(text + at, sizeof text - (size_t)at, "%s{'single':'%c','suit':'bam'}",
                       letter == 'a' ? "" : ",", letter);
    snprintf(text + at, sizeof text - (size_t)at, "]}]}");
    refuse(json_of(text),
           "pattern \"Ebb\": no target: ", "10 letters stand for different ranks, and there are 9");
}
END_TEST

START_TEST(variants_and_points_that_are_none) {
    static const struct refusal rows[] = {
        {"'variants':5", "\"variants\" must be an array of 1 to 256 arrays of groups"},
        {"'variants':{}", "\"variants\" must be an array of 1 to 256 arrays of groups"},
        {"'groups':[{'pair':1,'suit':'bam'}],'points':1e999", "\"points\" must be a number"},
        {"'groups':[{'pair':1,'suit':'bam'}],'points':true", "\"points\" must be a number"},
        {"'groups':5", "an array of 1 to 64 groups is expected here"},
    };
    REFUSE_ALL(pattern_with, "pattern \"Ebb\": ", rows);
}
END_TEST

/* ---------------------------------------------------------------- list --- */

#define SET_SUITS "\"suits\" must be an array of some of \"bam\", \"crak\" and \"dot\""
#define ROUNDS                                                                                     \
    "\"rounds\" must be an array of at most 8 rounds, each an array of at most 8 of \"right\", "   \
    "\"across\" and \"left\""
#define KEEP "\"keep\" must be tiles in hand notation, such as \"23468B G\""

START_TEST(sets_and_passes_that_are_none) {
    static const struct refusal rows[] = {
        {"'tiles':5,", "\"tiles\" must be an object"},
        {"'tiles':null,", "\"tiles\" must be an object"},
        {"'tiles':{'suits':5},", SET_SUITS},
        {"'tiles':{'suits':['bam',3]},", SET_SUITS},
        {"'tiles':{'suits':['bam','bam']},", SET_SUITS},
        {"'tiles':{'suits':['bam','any','dot']},", SET_SUITS},
        {"'charleston':5,", "\"charleston\" must be an object"},
        {"'charleston':{'rounds':5},", ROUNDS},
        {"'charleston':{'rounds':[['right',3]]},", ROUNDS},
        {"'charleston':{'rounds':[['right'],'left']},", ROUNDS},
        {"'charleston':{'rounds':[[]]},", ROUNDS},
        {"'charleston':{'keep':5},", KEEP},
        {"'charleston':{'keep':['1B',5,'2B']},", KEEP},
    };
    REFUSE_ALL(list_with, "", rows);
}
END_TEST

/* ---------------------------------------------------------------- text --- */

static struct json raw(const char *bytes, size_t length) {
    struct json json = {.length = length};
    memcpy(json.text, bytes, length);
    return json;
}

START_TEST(text_that_is_no_json) {
    static const struct {
        const char *bytes;
        size_t length;
        const char *end;
        uint32_t line, column;
    } rows[] = {
        {"{\n \"a\": \x01}", 10, "a control character cannot stand here", 2, 7},
        {"{\"\x1F\"}", 5, "a control character cannot stand here", 1, 3},
        {"{\"a\": \"\0\"}", 10, "a zero character cannot stand in a text", 1, 8},
        {"{\"\\u0000\"}", 10, "a zero character cannot stand in a text", 1, 4},
        {"{\"\\u000", 7, "for the sign itself write two", 1, 3},
        {"{\"\\\\u0000\"}", 11, "a colon is missing before this, after the key", 1, 11},
        {"\xC3(", 2, "the text is not valid UTF-8 here", 1, 1},
        {"{}\xE2\x82", 4, "the text is not valid UTF-8 here", 1, 3},
        {"{} \n x", 6, "there is something behind the end of the list", 2, 2},
        {"[1, 2]", 6, "a list must be a JSON object", 1, 1},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        nh_mistake mistake = refuse(raw(rows[i].bytes, rows[i].length), "", rows[i].end);
        ck_assert_uint_eq(mistake.line, rows[i].line);
        if (rows[i].column > 0)
            ck_assert_uint_eq(mistake.column, rows[i].column);
    }
}
END_TEST

/* A mark of the byte order is no part of the text, and takes no column. */
START_TEST(a_byte_order_mark_is_passed_over) {
    struct json good = list_with(""), bad = list_with("'tiles':5,"), marked = {.length = 0};
    memcpy(marked.text, "\xEF\xBB\xBF", 3);
    memcpy(marked.text + 3, good.text, good.length);
    marked.length = good.length + 3;
    nh_list *list = load_good(marked);
    ck_assert_str_eq(nh_list_title(list), "Slack Water List");
    nh_list_free(list);
    memcpy(marked.text + 3, bad.text, bad.length);
    marked.length = bad.length + 3;
    nh_mistake plain = refuse(bad, "", "an object"), mistake = refuse(marked, "", "an object");
    ck_assert_uint_eq(mistake.column, plain.column);
    refuse(raw("\xEF\xBB\xBF", 3), "the file is empty", "begins with {");
    refuse(raw("\xEF\xBB\xBE{}", 5), "", "a value is expected here");
}
END_TEST

/* ------------------------------------------------------------- places --- */

START_TEST(places_behind_escapes) {
    struct json json = json_of("{'format':1,'title':'Two \\'quotes\\' and \\\\',\n"
                               "'note':'[{,','hand':2,'patterns':[\n"
                               "{'name':'E\\u0062b','groups':[{'pair' : 10,\n"
                               "'suit':'bam'}]}]}");
    nh_mistake mistake = refuse(json, "pattern \"Ebb\", group 1: ", "from 1 to 9");
    ck_assert_uint_eq(mistake.line, 3);
    ck_assert_uint_eq(mistake.column, 31);
}
END_TEST

/* A key that is written with an escape is found by cJSON, not by the eye: the
 * place told is that of what it stands in. */
START_TEST(places_of_escaped_keys) {
    struct json json = json_of("{'format':1,'title':'Slack Water List','hand':2,\n"
                               "'patterns':[\n {'name':'Ebb',\n 'g\\u0072oups':5}]}");
    nh_mistake mistake = refuse(json, "pattern \"Ebb\": ", "expected here");
    ck_assert_uint_eq(mistake.line, 3);
    ck_assert_uint_eq(mistake.column, 2);
}
END_TEST

/* -------------------------------------------------------------- memory --- */

/* Gives one block and no more. */
static void *one_block(void *context, void *pointer, size_t size) {
    bool *given = context;
    if (*given)
        return NULL;
    *given = true;
    return realloc(pointer, size);
}

static void give_back(void *context, void *pointer) {
    (void)context;
    free(pointer);
}

/* Of an arena's first block all but `room` bytes are taken. Whether the draft
 * found room in it; if not, that is no mistake of the list. */
static bool draft_in(const struct json *json, size_t block, size_t room) {
    bool given = false, read = false;
    nh_allocator once = {one_block, give_back, &given};
    nh_allocator usual = memory_default(NULL);
    struct arena arena = {.allocator = &once};
    struct draft draft;
    nh_mistakes *mistakes = mistakes_new(&usual);
    ck_assert_ptr_nonnull(mistakes);
    ck_assert_ptr_nonnull(arena_new(&arena, block - room, 1));
    read = draft_read(json->text, json->length, &arena, &draft, mistakes);
    ck_assert_msg(nh_mistakes_size(mistakes) == 0, "%s", nh_mistakes_at(mistakes, 0)->text);
    nh_mistakes_free(mistakes);
    arena_free(&arena);
    return read;
}

START_TEST(drafts_bear_an_arena_that_is_full) {
    const size_t block = 16384; /* ARENA_BLOCK */
    struct json json =
        json_of("{'format':1,'title':'Slack Water List','hand':5,'note':'Short','patterns':["
                "{'name':'Ebb','groups':[{'pung':'any'},{'pair':['red','green']}]},"
                "{'name':'Flow','variants':[[{'one_of':[{'pung':'n','suit':'x'},"
                "[{'pair':2,'suit':'x'},{'single':'seat'}]]},{'pair':'any'}],"
                "[{'quint':'red'}]],'ranks':{'n':[1,2]}}]}");
    size_t room = 0, step = sizeof(max_align_t);
    while (!draft_in(&json, block, room))
        room += step;
    ck_assert_uint_gt(room, 1000);
    ck_assert(draft_in(&json, block, room + step));
}
END_TEST

int main(void) {
    Suite *suite = suite_create("draft");
    ADD_TESTS(suite, "groups", words_that_are_no_tile, values_that_are_no_tile, letters_and_offsets,
              suits_that_are_none, alternatives_that_are_none);
    ADD_TESTS(suite, "patterns", limits_that_are_none, flowers_are_no_honours, ranges_that_are_none,
              letters_that_cannot_all_differ, variants_and_points_that_are_none);
    ADD_TESTS(suite, "list", sets_and_passes_that_are_none, text_that_is_no_json,
              a_byte_order_mark_is_passed_over);
    ADD_TESTS(suite, "places", places_behind_escapes, places_of_escaped_keys);
    ADD_TESTS(suite, "memory", drafts_bear_an_arena_that_is_full);
    return run_suite(suite);
}
