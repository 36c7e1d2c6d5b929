/* What a list's mistakes and warnings say: each names the place, and what to
 * write instead. Lists are written with ' for ", so that they read as JSON. */
#define _POSIX_C_SOURCE 200809L
#include "../lib/base/near_word.h"
#include "api.h"
#include "random_list.h"

/* ------------------------------------------------------------ near words --- */

/* The fewest changes from one word to the other, the plain way: what to do with
 * the last letters is tried in every way. */
static size_t plain_changes(const char *a, size_t m, const char *b, size_t n) {
    if (m == 0 || n == 0)
        return m + n;
    size_t best = plain_changes(a, m - 1, b, n - 1) + (a[m - 1] != b[n - 1]);
    size_t left = plain_changes(a, m - 1, b, n) + 1, added = plain_changes(a, m, b, n - 1) + 1;
    best = left < best ? left : best;
    best = added < best ? added : best;
    if (m > 1 && n > 1 && a[m - 1] == b[n - 2] && a[m - 2] == b[n - 1]) {
        size_t swapped = plain_changes(a, m - 2, b, n - 2) + 1;
        best = swapped < best ? swapped : best;
    }
    return best;
}

static size_t random_word(random_source *source, char *word) {
    size_t length = (size_t)random_below(source, 8);
    for (size_t i = 0; i < length; i++)
        word[i] = "abc"[random_below(source, 3)];
    word[length] = '\0';
    return length;
}

START_TEST(near_words_are_near) {
    random_source source = {random_seed(3)};
    printf("NEARHAND_SEED=%llu\n", (unsigned long long)source.state);
    int found = 0;
    for (int i = 0; i < 20000; i++) {
        char typed[8], word[8];
        size_t length = random_word(&source, typed), other = random_word(&source, word);
        size_t changes = plain_changes(typed, length, word, other);
        size_t most = length < 5 || other < 5 ? 1 : 2;
        struct near_word near = {NULL, 0};
        near_word_try(&near, typed, length, word);
        bool expected = length > 0 && changes <= most && changes < other;
        ck_assert_msg((near.word != NULL) == expected, "%s and %s: %zu changes", typed, word,
                      changes);
        if (expected)
            ck_assert_uint_eq(near.changes, changes);
        found += expected;
    }
    ck_assert_int_gt(found, 500);
    static const char *const words[] = {"pair", "pung", "points", "kong", NULL};
    ck_assert_str_eq(near_word_of("PUNGS", words), "pung");
    ck_assert_str_eq(near_word_of("pugn", words), "pung");
    ck_assert_str_eq(near_word_of("piont", words), "points");
    ck_assert_ptr_null(near_word_of("colour", words));
    ck_assert_ptr_null(near_word_of("a word that is much too long for it", words));
    static const char *const long_words[] = {"a word that is too long for it", NULL};
    ck_assert_ptr_null(near_word_of("a word that is too long", long_words));
}
END_TEST

/* ------------------------------------------------------------- refusals --- */

/* Loads a list that has exactly this one mistake. */
static void refuse(const char *quoted, uint32_t line, uint32_t column, const char *text) {
    nh_list *list = NULL;
    nh_mistakes *mistakes = NULL;
    ck_assert_msg(try_list(quoted, NULL, &list, &mistakes) == NH_ERROR_LIST, "read: %s", quoted);
    const nh_mistake *mistake = nh_mistakes_at(mistakes, 0);
    ck_assert_msg(strcmp(mistake->text, text) == 0, "%s\nis refused with: %s", quoted,
                  mistake->text);
    ck_assert_msg(nh_mistakes_size(mistakes) == 1, "%s\nis refused as well with: %s", quoted,
                  nh_mistakes_size(mistakes) > 1 ? nh_mistakes_at(mistakes, 1)->text : "");
    ck_assert_ptr_null(mistake->warning);
    if (line > 0) {
        ck_assert_msg(mistake->line == line && mistake->column == column, "%s\nat %u:%u: %s",
                      quoted, mistake->line, mistake->column, text);
    }
    nh_mistakes_free(mistakes);
}

START_TEST(what_is_no_json) {
    static const struct {
        const char *text;
        uint32_t line, column;
        const char *mistake;
    } rows[] = {
        {"", 1, 1, "the file is empty: a list begins with {"},
        {" \n ", 1, 1, "the file is empty: a list begins with {"},
        {"{'a':1,}", 1, 7, "a comma too many: nothing follows it"},
        {"{'a':[1,2,\n]}", 1, 10, "a comma too many: nothing follows it"},
        {"{'a':[1,,2]}", 1, 9, "a comma too many"},
        {"{'a':1,,'b':2}", 1, 8, "a comma too many"},
        {"{,'a':1}", 1, 2, "a comma too many"},
        {"{'a':[,1]}", 1, 7, "a comma too many"},
        {"{'a':1 // mine\n}", 1, 8, "JSON has no remarks: put the text into a \"note\""},
        {"{/* mine */}", 1, 2, "JSON has no remarks: put the text into a \"note\""},
        {"# mine\n{}", 1, 1, "JSON has no remarks: put the text into a \"note\""},
        {"{\xE2\x80\x9C"
         "a\xE2\x80\x9D: 1}",
         1, 2, "a curly quote: JSON takes straight ones, \""},
        {"{'a': \xE2\x80\x9Ex\xE2\x80\x9C}", 1, 7, "a curly quote: JSON takes straight ones, \""},
        {"{'a': \xC2\xABx\xC2\xBB}", 1, 7, "a curly quote: JSON takes straight ones, \""},
        {"{'a':1 'b':2}", 1, 8, "a comma is missing before this"},
        {"{'a':[1 2]}", 1, 9, "a comma is missing before this"},
        {"{'a' 1}", 1, 6, "a colon is missing before this, after the key"},
        {"{'a':}", 1, 6, "a value is missing after the colon"},
        {"{'a':,'b':1}", 1, 6, "a value is missing after the colon"},
        {"{'a'::1}", 1, 6, "a value is expected here"},
        {"{'a':1:2}", 1, 7, "a colon too many"},
        {"{'a':['b':1]}", 1, 10, "a colon in an array: what has keys stands in { }"},
        {"{title:'x'}", 1, 2, "title needs double quotes: \"title\""},
        {"{'a':bam}", 1, 6, "bam needs double quotes: \"bam\""},
        {"{'a':5B}", 1, 6, "5B needs double quotes: \"5B\""},
        {"{'a':n+1}", 1, 6, "n+1 needs double quotes: \"n+1\""},
        {"{'a':-}", 1, 6, "- needs double quotes: \"-\""},
        {"{'a':01,'b':x}", 1, 6, "01 needs double quotes: \"01\""},
        {"{'a':1.,'b':x}", 1, 6, "1. needs double quotes: \"1.\""},
        {"{'a':1e,'b':x}", 1, 6, "1e needs double quotes: \"1e\""},
        {"{'a':True}", 1, 6, "write true in small letters"},
        {"{true:1}", 1, 2, "true needs double quotes: \"true\""},
        {"{'a':-12.5e+3,'b':NULL}", 1, 19, "write null in small letters"},
        {"{\n 'a': 'x,\n 'b': 'y'}", 2, 7, "the text that begins here has no closing quote"},
        {"{'a", 1, 2, "the text that begins here has no closing quote"},
        {"{\n'a':[1,2\n", 2, 5, "the [ here is never closed"},
        {"{\n'a':[1,2]\n", 1, 1, "the { here is never closed"},
        {"{\n'a':[1,2}\n", 2, 9, "a } stands here, but the [ of line 2 is to be closed first"},
        {"{'a':{'b':1]}", 1, 12, "a ] stands here, but the { of line 1 is to be closed first"},
        {"}", 1, 1, "a } too many"},
        {"{'a':'C:\\lists'}", 1, 9,
         "a backslash that JSON does not know: for the sign itself write two"},
        {"{'a':'\\u12G4','b':x}", 1, 7,
         "a backslash that JSON does not know: for the sign itself write two"},
        {"{1:2}", 1, 2, "1 needs double quotes: \"1\""},
        {"{[1]:2}", 1, 2, "a key in double quotes is expected here"},
        {"[=]", 1, 2, "a value is expected here"},
        {"{'a': 'x\\'y'' }", 1, 13, "a comma is missing before this"},
        {"{} {}", 1, 4, "there is something behind the end of the list"},
        {"{'a':_", 1, 6, "_ needs double quotes: \"_\""},
        {"{'a':x-ray.2}", 1, 6, "x-ray.2 needs double quotes: \"x-ray.2\""},
        {"{'a': 1\xC2\xBB}", 1, 8, "a curly quote: JSON takes straight ones, \""},
        {"{'a': 1\xE2\x80\xA0}", 1, 8, "a comma is missing before this"},
        {"{'a': 1\xC2\xAC}", 1, 8, "a comma is missing before this"},
        {"{'a':'\\", 1, 7, "a backslash that JSON does not know: for the sign itself write two"},
        {"{'a':'\\u12", 1, 7, "a backslash that JSON does not know: for the sign itself write two"},
        {"{'a':[1E5,2e-3,-0,x]}", 1, 19, "x needs double quotes: \"x\""},
        {"{'a':1E+}", 1, 6, "1E+ needs double quotes: \"1E+\""},
        {"{'a':tru}", 1, 6, "tru needs double quotes: \"tru\""},
        {"{'a':trues}", 1, 6, "trues needs double quotes: \"trues\""},
        {"{'a':true,'b':false,'c':null,'d':x}", 1, 34, "x needs double quotes: \"x\""},
        {"{]", 1, 2, "a ] stands here, but the { of line 1 is to be closed first"},
        {"{'a':1,]", 1, 8, "a ] stands here, but the { of line 1 is to be closed first"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        refuse(rows[i].text, rows[i].line, rows[i].column, rows[i].mistake);
}
END_TEST

START_TEST(single_quotes_and_other_encodings) {
    static const struct {
        const char *bytes;
        size_t length;
        const char *mistake;
    } rows[] = {
        {"{'a': 1}", 8, "a single quote: JSON takes double ones, \""},
        {"\xFF\xFE{\0}\0", 6, "the file is UTF-16: save it as UTF-8"},
        {"\xFE\xFF\0{\0}", 6, "the file is UTF-16: save it as UTF-8"},
        {"{\xFF", 2, "the text is not valid UTF-8 here"},
        {"\xFF", 1, "the text is not valid UTF-8 here"},
        {"\xFF{", 2, "the text is not valid UTF-8 here"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        nh_list *list;
        nh_mistakes *mistakes;
        ck_assert_int_eq(nh_list_read(rows[i].bytes, rows[i].length, NULL, &list, &mistakes),
                         NH_ERROR_LIST);
        ck_assert_str_eq(nh_mistakes_at(mistakes, 0)->text, rows[i].mistake);
        nh_mistakes_free(mistakes);
    }
}
END_TEST

/* Half of a pair of escapes is all that the walk through the text takes and the parser does
 * not: what is said is where that gave up, whatever follows. */
START_TEST(half_a_pair_of_escapes) {
    static const char *const texts[] = {"{'a': '\\uD800'}", "{'a': '\\uD800'} x", "'\\uD800'"};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
        refuse(texts[i], 0, 0,
               "the JSON cannot be read here: look for a missing comma, quote or bracket just "
               "before");
}
END_TEST

/* More brackets than anyone writes by hand: the parser says where it gave up. */
START_TEST(what_nests_too_deep) {
    char text[256];
    memset(text, '[', sizeof text - 1);
    text[sizeof text - 1] = '\0';
    nh_list *list;
    nh_mistakes *mistakes;
    ck_assert_int_eq(nh_list_read(text, strlen(text), NULL, &list, &mistakes), NH_ERROR_LIST);
    ck_assert_str_eq(
        nh_mistakes_at(mistakes, 0)->text,
        "the JSON cannot be read here: look for a missing comma, quote or bracket just "
        "before");
    nh_mistakes_free(mistakes);
}
END_TEST

/* -------------------------------------------------------- wrong words --- */

static void refuse_group(const char *group, const char *text) {
    char json[1024], whole[512];
    snprintf(
        json, sizeof json,
        "{'format':1,'title':'Slip List','hand':2,'patterns':[{'name':'Ebb','groups':[{%s}]}]}",
        group);
    snprintf(whole, sizeof whole, "pattern \"Ebb\", group 1: %s", text);
    refuse(json, 0, 0, whole);
}

START_TEST(words_get_a_hint) {
#define SUIT_MUST_BE "\"suit\" must be \"bam\", \"crak\", \"dot\", \"any\" or a lower-case letter"
    static const char *const rows[][2] = {
        {"'pair':'East'", "\"East\" is not a tile: write \"east\""},
        {"'pair':'EAST'", "\"EAST\" is not a tile: write \"east\""},
        {"'pair':'E'", "\"E\" is not a tile: write \"east\", or \"e\" for a letter"},
        {"'pair':'F'", "\"F\" is not a tile: write \"flower\", or \"f\" for a letter"},
        {"'pair':'Wh'", "\"Wh\" is not a tile: write \"white\""},
        {"'pair':'GD'", "\"GD\" is not a tile: write \"green\""},
        {"'pair':'0'", "\"0\" is not a tile: write \"white\""},
        {"'pair':'5B'", "\"5B\" is not a tile: write 5, and beside it \"suit\": \"bam\""},
        {"'pair':'9 dots'", "\"9 dots\" is not a tile: write 9, and beside it \"suit\": \"dot\""},
        {"'pair':'5','suit':'x'", "\"5\" is not a tile: write 5 without quotes"},
        {"'pair':'n + 1','suit':'x'", "\"n + 1\" is not a tile: write \"n+1\""},
        {"'pair':'N+1','suit':'x'", "\"N+1\" is not a tile: write \"n+1\""},
        {"'pair':'10 - n','suit':'x'", "\"10 - n\" is not a tile: write \"10-n\""},
        {"'pair':'X','suit':'x'", "\"X\" is not a tile: write \"x\""},
        {"'pair':'J'",
         "\"J\" is not a tile: no pattern asks for jokers, which stand for other tiles"},
        {"'pair':'bam'", "\"bam\" is not a tile: write a rank, and beside it \"suit\": \"bam\""},
        {"'pair':'Dots'", "\"Dots\" is not a tile: write a rank, and beside it \"suit\": \"dot\""},
        {"'pair':'dragons'", "\"dragons\" is not a tile: write \"dragon\""},
        {"'pair':'honor'", "\"honor\" is not a tile: write \"honour\""},
        {"'pair':'noth'", "\"noth\" is not a tile: write \"north\""},
        {"'pair':'EE'",
         "\"EE\" is not a tile: a rank from 1 to 9, a letter such as \"n\" or \"n+1\", "
         "an honour or a class is expected"},
        {"'pair':'the third dragon of the west'",
         "\"the third dragon of the west\" is not a tile: a rank from 1 to 9, a letter such as "
         "\"n\" or \"n+1\", an honour or a class is expected"},
        {"'pair':'the very last dragon of the west'",
         "\"the very last dragon of the west\" is not a tile: a rank from 1 to 9, a letter such as "
         "\"n\" or \"n+1\", an honour or a class is expected"},
        {"'pair':1,'suit':'Bam'", SUIT_MUST_BE ": write \"bam\""},
        {"'pair':1,'suit':'bams'", SUIT_MUST_BE ": write \"bam\""},
        {"'pair':1,'suit':'bamboo'", SUIT_MUST_BE ": write \"bam\""},
        {"'pair':1,'suit':'crack'", SUIT_MUST_BE ": write \"crak\""},
        {"'pair':1,'suit':'Circles'", SUIT_MUST_BE ": write \"dot\""},
        {"'pair':1,'suit':'bma'", SUIT_MUST_BE ": write \"bam\""},
        {"'pair':1,'suit':'C'", SUIT_MUST_BE ": write \"crak\""},
        {"'pair':1,'suit':'X'", SUIT_MUST_BE ": write \"x\""},
        {"'pair':1,'suit':'Any'", SUIT_MUST_BE ": write \"any\""},
        {"'pair':1,'suit':'red'", SUIT_MUST_BE},
        {"'pair':1,'suit':'a word that is too long'", SUIT_MUST_BE},
        {"'pair':1,'suit':'the suit of all the bamboo trees'", SUIT_MUST_BE},
        {"'pair':1,'suit':5", SUIT_MUST_BE},
        {"'pair':1,'suite':'x','suit':'x'", "unknown key \"suite\": did you mean \"suit\"?"},
        {"'pair':1,'suit':'x','Times':1", "unknown key \"Times\": did you mean \"times\"?"},
        {"'pair':1,'suit':'x','limits':1", "unknown key \"limits\": it belongs in a pattern"},
        {"'pair':1,'suit':'x','jokers':1", "unknown key \"jokers\": it belongs in \"tiles\""},
        {"'pair':1,'suit':'x','colour':1", "unknown key \"colour\""},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        refuse_group(rows[i][0], rows[i][1]);
}
END_TEST

START_TEST(names_that_look_alike) {
    static const char *const alike[][2] = {{"Ebb", "EBB"},
                                           {"Ebb Tide", "ebb  tide"},
                                           {"Ebb", " ebb "},
                                           {" The Ebb", "the ebb  "},
                                           {"\xC3\x89"
                                            "bb Tide",
                                            "\xC3\x89"
                                            "bb  Tide"}};
    static const char *const different[][2] = {
        {"Ebb", "Ebb 2"}, {"Ebb Tide", "EbbTide"}, {"Ebb", "Ebbs"}, {"A", "B"}};
    const char *form = "{'format':1,'title':'Slip List','hand':2,'patterns':["
                       "{'name':'%s','groups':[{'pair':'red'}]},\n"
                       "{'name':'%s','groups':[{'pair':'green'}]}]}";
    for (size_t i = 0; i < sizeof alike / sizeof *alike; i++) {
        char json[512], text[256];
        snprintf(json, sizeof json, form, alike[i][0], alike[i][1]);
        snprintf(text, sizeof text,
                 "pattern \"%s\": duplicate name: pattern 1 has it already, but for capitals or "
                 "spaces: \"%s\"",
                 alike[i][1], alike[i][0]);
        refuse(json, 2, 2, text);
    }
    for (size_t i = 0; i < sizeof different / sizeof *different; i++) {
        char json[512];
        snprintf(json, sizeof json, form, different[i][0], different[i][1]);
        nh_list_free(read_list(json));
    }
}
END_TEST

START_TEST(sizes_name_the_variant) {
    static const struct {
        const char *pattern;
        uint32_t column;
        const char *text;
    } rows[] = {
        {"'groups':[{'pung':'any'}]", 16, "the size does not fit: 3 tiles, and a hand has 5"},
        {"'groups':[{'pair':'any'},{'pair':'red'},{'single':'any','times':2}]", 16,
         "the size does not fit: 2 + 2 + 2 = 6 tiles, and a hand has 5, with one more for each "
         "kong"},
        {"'groups':[{'kong':'any'},{'pung':'any'}]", 16,
         "the size does not fit: 4 + 3 = 7 tiles, and a hand has 5, with one more for each kong"},
        {"'groups':[{'one_of':[{'pung':'any'},{'pair':'any'}]},{'pair':'any'}]", 16,
         "the size does not fit: some choice has 4 tiles, and a hand has 5"},
        {"'groups':[{'kong':'any','times':9}]", 16,
         "the size does not fit: more than 24 tiles, and a hand has 5, with one more for each "
         "kong"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char json[512], text[256];
        snprintf(json, sizeof json,
                 "{'format':1,'title':'Slip List','hand':5,'patterns':[\n{'name':'Ebb', %s}]}",
                 rows[i].pattern);
        snprintf(text, sizeof text, "pattern \"Ebb\": %s", rows[i].text);
        refuse(json, 2, rows[i].column, text);
    }
    refuse("{'format':1,'title':'Slip List','hand':5,'patterns':[{'name':'Ebb','variants':[\n"
           "[{'pung':'any'},{'pair':'any'}],\n [{'pung':'any'},{'pung':'red'}]]}]}",
           3, 2,
           "pattern \"Ebb\", variant 2: the size does not fit: 3 + 3 = 6 tiles, and a hand has 5, "
           "with one more for each kong");
}
END_TEST

/* ----------------------------------------------------------- no target --- */

/* A list of hands of `hand` tiles, with one pattern. */
static void refuse_pattern(int hand, const char *tiles, const char *pattern, const char *text) {
    char json[2048], whole[512];
    snprintf(
        json, sizeof json,
        "{'format':1,'title':'Slip List','hand':%d,'tiles':{%s},'patterns':[{'name':'Ebb',%s}]}",
        hand, tiles, pattern);
    snprintf(whole, sizeof whole, "pattern \"Ebb\"%s", text);
    refuse(json, 0, 0, whole);
}

START_TEST(no_target_names_the_reason) {
    static const struct {
        int hand;
        const char *tiles, *pattern, *text;
    } rows[] = {
        {3, "", "'groups':[{'single':'red'},{'pair':'flower'}]",
         ", group 2: no target: the set has no flowers"},
        {2, "'winds':false", "'groups':[{'pair':'seat'}]",
         ", group 1: no target: the set has no winds"},
        {2, "'dragons':false", "'groups':[{'pair':'dragon','suit':'x'}]",
         ", group 1: no target: the set has no dragons"},
        {2, "'suits':['bam','crak']", "'groups':[{'pair':3,'suit':'dot'}]",
         ", group 1: no target: the set has no dots"},
        {5, "", "'groups':[{'quint':'any'}]",
         ", group 1: no target: the set does not have 5 alike, and no jokers"},
        {6, "'jokers':1", "'groups':[{'sextet':'any'}]",
         ", group 1: no target: the set does not have 6 alike, not even with its joker"},
        {6, "'jokers':2,'flowers':2", "'groups':[{'sextet':'flower'}]",
         ", group 1: no target: the set does not have 6 alike, not even with its jokers"},
        {6, "'flowers':4", "'groups':[{'sextet':'flower'}]",
         ", group 1: no target: the set does not have 6 alike, and no jokers"},
        {2, "", "'groups':[{'pair':'n+9','suit':'x'}]",
         ", group 1: no target: its rank is never from 1 to 9"},
        {2, "", "'groups':[{'pair':'n+3','suit':'x'}],'ranks':{'n':[7,9]}",
         ", group 1: no target: its rank is never from 1 to 9 in the range of its letters"},
        {3, "", "'groups':[{'chow':8,'suit':'x'}]",
         ", group 1: no target: 3 ranks in a row from there go past 9"},
        {6, "", "'groups':[{'pair':'red','times':3}]",
         ", group 1: no target: taken 3 times it needs more of a tile than there are"},
        {8, "", "'groups':[{'pair':'dragon','times':4,'distinct':true}]",
         ", group 1: no target: it does not have 4 choices that differ in their tiles"},
        {5, "", "'groups':[{'one_of':[{'quint':'red'},{'run':6,'length':5,'suit':'x'}]}]",
         ", group 1: no target: none of its alternatives can be had"},
        {5, "", "'groups':[{'pair':'red'},{'pung':'red'}]",
         ", group 2: no target: with the groups before it, it needs more of a tile than there are"},
        {4, "", "'groups':[{'pair':'n+5','suit':'x'},{'pair':'n-5','suit':'x'}]",
         ", group 2: no target: no value of \"n\" and \"x\" fits this group and those before it"},
        {3, "",
         "'groups':[{'single':'n','suit':'bam'},{'single':'m','suit':'bam'},"
         "{'single':'k','suit':'bam'}],'ranks':{'n':[1,2],'m':[1,2],'k':[1,2]}",
         ", group 3: no target: no value of \"k\" fits this group and those before it"},
        {3, "",
         "'groups':[{'single':'n-5','suit':'x'},{'single':'m-5','suit':'x'},{'single':'n+m',"
         "'suit':'x'}]",
         ", group 3: no target: no value of \"m\", \"n\" and \"x\" fits this group and those "
         "before it"},
        {4, "",
         "'groups':[{'single':1,'suit':'x'},{'single':1,'suit':'y'},{'single':1,'suit':'z'},"
         "{'single':1,'suit':'w'}]",
         ": no target: 4 letters stand for different suits, and the set has 3"},
        {10, "",
         "'groups':[{'single':'a','suit':'x'},{'single':'b','suit':'x'},{'single':'c','suit':'x'},"
         "{'single':'d','suit':'x'},{'single':'e','suit':'x'},{'single':'f','suit':'x'},"
         "{'single':'g','suit':'x'},{'single':'h','suit':'x'},{'single':'i','suit':'x'},"
         "{'single':'j','suit':'x'}]",
         ": no target: 10 letters stand for different ranks, and there are 9"},
        {8, "",
         "'letters':{'a':'honour','b':'honour','c':'honour','d':'honour','e':'honour',"
         "'f':'honour','g':'honour','h':'honour'},'groups':[{'single':'a'},{'single':'b'},"
         "{'single':'c'},{'single':'d'},{'single':'e'},{'single':'f'},{'single':'g'},"
         "{'single':'h'}]",
         ": no target: 8 letters stand for different winds and dragons, and there are 7"},
        {2, "'suits':['dot']", "'groups':[{'single':1,'suit':'x'},{'single':1,'suit':'y'}]",
         ": no target: 2 letters stand for different suits, and the set has 1"},
        {2, "", "'groups':[{'pair':['east','west']}],'limits':{'tiles':'123B'}",
         ", group 1: no target: \"limits\" allow none of its tiles"},
        {4, "", "'groups':[{'pair':'east'},{'pair':2,'suit':'x'}],'limits':{'ranks':[1,9]}",
         ", group 2: no target: \"limits\" allow none of its tiles"},
        {4, "",
         "'groups':[{'pair':'n','suit':'bam'},{'pair':'n+1','suit':'bam'}],"
         "'limits':{'ranks':[1,3,5]}",
         ": no target: the limit \"tiles\" and \"ranks\" leaves nothing"},
        {2, "", "'groups':[{'pair':'east'}],'limits':{'suits':1}",
         ": no target: the limit \"suits\" leaves nothing"},
        {2, "", "'groups':[{'pair':'east'}],'limits':{'suits':[0,3],'honours':'none'}",
         ": no target: the limit \"honours\" leaves nothing"},
        {2, "", "'groups':[{'pair':'any'}],'limits':{'suits':1,'honours':'some'}",
         ": no target: the limits together leave nothing"},
        {2, "", "'variants':[[{'pair':'flower'}],[{'pair':0.5}]]",
         ", variant 2, group 1: a rank must be a whole number from 1 to 9"},
        {2, "", "'variants':[[{'pair':'flower'}],[{'single':'flower','times':2}]]",
         ", variant 1, group 1: no target: the set has no flowers"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        refuse_pattern(rows[i].hand, rows[i].tiles, rows[i].pattern, rows[i].text);
}
END_TEST

/* A variant that gives no target is no mistake beside one that does. */
START_TEST(a_dead_variant_is_no_mistake) {
    nh_list *list = read_list("{'format':1,'title':'Slip List','hand':2,'patterns':[{'name':'Ebb',"
                              "'variants':[[{'pair':'flower'}],[{'pair':'red'}]]}]}");
    ck_assert(!nh_audit_variant_live(list, 0, 0));
    ck_assert(nh_audit_variant_live(list, 0, 1));
    nh_list_free(list);
}
END_TEST

/* ------------------------------------------------------------ warnings --- */

static nh_list *list_of_pattern(int hand, const char *pattern) {
    char json[2048];
    snprintf(json, sizeof json,
             "{'format':1,'title':'Slip List','hand':%d,'patterns':[\n{'name':'Ebb',%s}]}", hand,
             pattern);
    return read_list(json);
}

static void assert_warning(const nh_list *list, size_t index, const char *name, const char *text) {
    const nh_mistake *warning = nh_list_warning(list, index);
    ck_assert_ptr_nonnull(warning);
    ck_assert_str_eq(warning->text, text);
    ck_assert_str_eq(warning->warning, name);
    ck_assert_str_eq(warning->pattern, "Ebb");
    ck_assert_uint_eq(warning->line, 2);
    ck_assert_uint_gt(warning->column, 1);
}

START_TEST(suits_that_look_like_bams) {
    nh_list *list = list_of_pattern(
        6, "'groups':[{'pair':1,'suit':'x'},{'one_of':[[{'single':2,'suit':'d'},{'single':'red'}],"
           "{'pair':3,'suit':'d'}]},{'pair':4,'suit':'b'}]");
    ck_assert_uint_eq(nh_list_warnings(list), 2);
    assert_warning(list, 0, "suit-letter",
                   "pattern \"Ebb\", group 2, alternative 1, group 1: \"suit\": \"d\" means any "
                   "one suit: write \"dot\" for dots, or a letter such as \"x\" for any one suit");
    assert_warning(list, 1, "suit-letter",
                   "pattern \"Ebb\", group 3: \"suit\": \"b\" means any one suit: write \"bam\" "
                   "for bams, or a letter such as \"x\" for any one suit");
    ck_assert_ptr_null(nh_list_warning(list, 2));
    nh_list_free(list);
    list = list_of_pattern(
        4, "'groups':[{'pair':'red'},{'one_of':[{'pair':3,'suit':'dot'},{'pair':'east'},"
           "{'pair':3,'suit':'b'}]}]");
    ck_assert_uint_eq(nh_list_warnings(list), 1);
    assert_warning(list, 0, "suit-letter",
                   "pattern \"Ebb\", group 2, alternative 3: \"suit\": \"b\" means any one suit: "
                   "write \"bam\" for bams, or a letter such as \"x\" for any one suit");
    nh_list_free(list);
    static const char *const silent[] = {
        "'groups':[{'pair':1,'suit':'bam'},{'pair':1,'suit':'x'}]",
        "'groups':[{'pair':1,'suit':'a'},{'pair':1,'suit':'b'}]", /* counted from a */
        "'groups':[{'pair':1,'suit':'b'},{'pair':1,'suit':'c'}],'accept':['suit-letter']",
    };
    for (size_t i = 0; i < sizeof silent / sizeof *silent; i++) {
        list = list_of_pattern(4, silent[i]);
        ck_assert_uint_eq(nh_list_warnings(list), 0);
        ck_assert_ptr_null(nh_list_warning(list, 0));
        bool met = false;
        ck_assert_int_eq(nh_list_accepted(list, 0, 0, &met) != NULL, i == 2);
        ck_assert_int_eq(met, i == 2); /* the warning that is left out */
        nh_list_free(list);
    }
    list = list_of_pattern(2, "'variants':[[{'pair':1,'suit':'x'}],[{'pair':1,'suit':'c'}]],"
                              "'accept':['chow-class']");
    ck_assert_uint_eq(nh_list_warnings(list), 1);
    assert_warning(list, 0, "suit-letter",
                   "pattern \"Ebb\", variant 2, group 1: \"suit\": \"c\" means any one suit: write "
                   "\"crak\" for craks, or a letter such as \"x\" for any one suit");
    nh_list_free(list);
}
END_TEST

START_TEST(classes_of_chows) {
    static const struct {
        int hand;
        const char *group, *text;
    } rows[] = {
        {3, "'chow':'simple'",
         "only the first tile of the chow has to be a simple, so it may end with a 9; for simples "
         "only list the first ranks: [2, 3, 4, 5, 6]"},
        {5, "'run':['simple'],'length':5,'suit':'x'",
         "only the first tile of the run has to be a simple, so it may end with a 9; for simples "
         "only list the first ranks: [2, 3, 4]"},
        {3, "'chow':'terminal'",
         "only the first tile of the chow has to be a 1 or 9, so it begins with a 1; to let it end "
         "with a 9 as well write [1, 7]"},
        {4, "'run':'orphan','length':4",
         "only the first tile of the run has to be a 1 or 9, so it begins with a 1; to let it end "
         "with a 9 as well write [1, 6]"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char pattern[256], text[512];
        snprintf(pattern, sizeof pattern, "'groups':[{%s}]", rows[i].group);
        snprintf(text, sizeof text, "pattern \"Ebb\", group 1: %s", rows[i].text);
        nh_list *list = list_of_pattern(rows[i].hand, pattern);
        ck_assert_uint_eq(nh_list_warnings(list), 1);
        assert_warning(list, 0, "chow-class", text);
        nh_list_free(list);
    }
    static const char *const silent[] = {"'chow':'any'", "'chow':'suited'", "'set':'simple'",
                                         "'chow':[2,3,4,5,6],'suit':'any'", "'pung':'simple'"};
    for (size_t i = 0; i < sizeof silent / sizeof *silent; i++) {
        char pattern[256];
        snprintf(pattern, sizeof pattern, "'groups':[{%s}]", silent[i]);
        nh_list *list = list_of_pattern(3, pattern);
        ck_assert_uint_eq(nh_list_warnings(list), 0);
        nh_list_free(list);
    }
}
END_TEST

/* What the text of that warning says: 789 is among the chows of "simple". */
START_TEST(chows_keep_their_first_tile) {
    nh_list *list = list_of_pattern(3, "'groups':[{'chow':'simple'}]");
    nh_figures figures;
    ck_assert_int_eq(nh_audit_figures(list, 0, NULL, &figures, NULL), NH_OK);
    ck_assert_uint_eq(figures.targets.limb[0], 18); /* from 2 to 7 in three suits */
    nh_list_free(list);
}
END_TEST

START_TEST(what_accept_may_not_be) {
    static const char *const values[] = {"5", "'suit-letter'", "[5]", "{}", "['chow-class',[]]"};
    for (size_t i = 0; i < sizeof values / sizeof *values; i++) {
        char pattern[128];
        snprintf(pattern, sizeof pattern, "'groups':[{'pair':'red'}],'accept':%s", values[i]);
        refuse_pattern(2, "", pattern, ": \"accept\" must be an array of names of warnings");
    }
}
END_TEST

START_TEST(accepted_names_count_once) {
    bool met;
    nh_list *list = list_of_pattern(2, "'groups':[{'pair':'red'}],'accept':['within','within']");
    ck_assert_str_eq(nh_list_accepted(list, 0, 0, &met), "within");
    ck_assert_ptr_null(nh_list_accepted(list, 0, 1, &met));
    nh_list_free(list);
}
END_TEST

START_TEST(accepted_names_that_are_no_warning) {
    refuse_pattern(2, "", "'groups':[{'pair':'red'}],'accept':['within','sames']",
                   ": \"sames\" is no warning: did you mean \"same\"?");
    refuse_pattern(2, "", "'groups':[{'pair':'red'}],'accept':['tides']",
                   ": \"tides\" is no warning");
}
END_TEST

/* Warnings stand among the mistakes of a list that has both, by their lines, and
 * leave room for the mistakes. */
START_TEST(warnings_beside_mistakes) {
    nh_list *list;
    nh_mistakes *mistakes;
    ck_assert_int_eq(try_list("{'format':1,'title':'Slip List','hand':2,'patterns':[\n"
                              "{'name':'Ebb','groups':[{'pair':1,'suit':'b'}]},\n"
                              "{'name':'Flow','groups':[{'pair':'flower'}]}]}",
                              NULL, &list, &mistakes),
                     NH_ERROR_LIST);
    ck_assert_uint_eq(nh_mistakes_size(mistakes), 2);
    ck_assert_str_eq(nh_mistakes_at(mistakes, 0)->warning, "suit-letter");
    ck_assert_ptr_null(nh_mistakes_at(mistakes, 1)->warning);
    ck_assert_uint_eq(nh_mistakes_at(mistakes, 1)->line, 3);
    nh_mistakes_free(mistakes);
}
END_TEST

START_TEST(warnings_do_not_crowd_mistakes_out) {
    char *json = malloc(100000);
    size_t at =
        (size_t)sprintf(json, "{\"format\":1,\"title\":\"Slip List\",\"hand\":2,\"patterns\":[");
    for (int i = 0; i < 200; i++)
        at += (size_t)sprintf(json + at,
                              "{\"name\":\"%d\",\"groups\":[{\"pair\":1,\"suit\":\"b\"}]},", i);
    at += (size_t)sprintf(json + at, "{\"name\":\"last\",\"groups\":[{\"pair\":10}]}]}");
    nh_list *list;
    nh_mistakes *mistakes;
    ck_assert_int_eq(nh_list_read(json, at, NULL, &list, &mistakes), NH_ERROR_LIST);
    size_t size = nh_mistakes_size(mistakes);
    ck_assert_uint_eq(size, NH_MISTAKES_MAX / 2 + 1);
    ck_assert_ptr_null(nh_mistakes_at(mistakes, size - 1)->warning);
    nh_mistakes_free(mistakes);
    free(json);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("mistakes");
    ADD_TESTS(suite, "near words", near_words_are_near);
    ADD_TESTS(suite, "json", what_is_no_json, single_quotes_and_other_encodings,
              half_a_pair_of_escapes, what_nests_too_deep);
    ADD_TESTS(suite, "words", words_get_a_hint, names_that_look_alike, sizes_name_the_variant);
    ADD_TESTS(suite, "targets", no_target_names_the_reason, a_dead_variant_is_no_mistake);
    ADD_TESTS(suite, "warnings", suits_that_look_like_bams, classes_of_chows,
              chows_keep_their_first_tile, what_accept_may_not_be, accepted_names_count_once,
              accepted_names_that_are_no_warning, warnings_beside_mistakes,
              warnings_do_not_crowd_mistakes_out);
    return run_suite(suite);
}
