/* What the format has gained since version 0.1: ranges of letters, honours for
 * letters, sums of letters, variants with terms of their own, counts of a class,
 * rules of play. Figures are worked out by hand. Lists are written with ' for ",
 * so that they read as JSON does. */
#define _POSIX_C_SOURCE 200809L
#include "api.h"

static struct json pattern_of(int hand, const char *more, const char *pattern) {
    char text[3072];
    ck_assert_int_lt(snprintf(text, sizeof text,
                              "{'format':1,'title':'Groyne List','hand':%d,%s'patterns':["
                              "{'name':'Ebb',%s}]}",
                              hand, more, pattern),
                     (int)sizeof text);
    return json_of(text);
}

static nh_list *load(int hand, const char *more, const char *pattern) {
    struct json json = pattern_of(hand, more, pattern);
    nh_list *list = NULL;
    nh_mistakes *mistakes = NULL;
    nh_status status = nh_list_read(json.text, json.length, NULL, &list, &mistakes);
    ck_assert_msg(status == NH_OK, "%s\nis refused: %s", json.text,
                  nh_mistakes_at(mistakes, 0)->text);
    return list;
}

static void refuse(int hand, const char *more, const char *pattern, const char *text) {
    struct json json = pattern_of(hand, more, pattern);
    nh_list *list = NULL;
    nh_mistakes *mistakes = NULL;
    ck_assert_msg(nh_list_read(json.text, json.length, NULL, &list, &mistakes) == NH_ERROR_LIST,
                  "read: %s", json.text);
    ck_assert_msg(strcmp(nh_mistakes_at(mistakes, 0)->text, text) == 0, "%s\nis refused with: %s",
                  json.text, nh_mistakes_at(mistakes, 0)->text);
    ck_assert_uint_eq(nh_mistakes_size(mistakes), 1);
    nh_mistakes_free(mistakes);
}

struct counted {
    int hand;
    const char *pattern;
    uint64_t targets;
};

static void count(const struct counted *rows, size_t size, const char *more) {
    for (size_t i = 0; i < size; i++) {
        nh_list *list = load(rows[i].hand, more, rows[i].pattern);
        nh_figures figures;
        ck_assert_int_eq(nh_audit_figures(list, 0, NULL, &figures, NULL), NH_OK);
        ck_assert_msg(figures.targets.limb[0] == rows[i].targets, "%s: %llu targets",
                      rows[i].pattern, (unsigned long long)figures.targets.limb[0]);
        nh_list_free(list);
    }
}

#define COUNT(more, rows) count(rows, sizeof(rows) / sizeof *(rows), more)

/* Whether the hand is complete for the only pattern of a list. */
static bool complete(const nh_list *list, const char *hand) {
    nh_workspace *workspace = new_workspace(list);
    nh_tiles tiles = tiles_of(hand);
    uint8_t away;
    ck_assert_int_eq(nh_distances(workspace, &tiles, NULL, &away, NULL), NH_OK);
    nh_workspace_free(workspace);
    return away == 0;
}

/* -------------------------------------------------------------- letters --- */

START_TEST(letters_have_ranges) {
    static const struct counted rows[] = {
        /* a rank of five in three suits */
        {2, "'groups':[{'pair':'n','suit':'x'}],'letters':{'n':[1,3,5,7,9]}", 15},
        {2, "'groups':[{'pair':'n','suit':'x'}],'letters':{'n':[7,7,2]}", 6},
        {2, "'groups':[{'pair':'n','suit':'x'}],'ranks':{'n':[7,9]}", 9},
        /* honours are tiles: no suit, different letters are different tiles */
        {2, "'groups':[{'pair':'w'}],'letters':{'w':'wind'}", 4},
        {2, "'groups':[{'pair':'d'}],'letters':{'d':'dragon'}", 3},
        {2, "'groups':[{'pair':'h'}],'letters':{'h':'honour'}", 7},
        {2, "'groups':[{'pair':'h'}],'letters':{'h':['east','red']}", 2},
        {2, "'groups':[{'single':'w'},{'single':'v'}],'letters':{'w':'wind','v':'wind'}", 6},
        {3, "'groups':[{'single':'w'},{'pair':'v'}],'letters':{'w':'wind','v':'wind'}", 12},
        {3, "'groups':[{'single':'w'},{'pair':'v'}],'letters':{'w':'wind','v':['west','red']}", 7},
        /* one letter twice is one tile */
        {3, "'groups':[{'single':'w'},{'pair':'w'}],'letters':{'w':'wind'}", 4},
        {5, "'groups':[{'pung':'w'},{'pair':'d'}],'letters':{'w':'wind','d':'dragon'}", 12},
        /* beside ranks of the same name as no other */
        {4, "'groups':[{'pair':'w'},{'pair':'n','suit':'n'}],'letters':{'w':'dragon'}", 81},
        /* in arrays and alternatives */
        {2, "'groups':[{'pair':['w',1],'suit':'any'}],'letters':{'w':['east']}", 4},
        {2,
         "'groups':[{'one_of':[{'pair':'w'},{'pair':'n','suit':'x'}]}],"
         "'letters':{'w':'wind','n':[5]}",
         7},
        /* every wind, as all four letters differ */
        {4,
         "'groups':[{'single':'a'},{'single':'b'},{'single':'c'},{'single':'d'}],"
         "'letters':{'a':'wind','b':'wind','c':'wind','d':'wind'}",
         1},
    };
    COUNT("", rows);
}
END_TEST

START_TEST(honours_of_letters_are_those_named) {
    nh_list *list = load(5, "",
                         "'groups':[{'pung':'h'},{'pair':'g'}],"
                         "'letters':{'h':['east','red'],'g':'honour'}");
    ck_assert(complete(list, "EEE RR"));
    ck_assert(complete(list, "RRR 00"));
    ck_assert(!complete(list, "SSS RR"));
    ck_assert(!complete(list, "EEEE S"));
    nh_list_free(list);
}
END_TEST

#define RANGE_OF_N                                                                                 \
    "pattern \"Ebb\": \"n\" must stand for an array of ranks or of winds and dragons, or for "     \
    "\"wind\", \"dragon\" or \"honour\""

START_TEST(letters_that_are_none) {
    static const char *const ranges[] = {"5",          "[]",         "[0]",     "[1,'east']",
                                         "['east',1]", "'terminal'", "'any'",   "'east'",
                                         "['flower']", "['wind']",   "[1.5,2]", "{}",
                                         "null",       "'honours'",  "[[1]]",   "['']"};
    for (size_t i = 0; i < sizeof ranges / sizeof *ranges; i++) {
        char pattern[256];
        snprintf(pattern, sizeof pattern, "'groups':[{'pair':'n','suit':'x'}],'letters':{'n':%s}",
                 ranges[i]);
        refuse(2, "", pattern, RANGE_OF_N);
    }
    static const char *const rows[][2] = {
        {"'groups':[{'pair':1,'suit':'x'}],'letters':5",
         "pattern \"Ebb\": \"letters\" must be an object such as {\"n\": [1, 3, 5]}"},
        {"'groups':[{'pair':1,'suit':'x'}],'letters':{'nm':[1]}",
         "pattern \"Ebb\": \"letters\" names a letter for each range, not \"nm\""},
        {"'groups':[{'pair':1,'suit':'x'}],'letters':{'n':[1]}",
         "pattern \"Ebb\": \"letters\" gives a range to \"n\", but the letter is never bound: no "
         "group uses it"},
        {"'groups':[{'pair':'n','suit':'x'}],'ranks':{'n':[1,2]},'letters':{'n':[1]}",
         "pattern \"Ebb\": duplicate key \"n\": the letter has a range already"},
        {"'groups':[{'pair':'w','suit':'x'}],'letters':{'w':'wind'}",
         "pattern \"Ebb\", group 1: winds, honours and flowers have no suit: take \"suit\" away"},
        {"'groups':[{'pair':'w+1'}],'letters':{'w':'wind'}",
         "pattern \"Ebb\", group 1: \"w+1\" counts with \"w\", which stands for winds or dragons"},
        {"'groups':[{'pair':'n+w','suit':'x'}],'letters':{'w':'wind'}",
         "pattern \"Ebb\", group 1: \"n+w\" counts with \"w\", which stands for winds or dragons"},
        {"'groups':[{'pair':'9-w'}],'letters':{'w':'dragon'}",
         "pattern \"Ebb\", group 1: \"9-w\" counts with \"w\", which stands for winds or dragons"},
        {"'groups':[{'run':'w','length':2}],'letters':{'w':'wind'}",
         "pattern \"Ebb\", group 1: a run has ranks of one suit: it cannot be of honours or "
         "flowers"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        refuse(2, "", rows[i][0], rows[i][1]);
    refuse(8, "",
           "'groups':[{'single':'a'},{'single':'b'},{'single':'c'},{'single':'d'},{'single':'e'},"
           "{'single':'f'},{'single':'g'},{'single':'h'}],'letters':{'a':'honour','b':'honour',"
           "'c':'honour','d':'honour','e':'honour','f':'honour','g':'honour','h':'honour'}",
           "pattern \"Ebb\": no target: 8 letters stand for different winds and dragons, and there "
           "are 7");
    refuse(
        2, "", "'groups':[{'single':'w'},{'single':'v'}],'letters':{'w':['east'],'v':['east']}",
        "pattern \"Ebb\", group 2: no target: no value of \"v\" fits this group and those before "
        "it");
}
END_TEST

START_TEST(letters_are_added) {
    static const struct counted rows[] = {
        /* a + b = c in one suit: a < b gives the same tiles as b < a; pairs of different
         * ranks whose sum is at most 9: 2 + 3 + ... in all (9 * 8 / 2 - those past 9) */
        {3,
         "'groups':[{'single':'a','suit':'bam'},{'single':'b','suit':'bam'},"
         "{'single':'a+b','suit':'bam'}]",
         16},
        {6,
         "'groups':[{'single':'a','suit':'bam'},{'pair':'b','suit':'bam'},"
         "{'pung':'a+b','suit':'bam'}]",
         32},
        /* a difference of 1 to 8, of different ranks: 9 - d each */
        {3,
         "'groups':[{'single':'a','suit':'bam'},{'single':'b','suit':'crak'},"
         "{'single':'a-b','suit':'dot'}]",
         36},
        /* a letter with itself */
        {3, "'groups':[{'single':'a','suit':'bam'},{'pair':'a+a','suit':'bam'}]", 4},
        /* sums with ranges */
        {3,
         "'groups':[{'single':'a','suit':'bam'},{'single':'b','suit':'crak'},"
         "{'single':'a+b','suit':'dot'}],'letters':{'a':[1,2],'b':[7,8]}",
         3},
        /* chows from a sum */
        {5,
         "'groups':[{'single':'a','suit':'bam'},{'single':'b','suit':'bam'},"
         "{'chow':'a+b','suit':'dot'}],'letters':{'a':[1],'b':[6,7]}",
         1},
    };
    COUNT("", rows);
    nh_list *list = load(3, "",
                         "'groups':[{'single':'a','suit':'x'},{'single':'b','suit':'x'},"
                         "{'single':'a+b','suit':'x'}]");
    ck_assert(complete(list, "268B"));
    ck_assert(complete(list, "123D"));
    ck_assert(!complete(list, "269B"));
    ck_assert(!complete(list, "224C")); /* letters differ */
    ck_assert(!complete(list, "12B 3C"));
    nh_list_free(list);
}
END_TEST

/* ------------------------------------------------------------- variants --- */

START_TEST(variants_have_terms_of_their_own) {
    nh_list *list =
        load(2, "",
             "'points':25,'note':'Either way','variants':["
             "[{'pair':'n','suit':'x'}],"
             "{'groups':[{'pair':'n','suit':'x'}],'points':40,'concealed':true,'note':'Small',"
             "'ranks':{'n':[1,2]},'limits':{'suits':1}},"
             "{'groups':[{'pair':'n'}],'letters':{'n':'wind'},'points':30}],'ranks':{'n':[5,6]}");
    ck_assert_uint_eq(nh_audit_variants(list, 0), 3);
    static const struct {
        double points;
        bool concealed;
        const char *note;
    } rows[] = {{25, false, "Either way"}, {40, true, "Small"}, {30, false, "Either way"}};
    for (size_t v = 0; v < 3; v++) {
        const nh_pattern *variant = nh_list_variant(list, 0, v);
        ck_assert_str_eq(variant->name, "Ebb");
        ck_assert(variant->has_points);
        ck_assert_double_eq(variant->points, rows[v].points);
        ck_assert_int_eq(variant->concealed, rows[v].concealed);
        ck_assert_str_eq(variant->note, rows[v].note);
    }
    ck_assert_ptr_null(nh_list_variant(list, 0, 3));
    ck_assert_ptr_null(nh_list_variant(list, 1, 0));
    const nh_pattern *pattern = nh_list_pattern(list, 0);
    ck_assert_double_eq(pattern->points, 40); /* the most of a variant */
    ck_assert(!pattern->concealed);
    ck_assert_str_eq(pattern->note, "Either way");
    ck_assert(complete(list, "55B"));
    ck_assert(complete(list, "22D"));
    ck_assert(complete(list, "NN"));
    ck_assert(!complete(list, "33B"));
    ck_assert(!complete(list, "RR"));
    nh_list_free(list);
}
END_TEST

/* A pattern without points that has variants with them, all concealed. */
START_TEST(terms_of_variants_sum_up) {
    nh_list *list = load(2, "",
                         "'variants':[{'groups':[{'pair':'east'}],'concealed':true},"
                         "{'groups':[{'pair':'red'}],'points':-5,'concealed':true}]");
    ck_assert(nh_list_pattern(list, 0)->concealed);
    ck_assert(nh_list_pattern(list, 0)->has_points);
    ck_assert_double_eq(nh_list_pattern(list, 0)->points, -5);
    ck_assert(!nh_list_variant(list, 0, 0)->has_points);
    nh_list_free(list);
    list = load(2, "",
                "'concealed':true,'variants':[[{'pair':'east'}],"
                "{'groups':[{'pair':'red'}],'concealed':false}]");
    ck_assert(!nh_list_pattern(list, 0)->concealed);
    ck_assert(nh_list_variant(list, 0, 0)->concealed);
    ck_assert(!nh_list_pattern(list, 0)->has_points);
    nh_list_free(list);
}
END_TEST

/* Limit by limit and letter by letter. */
START_TEST(limits_of_variants_go_before_those_of_the_pattern) {
    static const struct counted rows[] = {
        {2,
         "'limits':{'suits':1,'ranks':[1,2,3]},'variants':[{'groups':[{'pair':'any'}],"
         "'limits':{'ranks':[9]}}]",
         3},
        {2,
         "'limits':{'honours':'none'},'variants':[{'groups':[{'pair':'any'}],"
         "'limits':{'honours':'some'}}]",
         7},
        {2,
         "'limits':{'honours':'none','tiles':'123B E'},'variants':[[{'pair':'any'}],"
         "{'groups':[{'pair':'any'}],'limits':{'tiles':'4567C'}}]",
         7},
        {2,
         "'limits':{'least':{'honour':2},'most':{'wind':0}},'variants':["
         "{'groups':[{'pair':'any'}],'limits':{'least':{'honour':0}}}]",
         30},
        {3,
         "'ranks':{'n':[1,2]},'letters':{'m':[9]},'variants':["
         "{'groups':[{'pair':'n','suit':'bam'},{'single':'m','suit':'bam'}],"
         "'letters':{'m':[7,8]}},[{'pair':'n','suit':'dot'},{'single':'m','suit':'dot'}]]",
         6},
    };
    COUNT("", rows);
}
END_TEST

START_TEST(variants_that_are_none) {
    static const char *const rows[][2] = {
        {"'variants':[5]",
         "pattern \"Ebb\", variant 1: an array of 1 to 64 groups is expected here"},
        {"'variants':[{}]", "pattern \"Ebb\", variant 1: a variant is an array of groups, or an "
                            "object with \"groups\""},
        {"'variants':[{'groups':[{'pair':'red'}],'name':'x'}]",
         "pattern \"Ebb\", variant 1: unknown key \"name\""},
        {"'variants':[{'groups':[{'pair':'red'}],'point':5}]",
         "pattern \"Ebb\", variant 1: unknown key \"point\": did you mean \"points\"?"},
        {"'variants':[{'groups':5}]",
         "pattern \"Ebb\", variant 1: an array of 1 to 64 groups is expected here"},
        {"'variants':[[{'pair':'red'}],{'groups':[{'pair':'red'},{'pair':0}]}]",
         "pattern \"Ebb\", variant 2, group 2: a rank must be a whole number from 1 to 9"},
        {"'variants':[[{'pair':'red'}],{'groups':[{'pair':'red'}],'points':'5'}]",
         "pattern \"Ebb\", variant 2: \"points\" must be a number"},
        {"'variants':[{'groups':[{'pair':'red'}],'ranks':{'n':[1,2]}}]",
         "pattern \"Ebb\", variant 1: \"ranks\" gives a range to \"n\", but the letter is never "
         "bound: no group uses it"},
        {"'variants':[[{'pair':'red'}],{'groups':[{'pung':'red'}]}]",
         "pattern \"Ebb\", variant 2: the size does not fit: 3 tiles, and a hand has 2, with one "
         "more for each kong"},
        {"'variants':[{'groups':[{'pair':'n','suit':'x'}],'limits':{'suits':0}}]",
         "pattern \"Ebb\", variant 1: no target: the limit \"suits\" leaves nothing"},
        {"'variants':[{'groups':[{'pair':'flower'}]}]",
         "pattern \"Ebb\", variant 1, group 1: no target: the set has no flowers"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        refuse(2, "", rows[i][0], rows[i][1]);
}
END_TEST

/* --------------------------------------------------------------- counts --- */

START_TEST(tiles_of_a_class_are_counted) {
    static const struct counted rows[] = {
        /* two tiles, each one of three kinds: terminals among 1, 2 and 9 of bams */
        {2, "'groups':[{'single':[1,2,9],'suit':'bam','times':2}]", 6},
        {2,
         "'groups':[{'single':[1,2,9],'suit':'bam','times':2}],"
         "'limits':{'least':{'terminal':2}}",
         3},
        {2, "'groups':[{'single':[1,2,9],'suit':'bam','times':2}],'limits':{'most':{'terminal':1}}",
         3},
        {2,
         "'groups':[{'single':[1,2,9],'suit':'bam','times':2}],"
         "'limits':{'least':{'terminal':1},'most':{'terminal':1}}",
         2},
        /* tiles, not kinds: a pung of dragons is three */
        {3, "'groups':[{'set':'any'}],'limits':{'least':{'dragon':3}}", 3},
        {3, "'groups':[{'set':'any'}],'limits':{'most':{'honour':2}}", 48},
        {3, "'groups':[{'set':'any'}],'limits':{'least':{'simple':3}}", 36},
        {3, "'groups':[{'set':'any'}],'limits':{'least':{'simple':2},'most':{'simple':2}}", 6},
        {3, "'groups':[{'set':'any'}],'limits':{'least':{'orphan':3},'most':{'wind':0}}", 9},
        {3, "'groups':[{'set':'any'}],'limits':{'least':{'suited':1}}", 48},
        {3, "'groups':[{'set':'any'}],'limits':{'least':{'any':3}}", 55},
        /* over several suits: two pairs of any tiles, of which just one is of terminals */
        {4,
         "'groups':[{'pair':'suited','times':2,'distinct':true}],"
         "'limits':{'least':{'terminal':2},'most':{'terminal':2}}",
         6 * 21},
        /* with the other limits */
        {4,
         "'groups':[{'pair':'any','times':2,'distinct':true}],"
         "'limits':{'suits':1,'honours':'some','least':{'dragon':2}}",
         27 * 3},
    };
    COUNT("", rows);
    static const struct counted flowers[] = {
        /* flowers are of no class */
        {2, "'groups':[{'single':['flower','red'],'times':2}],'limits':{'least':{'any':1}}", 2},
        {2, "'groups':[{'single':['flower','red'],'times':2}],'limits':{'most':{'any':0}}", 1},
        {2, "'groups':[{'single':['flower','red'],'times':2}],'limits':{'honours':'none'}", 1},
    };
    COUNT("'tiles':{'flowers':4},", flowers);
}
END_TEST

START_TEST(counts_that_are_none) {
    static const char *const rows[][2] = {
        {"{'least':5}", "\"least\" must be an object such as {\"terminal\": 2}"},
        {"{'most':[1]}", "\"most\" must be an object such as {\"terminal\": 2}"},
        {"{'least':{'flower':1}}",
         "\"least\" counts tiles of a class, \"wind\", \"dragon\", \"honour\", \"terminal\", "
         "\"orphan\", \"simple\", \"suited\", \"any\", not \"flower\""},
        {"{'most':{'n':1}}",
         "\"most\" counts tiles of a class, \"wind\", \"dragon\", \"honour\", \"terminal\", "
         "\"orphan\", \"simple\", \"suited\", \"any\", not \"n\""},
        {"{'least':{'wind':25}}", "\"least\" must have a whole number of tiles from 0 to 24 here"},
        {"{'most':{'wind':'1'}}", "\"most\" must have a whole number of tiles from 0 to 24 here"},
        {"{'least':{'orphan':5},'most':{'orphan':4}}",
         "\"least\" is more than \"most\": 5 and 4 of \"orphan\""},
        {"{'least':{'wind':2},'most':{'wind':1}}",
         "\"least\" is more than \"most\": 2 and 1 of \"wind\""},
        {"{'least':{'wind':1},'most':{'honour':0}}",
         "no target: the limits together leave nothing"},
        {"{'least':{'wind':3}}", "no target: the limit \"least\" leaves nothing"},
        {"{'most':{'any':1}}", "no target: the limit \"most\" leaves nothing"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char pattern[256], text[256];
        snprintf(pattern, sizeof pattern, "'groups':[{'pair':'any'}],'limits':%s", rows[i][0]);
        snprintf(text, sizeof text, "pattern \"Ebb\": %s", rows[i][1]);
        refuse(2, "", pattern, text);
    }
}
END_TEST

/* ----------------------------------------------------------------- play --- */

#define PAIR "'groups':[{'pair':'red'}]"

START_TEST(rules_of_claims) {
    static const struct {
        const char *play;
        nh_play_rules rules;
    } rows[] = {
        {"", {.pung = true, .kong = true, .quint = true, .sextet = true}},
        {"'play':{},", {.pung = true, .kong = true, .quint = true, .sextet = true}},
        {"'play':{'claims':[]},", {.pung = false}},
        {"'play':{'claims':['chow','pung'],'chow_from':'any'},",
         {.pung = true, .chow = true, .chow_from_any = true}},
        {"'play':{'claims':['kong','quint','sextet'],'chow_from':'left','exchange':true},",
         {.kong = true, .quint = true, .sextet = true, .exchange = true}},
        {"'play':{'exchange':false},", {.pung = true, .kong = true, .quint = true, .sextet = true}},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        nh_list *list = load(2, rows[i].play, PAIR);
        const nh_play_rules *rules = nh_list_play(list), *due = &rows[i].rules;
        ck_assert(rules->pung == due->pung && rules->kong == due->kong &&
                  rules->quint == due->quint && rules->sextet == due->sextet &&
                  rules->chow == due->chow && rules->chow_from_any == due->chow_from_any &&
                  rules->exchange == due->exchange);
        nh_list_free(list);
    }
}
END_TEST

START_TEST(rules_that_are_none) {
#define CLAIMS                                                                                     \
    "\"claims\" must be an array of some of \"pung\", \"kong\", \"quint\", \"sextet\" and "        \
    "\"chow\""
    static const char *const rows[][2] = {
        {"'play':5,", "\"play\" must be an object"},
        {"'play':{'claims':'pung'},", CLAIMS},
        {"'play':{'claims':['pair']},", CLAIMS},
        {"'play':{'claims':[5]},", CLAIMS},
        {"'play':{'claims':['pung','pung']},", CLAIMS},
        {"'play':{'chow_from':'right'},", "\"chow_from\" must be \"left\" or \"any\""},
        {"'play':{'chow_from':5},", "\"chow_from\" must be \"left\" or \"any\""},
        {"'play':{'exchange':'yes'},", "\"exchange\" must be true or false"},
        {"'play':{'claim':[]},", "unknown key \"claim\": did you mean \"claims\"?"},
        {"'charleston':{'blind':1},",
         "\"blind\" must be an array of rounds that are played, from 1 to 1"},
        {"'charleston':{'blind':[0]},",
         "\"blind\" must be an array of rounds that are played, from 1 to 1"},
        {"'charleston':{'rounds':[['left'],['right']],'blind':[1,3]},",
         "\"blind\" must be an array of rounds that are played, from 1 to 2"},
        {"'$schema':5,", "\"$schema\" must be text"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        refuse(2, rows[i][0], PAIR, rows[i][1]);
}
END_TEST

START_TEST(blind_passes_and_schema) {
    nh_list *list = load(2,
                         "'$schema':'list.schema.json','charleston':{'blind':[2,1,2],"
                         "'rounds':[['right'],['left'],['across']]},",
                         PAIR);
    ck_assert_uint_eq(nh_list_charleston(list)->blind, 3);
    nh_list_free(list);
    list = load(2, "'charleston':{'blind':[]},", PAIR);
    ck_assert_uint_eq(nh_list_charleston(list)->blind, 0);
    nh_list_free(list);
}
END_TEST

START_TEST(accepted_warnings) {
    nh_list *list = load(2, "", PAIR ",'accept':['within','suit-letter']");
    ck_assert(nh_list_accepts(list, 0, "within"));
    ck_assert(nh_list_accepts(list, 0, "suit-letter"));
    ck_assert(!nh_list_accepts(list, 0, "same"));
    ck_assert(!nh_list_accepts(list, 1, "within"));
    bool met = true;
    ck_assert_str_eq(nh_list_accepted(list, 0, 0, &met), "within");
    ck_assert(!met);
    ck_assert_str_eq(nh_list_accepted(list, 0, 1, &met), "suit-letter");
    ck_assert(!met);
    ck_assert_ptr_null(nh_list_accepted(list, 0, 2, &met));
    ck_assert_ptr_null(nh_list_accepted(list, 1, 0, &met));
    nh_list_free(list);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("format");
    ADD_TESTS(suite, "letters", letters_have_ranges, honours_of_letters_are_those_named,
              letters_that_are_none, letters_are_added);
    ADD_TESTS(suite, "variants", variants_have_terms_of_their_own, terms_of_variants_sum_up,
              limits_of_variants_go_before_those_of_the_pattern, variants_that_are_none);
    ADD_TESTS(suite, "counts", tiles_of_a_class_are_counted, counts_that_are_none);
    ADD_TESTS(suite, "play", rules_of_claims, rules_that_are_none, blind_passes_and_schema,
              accepted_warnings);
    return run_suite(suite);
}
