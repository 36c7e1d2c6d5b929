/* Every limit of a list at its edge and one past it, and lists that are made to
 * take long or much memory: they are refused with words that say why, within
 * bounds of memory. Texts are written with ' for ", as in api.h. */
#define _POSIX_C_SOURCE 200809L
#include "api.h"
#include "ask.h"

#include <stdarg.h>
#include <sys/resource.h>

#define MEMORY_MAX (256L << 10) /* kilobytes of a process that is given a hostile list */

/* ------------------------------------------------------------- texts --- */

struct text {
    char *bytes;
    size_t length, capacity;
};

__attribute__((format(printf, 2, 3))) static void add(struct text *text, const char *format, ...) {
    va_list arguments;
    char piece[1024];
    va_start(arguments, format);
    int length = vsnprintf(piece, sizeof piece, format, arguments);
    va_end(arguments);
    ck_assert(length >= 0 && (size_t)length < sizeof piece);
    if (text->length + (size_t)length > text->capacity) {
        text->capacity = 2 * (text->length + sizeof piece);
        text->bytes = realloc(text->bytes, text->capacity);
        ck_assert_ptr_nonnull(text->bytes);
    }
    for (int i = 0; i < length; i++)
        text->bytes[text->length++] = (char)(piece[i] == '\'' ? '"' : piece[i]);
}

/* The same words so many times, with commas between. */
static void repeat(struct text *text, const char *words, int times) {
    for (int i = 0; i < times; i++)
        add(text, "%s%s", i == 0 ? "" : ",", words);
}

static void open_list(struct text *text, int hand) {
    *text = (struct text){0};
    add(text,
        "{'format':1,'title':'Rip Current List','hand':%d,'tiles':{'flowers':8,'jokers':8},"
        "'patterns':[",
        hand);
}

static void close_list(struct text *text) {
    add(text, "]}");
}

/* Reads and frees a text. With `words` NULL it is a good list, else one of its mistakes
 * has the words. */
static void assert_read(struct text *text, const char *words) {
    nh_list *list = NULL;
    nh_mistakes *mistakes = NULL;
    nh_status status = nh_list_read(text->bytes, text->length, NULL, &list, &mistakes);
    bool said = words == NULL;
    for (size_t i = 0; i < nh_mistakes_size(mistakes); i++)
        said |= words != NULL && strstr(nh_mistakes_at(mistakes, i)->text, words) != NULL;
    const char *first = nh_mistakes_size(mistakes) > 0 ? nh_mistakes_at(mistakes, 0)->text : "";
    ck_assert_msg(status == (words == NULL ? NH_OK : NH_ERROR_LIST), "%s: %s, %s",
                  words == NULL ? "it must be read" : words, nh_status_text(status), first);
    ck_assert_msg(said, "nothing says \"%s\", but: %s", words, first);
    nh_mistakes_free(mistakes);
    nh_list_free(list);
    free(text->bytes);
}

/* A list of one pattern with these groups. */
__attribute__((format(printf, 3, 4))) static void assert_groups(int hand, const char *words,
                                                                const char *format, ...) {
    char groups[900];
    struct text text;
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(groups, sizeof groups, format, arguments);
    va_end(arguments);
    ck_assert(length >= 0 && (size_t)length < sizeof groups);
    open_list(&text, hand);
    add(&text, "{'name':'a','groups':[%s]}", groups);
    close_list(&text);
    assert_read(&text, words);
}

/* ------------------------------------------------------------- edges --- */

static struct text padded_list(size_t length) {
    struct text text;
    open_list(&text, 2);
    add(&text, "{'name':'a','groups':[{'pair':'any'}]}");
    close_list(&text);
    text.bytes = realloc(text.bytes, length);
    ck_assert_ptr_nonnull(text.bytes);
    memset(text.bytes + text.length, ' ', length - text.length);
    text.length = length;
    return text;
}

START_TEST(bytes_of_a_list) {
    static const size_t lengths[] = {NH_LIST_BYTES_MAX, NH_LIST_BYTES_MAX + 1};
    static const char *const words[] = {NULL, "larger than 4 MiB"};
    for (int past = 0; past < 2; past++) {
        char path[] = "/tmp/nearhand-test-XXXXXX";
        struct text text = padded_list(lengths[past]);
        int file = mkstemp(path);
        nh_list *list;
        ck_assert_int_ge(file, 0);
        ck_assert_int_eq(write(file, text.bytes, text.length), (ssize_t)text.length);
        ck_assert_int_eq(close(file), 0);
        ck_assert_int_eq(nh_list_load(path, NULL, &list, NULL), past ? NH_ERROR_LIST : NH_OK);
        nh_list_free(list);
        ck_assert_int_eq(unlink(path), 0);
        assert_read(&text, words[past]);
    }
}
END_TEST

START_TEST(patterns_of_a_list) {
    static const char *const words[] = {NULL, "array of 1 to 4096 patterns"};
    for (unsigned past = 0; past < 2; past++) {
        struct text text;
        open_list(&text, 2);
        for (unsigned i = 0; i < NH_PATTERNS_MAX + past; i++)
            add(&text, "%s{'name':'%u','groups':[{'pair':'east'}]}", i == 0 ? "" : ",", i);
        close_list(&text);
        assert_read(&text, words[past]);
    }
}
END_TEST

START_TEST(variants_of_a_pattern) {
    static const char *const words[] = {NULL, "array of 1 to 256 arrays"};
    for (int past = 0; past < 2; past++) {
        struct text text;
        open_list(&text, 2);
        add(&text, "{'name':'a','variants':[");
        repeat(&text, "[{'pair':'east'}]", (int)NH_VARIANTS_MAX + past);
        add(&text, "]}");
        close_list(&text);
        assert_read(&text, words[past]);
    }
}
END_TEST

/* So many groups never fit a hand, but only one more is an error of its own. */
START_TEST(groups_of_an_array) {
    static const char *const words[] = {"size does not fit", "array of 1 to 64 groups"};
    for (int past = 0; past < 2; past++) {
        struct text text;
        open_list(&text, 14);
        add(&text, "{'name':'a','groups':[");
        repeat(&text, "{'single':'east'}", (int)NH_GROUPS_MAX + past);
        add(&text, "]}");
        close_list(&text);
        assert_read(&text, words[past]);
    }
}
END_TEST

START_TEST(alternatives_of_a_group) {
    static const char *const tiles[] = {NULL, "1 to 256 tiles"};
    static const char *const groups[] = {NULL, "1 to 256 alternatives"};
    for (int past = 0; past < 2; past++) {
        struct text of_tiles, of_groups;
        open_list(&of_tiles, 2);
        add(&of_tiles, "{'name':'a','groups':[{'suit':'bam','pair':[");
        repeat(&of_tiles, "1", (int)NH_ALTERNATIVES_MAX + past);
        add(&of_tiles, "]}]}");
        close_list(&of_tiles);
        assert_read(&of_tiles, tiles[past]);
        open_list(&of_groups, 2);
        add(&of_groups, "{'name':'a','groups':[{'one_of':[");
        repeat(&of_groups, "{'pair':'red'}", (int)NH_ALTERNATIVES_MAX + past);
        add(&of_groups, "]}]}");
        close_list(&of_groups);
        assert_read(&of_groups, groups[past]);
    }
}
END_TEST

static void nest(struct text *text, int depth) {
    for (int i = 0; i < depth; i++)
        add(text, "{'one_of':[");
    add(text, "{'pair':'any'}");
    for (int i = 0; i < depth; i++)
        add(text, "]}");
}

START_TEST(nesting_of_alternatives) {
    static const char *const words[] = {NULL, "nested more than 8 deep"};
    for (int past = 0; past < 2; past++) {
        struct text text;
        open_list(&text, 2);
        add(&text, "{'name':'a','groups':[");
        nest(&text, (int)NH_NESTING_MAX + past);
        add(&text, "]}");
        close_list(&text);
        assert_read(&text, words[past]);
    }
}
END_TEST

START_TEST(times_of_a_group) {
    assert_groups(NH_HAND_MAX, NULL, "{'single':'honour','times':%d}", NH_HAND_MAX);
    assert_groups(NH_HAND_MAX, "the size does not fit: 24 tiles", "{'single':'any','times':24}");
    assert_groups(NH_HAND_MAX, "from 1 to 24", "{'single':'any','times':25}");
}
END_TEST

START_TEST(tiles_of_a_hand_and_a_target) {
    nh_list *list = read_list("{'format':1,'title':'a','hand':18,'patterns':[{'name':'a',"
                              "'groups':[{'kong':'any','times':6}]}]}");
    ck_assert_int_eq(nh_list_hand_size(list), NH_HAND_MAX);
    ck_assert_int_eq(nh_list_hand_most(list), NH_TARGET_MAX);
    nh_list_free(list);
    assert_groups(NH_HAND_MAX + 1, "from 2 to 18", "{'single':'any','times':19}");
    assert_groups(NH_HAND_MAX, "more than 24 tiles", "{'kong':'any','times':6},{'single':'any'}");
}
END_TEST

/* The text `key` of the list or of its pattern is so long. */
static struct text list_with_text(const char *key, bool of_pattern, size_t length) {
    struct text text = {0};
    bool title = strcmp(key, "title") == 0, name = strcmp(key, "name") == 0;
    char words[NH_TEXT_MAX + 8];
    memset(words, 'x', length);
    words[length] = '\0';
    add(&text, "{'format':1,'title':'%s','hand':2,", title ? words : "a");
    if (!of_pattern && !title)
        add(&text, "'%s':'%s',", key, words);
    add(&text, "'patterns':[{'name':'%s',", name ? words : "a");
    if (of_pattern && !name)
        add(&text, "'%s':'%s',", key, words);
    add(&text, "'groups':[{'pair':'any'}]}]}");
    return text;
}

START_TEST(lengths_of_texts) {
    static const char *const keys[] = {"title",   "edition", "note", "name",
                                       "section", "ref",     "note"};
    for (int i = 0; i < 7; i++) {
        struct text text = list_with_text(keys[i], i >= 3, NH_TEXT_MAX);
        assert_read(&text, NULL);
        text = list_with_text(keys[i], i >= 3, NH_TEXT_MAX + 1);
        assert_read(&text, "is longer than 400 bytes");
    }
}
END_TEST

START_TEST(rounds_and_steps_of_passing) {
    for (unsigned past = 0; past < 3; past++) {
        struct text text = {0};
        unsigned rounds = NH_CHARLESTON_ROUNDS_MAX + (past == 1);
        add(&text, "{'format':1,'title':'a','hand':2,'charleston':{'rounds':[");
        for (unsigned i = 0; i < rounds; i++) {
            add(&text, i == 0 ? "[" : ",[");
            repeat(&text, "'left'", (int)NH_CHARLESTON_STEPS_MAX + (past == 2));
            add(&text, "]");
        }
        add(&text, "]},'patterns':[{'name':'a','groups':[{'pair':'any'}]}]}");
        assert_read(&text, past == 0 ? NULL : "at most 8 rounds, each an array of at most 8");
    }
}
END_TEST

START_TEST(mistakes_of_a_report) {
    for (unsigned past = 0; past < 2; past++) {
        struct text text;
        nh_list *list;
        nh_mistakes *mistakes;
        open_list(&text, 2);
        for (unsigned i = 0; i < NH_MISTAKES_MAX + past; i++)
            add(&text, "%s{'name':'%u','groups':[{'pair':0}]}", i == 0 ? "" : ",\n", i);
        close_list(&text);
        ck_assert_int_eq(nh_list_read(text.bytes, text.length, NULL, &list, &mistakes),
                         NH_ERROR_LIST);
        ck_assert_uint_eq(nh_mistakes_size(mistakes), NH_MISTAKES_MAX + past);
        nh_mistake last = *nh_mistakes_at(mistakes, NH_MISTAKES_MAX - 1 + past);
        ck_assert_uint_eq(last.line, past ? 0 : NH_MISTAKES_MAX);
        ck_assert_int_eq(strstr(last.text, "more mistakes") != NULL, past);
        nh_mistakes_free(mistakes);
        free(text.bytes);
    }
}
END_TEST

/* ------------------------------------------------- edges of the work --- */

#define MORE "more combinations than can be worked out, and this group has the most"
#define LETTERS "the letters of this pattern can have values in more than 1000000 ways"
#define DISTINCT "\"distinct\" is for at most 20000 choices"
#define TOGETHER "the patterns together stand for more combinations than can be worked out"

/* A group of nine letters takes 986,409 values in turn, and in three suits three
 * times as many. */
START_TEST(assignments_of_letters) {
    static const char group[] = "{'single':['a','b+9','c+9','d+9','e+9','f+9','g+9','h+9','i+9'],'"
                                "suit':'%s'},{'single':'red'}";
    assert_groups(2, NULL, group, "bam");
    assert_groups(2, LETTERS, group, "x");
}
END_TEST

/* Letters with groups of their own are taken one after the other: few values are
 * tried. */
START_TEST(letters_apart) {
    static const char groups[] =
        "{'single':'a','suit':'x'},{'single':'b','suit':'x'},{'single':'c','suit':'y'},"
        "{'single':'d','suit':'y'},{'single':'e','suit':'y'},{'single':'f','suit':'z'},"
        "{'single':'g','suit':'z'},{'single':'h','suit':'z'},{'single':'i','suit':'z'}";
    assert_groups(9, NULL, "%s", groups);
}
END_TEST

/* Two of 34 choices, and two of some hundred thousand. */
START_TEST(choices_that_are_distinct) {
    assert_groups(4, NULL, "{'pair':'any','times':2,'distinct':true}");
    assert_groups(12, DISTINCT,
                  "{'one_of':[[{'single':'any','times':6}]],'times':2,'distinct':true}");
}
END_TEST

START_TEST(shares_and_sums) {
    assert_groups(14, NULL, "{'single':'any','times':14}");
    assert_groups(18, MORE, "{'single':'any','times':9},{'single':'suited','times':9}");
}
END_TEST

/* So many patterns, each with this text for groups. */
static struct text same_patterns(int patterns, const char *groups) {
    struct text text;
    open_list(&text, 14);
    for (int i = 0; i < patterns; i++)
        add(&text, "%s{'name':'%d','groups':[%s]}", i == 0 ? "" : ",", i, groups);
    close_list(&text);
    return text;
}

START_TEST(products_of_a_list) {
    static const char groups[] = "{'pung':'any','times':4},{'pair':'any'}";
    struct text few = same_patterns(500, groups), many = same_patterns(2000, groups);
    assert_read(&few, NULL);
    assert_read(&many, TOGETHER);
}
END_TEST

START_TEST(work_for_a_list) {
    static const char groups[] = "{'pung':'a','suit':'x'},{'pung':'b','suit':'y'},"
                                 "{'pung':'c','suit':'z'},{'pung':'d','suit':'x'},"
                                 "{'pair':'e','suit':'y'}";
    struct text one = same_patterns(100, groups), many = same_patterns(1000, groups);
    assert_read(&one, NULL);
    assert_read(&many, TOGETHER);
}
END_TEST

/* A list of some patterns. */
__attribute__((format(printf, 2, 3))) static void assert_patterns(const char *words,
                                                                  const char *format, ...) {
    char patterns[900];
    struct text text;
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(patterns, sizeof patterns, format, arguments);
    va_end(arguments);
    ck_assert(length >= 0 && (size_t)length < sizeof patterns);
    open_list(&text, 14);
    add(&text, "%s", patterns);
    close_list(&text);
    assert_read(&text, words);
}

#define LIGHT "{'pung':'a','suit':'x'},{'pair':'a','suit':'y'},{'pung':'any','times':3}"
#define HEAVY                                                                                      \
    "{'pair':'any'},{'one_of':[{'pung':'any'},{'single':'any','times':3},"                         \
    "[{'pair':'any'},{'single':'any'}]],'times':4}"

/* A refusal names the pattern, the group, how many choices it has, and what to do. */
START_TEST(words_of_a_refusal) {
    assert_patterns(
        "pattern \"b\", group 2: the pattern stands for more combinations than can be "
        "worked out, and this group has the most choices (more than a million): give it "
        "fewer alternatives, or take it fewer times, or make two patterns of this one",
        "{'name':'a','groups':[%s]},{'name':'b','groups':[%s]}", LIGHT, HEAVY);
    assert_patterns("pattern \"a\", variant 2, group 2: the pattern stands for",
                    "{'name':'a','variants':[[%s],{'groups':[%s]}]}", LIGHT, HEAVY);
    assert_patterns("pattern \"a\", group 2: the letters of this pattern can have values in more "
                    "than 1000000 ways, and this group uses the most of them (10)",
                    "{'name':'a','groups':[{'single':'any','times':13},{'single':['a','b+9','c+9',"
                    "'d+9','e+9','f+9','g+9','h+9','i+9'],'suit':'x'}]}");
    assert_patterns("pattern \"a\", group 2: \"distinct\" is for at most 20000 choices",
                    "{'name':'a','groups':[{'pair':'any'},{'one_of':[[{'single':'any','times':6}]],"
                    "'times':2,'distinct':true}]}");
}
END_TEST

/* The group with the most choices is named, counted by what it says: of ranks, classes,
 * letters, winds, honours, chows and alternatives, however often it is taken. */
START_TEST(groups_of_a_refusal) {
    static const struct {
        int hand;
        const char *groups, *words;
    } rows[] = {
        {18,
         "{'pair':['n','m','9-k'],'suit':'any','times':3},{'pung':['n','m','9-k'],'suit':'any',"
         "'times':4}",
         "group 2: the pattern stands for more combinations than can be worked out, and this group "
         "has the most choices (more than a million): name fewer tiles, or take it fewer times"},
        {18,
         "{'pair':['n','m'],'suit':'any'},{'pair':['n','m','9-k'],'suit':'any'},{'pair':['n','m',"
         "'9-k'],'suit':'any'},{'pung':['n','m','9-k'],'suit':'any'},{'pung':['n','m','9-k'],"
         "'suit':'any'},{'pung':['n','m','9-k'],'suit':'any'},{'pung':['n','m','9-k'],'suit':'any'"
         "}",
         "group 2: the pattern stands for more combinations than can be worked out, and this group "
         "has the most choices (81): give its letters fewer values with \"letters\""},
        {18,
         "{'pair':['n','m','n+k'],'suit':'any'},{'pair':['n','m','n-k'],'suit':'any'},{'pair':['n',"
         "'m','9-k'],'suit':'any'},{'pung':['n','m','9-k'],'suit':'any'},{'pung':['n','m','9-k'],"
         "'suit':'any'},{'pung':['n','m','9-k'],'suit':'any'},{'pung':['n','m','9-k'],'suit':'any'"
         "}",
         "group 1: the pattern stands for more combinations than can be worked out, and this group "
         "has the most choices (297): give its letters fewer values with \"letters\""},
        {18,
         "{'pair':'any'},{'set':'any'},{'set':'any'},{'set':'any'},{'set':'any'},{'single':'n',"
         "'suit':'x'},{'single':'m','suit':'y'},{'single':'k','suit':'z'},{'single':'j','suit':'z'"
         "}",
         "group 2: the pattern stands for more combinations than can be worked out, and this group "
         "has the most choices (68): name fewer tiles"},
        {18,
         "{'set':'any','times':2},{'set':'any'},{'set':'any'},{'single':'simple','suit':'bam',"
         "'times':3},{'single':'n','suit':'x'},{'single':'m','suit':'y'},{'single':'k','suit':'z'}",
         "has the most choices (2346): name fewer tiles, or take it fewer times"},
        {18,
         "{'set':'any'},{'set':'any'},{'set':'any'},{'set':'any'},{'single':'simple','suit':'bam',"
         "'times':3},{'single':'n','suit':'x'},{'single':'m','suit':'y'},{'single':'k','suit':'z'}",
         "has the most choices (84): name fewer tiles, or take it fewer times"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_groups(rows[i].hand, rows[i].words, "%s", rows[i].groups);
    struct text text;
    open_list(&text, 18);
    add(&text, "{'name':'a','letters':{'w':'honour'},'groups':[{'single':'w'},{'single':'red'},"
               "{'single':'any','times':14},{'single':'n','suit':'any'},"
               "{'single':'n+1','suit':'x'}]}");
    close_list(&text);
    assert_read(&text, "group 3: the pattern stands for " MORE " choices (more than a million)");
}
END_TEST

/* Of a group that is not distinct itself, what stands in it may be. */
START_TEST(distinct_groups_inside_others) {
    assert_groups(13, "group 3: \"distinct\" is for at most 20000 choices",
                  "{'single':'red','distinct':true},{'one_of':[{'pair':'east'},{'single':'west',"
                  "'times':2}],'times':2},{'one_of':[{'kong':'north','times':2},[{'one_of':["
                  "[{'single':'any','times':4}]],'times':2,'distinct':true}]]}");
}
END_TEST

/* The patterns are refused together: the one that takes most work is named, wherever it
 * stands. */
START_TEST(words_of_a_refusal_of_a_list) {
    struct text text;
    open_list(&text, 14);
    for (int i = 0; i < 2000; i++)
        add(&text, "%s{'name':'%d','groups':[{'pair':'any'},{'pung':'any','times':4}]}",
            i == 0 ? "" : ",", i);
    close_list(&text);
    assert_read(&text, "pattern \"0\", group 2: " TOGETHER
                       "; this pattern takes the most work, and this group has the most choices "
                       "(66045): name fewer tiles, or take it fewer times, or move the pattern to "
                       "another list");
}
END_TEST

#ifndef __has_feature
#define __has_feature(name) 0
#endif

/* Sanitizers take memory of their own. */
static void assert_little_memory(void) {
#if !defined(__SANITIZE_ADDRESS__) && !__has_feature(address_sanitizer)
    struct rusage usage;
    ck_assert_int_eq(getrusage(RUSAGE_SELF, &usage), 0);
    ck_assert_int_lt(usage.ru_maxrss, MEMORY_MAX);
#endif
}

static nh_list *list_of(struct text *text) {
    nh_list *list = NULL;
    ck_assert_int_eq(nh_list_read(text->bytes, text->length, NULL, &list, NULL), NH_OK);
    free(text->bytes);
    return list;
}

/* Limits on tiles split what a group can be into parts, too many of them or too large. */
START_TEST(work_for_limits) {
    static const char *const patterns[] = {
        "'groups':[{'single':'any','times':14}],'limits':{'least':{'terminal':1,'wind':1,"
        "'dragon':1}}",
        "'groups':[{'single':'prevailing'},{'single':'seat'},{'single':'any','times':12}],"
        "'limits':{'least':{'terminal':1,'wind':2}}",
        "'groups':[{'single':'prevailing'},{'single':'seat'},{'single':'any','times':12}],"
        "'limits':{'honours':'some'}",
    };
    for (size_t i = 0; i < sizeof patterns / sizeof *patterns; i++)
        assert_patterns(MORE, "{'name':'a',%s}", patterns[i]);
}
END_TEST

/* Hands of bams that share nothing: each of the patterns, or variants, has some ten thousand
 * of its own. */
static void add_bams(struct text *text, int count, const char *begin, const char *end) {
    int made = 0;
    for (unsigned ranks = 0; ranks < 512 && made < count; ranks++) {
        char own[32] = "", others[32] = "";
        size_t at[2] = {0, 0};
        for (int rank = 0; rank < 9; rank++) {
            bool in = (ranks >> rank & 1u) != 0;
            at[!in] += (size_t)snprintf((in ? own : others) + at[!in], 32 - at[!in], "%s%d",
                                        at[!in] > 0 ? "," : "", rank + 1);
        }
        for (int times = 8; at[0] == 7 && times < 11 && made < count; times++) {
            add(text, made > 0 ? "," : "");
            add(text, begin, made++);
            add(text,
                "[{'single':[%s],'suit':'bam','times':%d},{'single':[%s],'suit':'bam','times':%d}]",
                own, times, others, 18 - times);
            add(text, "%s", end);
        }
    }
    ck_assert_int_eq(made, count);
}

/* What is held meanwhile passes its limit before the work does. */
START_TEST(memory_for_a_pattern_and_a_list) {
    struct text pattern, list;
    open_list(&pattern, 18);
    add(&pattern, "{'name':'a','variants':[");
    add_bams(&pattern, 150, "", "");
    add(&pattern, "]}");
    close_list(&pattern);
    assert_read(&pattern, "pattern \"a\", variant 1, group 2: the pattern stands for " MORE
                          " choices (1001): name fewer tiles, or take it fewer times, or make two "
                          "patterns of this one");
    open_list(&list, 18);
    add_bams(&list, 350, "{'name':'%d','groups':", "}");
    close_list(&list);
    assert_read(&list, TOGETHER);
    assert_little_memory();
}
END_TEST

/* A list of one pattern that has too many shares: another list would not help. */
START_TEST(a_pattern_alone_is_not_moved) {
    assert_groups(18,
                  "pattern \"a\", group 1: the pattern stands for " MORE
                  " choices (68): name fewer tiles, or make two patterns of this one",
                  "{'set':'any'},{'set':'any'},{'set':'any'},{'set':'any'},{'pair':'any'},"
                  "{'single':'n','suit':'x'},{'single':'m','suit':'y'},{'single':'k','suit':'z'},"
                  "{'single':'j','suit':'z'}");
    /* without jokers what is worked out fits, but not what would be kept of it */
    struct text text = {0};
    add(&text, "{'format':1,'title':'Ebb','hand':18,'patterns':[{'name':'a','groups':["
               "{'set':'any'},{'set':'any'},{'set':'any'},{'set':'any'},{'set':'any'},"
               "{'single':['n','m'],'suit':'x'},{'single':'m','suit':'any'},"
               "{'single':'k','suit':'any'}]}]}");
    assert_read(&text, "pattern \"a\", group 1: the pattern stands for " MORE
                       " choices (68): name fewer tiles, or make two patterns of this one");
}
END_TEST

/* Alternatives of tiles in three suits and an honour, of which no two differ in one part
 * alone. */
static void add_scattered(struct text *text, int times, const char *beside) {
    static const char *const honours[] = {"east", "south", "west", "north",
                                          "red",  "green", "white"};
    add(text, "{'one_of':[");
    for (int i = 0; i < 81; i++)
        add(text,
            "%s[{'single':%d,'suit':'bam'},{'single':%d,'suit':'crak'},{'single':%d,'suit':'dot'},"
            "{'single':'%s'}%s]",
            i > 0 ? "," : "", i / 9 + 1, i % 9 + 1, (i / 9 + i % 9 + 2) % 9 + 1,
            honours[(i / 9 + 2 * (i % 9) + 3) % 7], beside);
    add(text, "],'times':%d}", times);
}

START_TEST(products_of_a_pattern) {
    struct text text;
    open_list(&text, 16);
    add(&text, "{'name':'a','groups':[");
    add_scattered(&text, 2, "");
    add(&text, ",");
    add_scattered(&text, 2, "");
    add(&text, "]}");
    close_list(&text);
    assert_read(&text, "pattern \"a\", group 1: the pattern stands for " MORE " choices (3321)");
}
END_TEST

/* What a group can be under all values of its letter is more than is remembered at a time.
 * The last group leaves one of the values: it is the same as with that value written out. */
START_TEST(groups_that_are_not_remembered) {
    struct text text;
    open_list(&text, 17);
    add(&text, "{'name':'a','letters':{'a':[1],'b':[2,3,4,5,6,8],'c':[7]},'groups':["
               "{'single':'a','suit':'bam'},");
    add_scattered(&text, 3, ",{'single':'b','suit':'dot'}");
    add(&text, ",{'single':'b-c','suit':'bam'}]},{'name':'b','groups':["
               "{'single':1,'suit':'bam','times':2},");
    add_scattered(&text, 3, ",{'single':8,'suit':'dot'}");
    add(&text, "]}");
    close_list(&text);
    nh_list *list = list_of(&text);
    nh_workspace *workspace = new_workspace(list);
    unsigned nearest = NH_AWAY_NONE, farthest = 0;
    for (uint64_t number = 1; number <= 300; number++) {
        nh_deal deal;
        uint8_t away[2];
        ck_assert_int_eq(nh_deal_table(list, 11, number, &deal), NH_OK);
        ck_assert_int_eq(nh_distances(workspace, &deal.hand[0], NULL, away, NULL), NH_OK);
        ck_assert_msg(away[0] == away[1], "deal %d: %u and %u", (int)number, away[0], away[1]);
        nearest = away[0] < nearest ? away[0] : nearest;
        farthest = away[0] > farthest ? away[0] : farthest;
    }
    ck_assert_uint_lt(nearest + 2, farthest);
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* The work for reasons is limited too: past it, no reason is given. Letters that can have
 * too many values are one such case, and one pattern after another. */
START_TEST(work_for_reasons) {
    static const char no_reason[] = "no target: no hand of this set can ever complete it";
    assert_groups(11, no_reason,
                  "{'single':'a','suit':'x'},{'single':'b','suit':'y'},{'single':'c','suit':'z'},"
                  "{'single':'d','suit':'x'},{'single':'e','suit':'x'},{'single':'f','suit':'x'},"
                  "{'single':'g','suit':'x'},{'pair':'h+8','suit':'x'},{'pair':'i+8','suit':'x'}");
    struct text text;
    nh_list *list;
    nh_mistakes *mistakes;
    open_list(&text, 12);
    for (int i = 0; i < 9; i++)
        add(&text,
            "%s{'name':'%d','groups':[{'single':'any','times':12}],"
            "'limits':{'honours':'none','least':{'wind':1}}}",
            i > 0 ? "," : "", i);
    close_list(&text);
    ck_assert_int_eq(nh_list_read(text.bytes, text.length, NULL, &list, &mistakes), NH_ERROR_LIST);
    ck_assert_uint_eq(nh_mistakes_size(mistakes), 9);
    ck_assert_str_eq(nh_mistakes_at(mistakes, 0)->text,
                     "pattern \"0\": no target: the limits together leave nothing");
    ck_assert_ptr_nonnull(strstr(nh_mistakes_at(mistakes, 8)->text, no_reason));
    nh_mistakes_free(mistakes);
    free(text.bytes);
}
END_TEST

/* Choices of a pattern that overlap in nearly all they have, and a plain pattern. */
static nh_list *overlapping_list(void) {
    struct text text;
    open_list(&text, 14);
    add(&text, "{'name':'a','groups':[{'single':'suited'},{'set':'any'},{'single':'wind'},"
               "{'single':'b','suit':'any'},{'chow':'b','suit':'y'},{'pair':'any','times':2},"
               "{'single':'c','suit':'any'}]},"
               "{'name':'b','groups':[{'kong':'wind'},{'kong':'dragon'},{'sextet':'flower'}]}");
    close_list(&text);
    return list_of(&text);
}

/* The list serves all the same, and so do the figures of the pattern beside it. */
START_TEST(work_for_an_audit) {
    nh_list *list = overlapping_list();
    nh_figures count;
    nh_relation relation;
    ck_assert_int_eq(ask_figures(list, 0, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN, &count),
                     NH_ERROR_LIMIT);
    ck_assert_int_eq(ask_figures(list, 1, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN, &count), NH_OK);
    nh_natural targets = {{4 * 3}};
    ck_assert_int_eq(nh_natural_compare(&count.targets, &targets), 0);
    ck_assert_int_eq(ask_relation(list, 0, 1, &relation), NH_OK);
    ck_assert_int_eq(relation, NH_NEITHER);
    nh_dealt dealt;
    nh_overlap overlap;
    nh_error error;
    ck_assert_int_eq(nh_audit_dealt(list, 0, NULL, &dealt, &error), NH_ERROR_LIMIT);
    ck_assert_str_eq(error.text, "counting this takes too much work");
    ck_assert_int_eq(nh_audit_dealt(list, 1, NULL, &dealt, NULL), NH_OK);
    ck_assert_int_eq(nh_audit_overlap(list, 0, 1, NULL, &overlap, NULL), NH_OK);
    ck_assert_uint_eq(overlap.ways.limb[0], 0);
    ck_assert_int_eq(nh_audit_overlap(list, 0, 0, NULL, &overlap, NULL), NH_ERROR_LIMIT);
    nh_list_free(list);
    assert_little_memory();
}
END_TEST

/* The same for a reading: the plain pattern is counted, the other is named. */
START_TEST(work_for_a_reading) {
    nh_list *list = overlapping_list();
    nh_reading *reading = NULL;
    static const nh_natural none;
    ck_assert_int_eq(nh_read(list, NULL, NULL, &reading, NULL), NH_OK);
    ck_assert_int_eq(reading->status, NH_ERROR_LIMIT);
    ck_assert_int_eq(nh_natural_compare(&reading->ready, &none), 0);
    ck_assert_uint_eq(reading->tiles, 0);
    ck_assert_uint_eq(reading->patterns, 2);
    ck_assert_uint_eq(reading->uncounted, 1);
    const nh_read_pattern *plain = nh_reading_pattern(reading, 0);
    const nh_read_pattern *other = nh_reading_pattern(reading, 1);
    ck_assert_int_eq(plain->status, NH_OK);
    ck_assert_uint_eq(plain->pattern, 1);
    ck_assert_int_gt(nh_natural_compare(&plain->ready, &none), 0);
    ck_assert_int_eq(other->status, NH_ERROR_LIMIT);
    ck_assert_uint_eq(other->pattern, 0);
    ck_assert_int_eq(nh_natural_compare(&other->ready, &none), 0);
    nh_reading_free(reading);
    nh_list_free(list);
    assert_little_memory();
}
END_TEST

/* Hands that sixteen jokers make up of five sets are too many to hold by their parts; of
 * five pungs in one suit they are not. */
START_TEST(room_for_an_audit) {
    const char *json = "{'format':1,'title':'Crowd','hand':17,'tiles':{'jokers':16},'patterns':["
                       "{'name':'a','groups':[{'set':'any','times':5},{'pair':'any'}]},"
                       "{'name':'b','groups':[{'pung':'any','suit':'x','times':5},"
                       "{'pair':'any'}]}]}";
    nh_list *list = read_list(json);
    nh_dealt dealt;
    ck_assert_int_eq(nh_audit_dealt(list, 0, NULL, &dealt, NULL), NH_ERROR_LIMIT);
    ck_assert_int_eq(nh_audit_dealt(list, 1, NULL, &dealt, NULL), NH_OK);
    nh_list_free(list);
    assert_little_memory();
}
END_TEST

/* One tile, and nearly every target as near as any other. The best target that was
 * found is given, and the distance is exact. */
START_TEST(work_for_a_ranking) {
    struct text text;
    open_list(&text, 18);
    add(&text, "{'name':'a','groups':[{'pair':'any'},{'set':'any','times':5},{'single':'any'}]},"
               "{'name':'b','groups':[{'set':'any','times':5},{'pung':'any'}]}");
    close_list(&text);
    nh_list *list = list_of(&text);
    nh_workspace *workspace = new_workspace(list);
    nh_tiles hand = tiles_of("5D");
    nh_situation situation = NH_SITUATION;
    nh_ranking ranking;
    nh_ranked rows[2];
    ck_assert_int_eq(
        ask_rank(workspace, &hand, &situation, NH_DRAWS_DEFAULT, NULL, rows, 2, &ranking, NULL),
        NH_OK);
    ck_assert_uint_eq(ranking.rows, 2);
    for (int i = 0; i < 2; i++) {
        ck_assert_uint_eq(rows[i].away, 17);
        ck_assert_int_eq(nh_tiles_total(&rows[i].target), 18);
        ck_assert_uint_eq(rows[i].target.count[NH_DOT_1 + 4] > 0, 1);
        ck_assert(rows[i].chance > 0);
    }
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* The same two thousand times, and near in many ways. All passes are too much;
 * the workspace serves on. */
START_TEST(work_for_passes) {
    struct text text = same_patterns(2000, "{'pung':'a','suit':'x'},{'pung':'b','suit':'x'},"
                                           "{'pung':'a','suit':'y'},{'pung':'b','suit':'y'},"
                                           "{'pair':'flower'}");
    nh_list *list = list_of(&text);
    nh_workspace *workspace = new_workspace(list);
    nh_tiles hand = tiles_of("FF JJJ EEE SSS WWW"), pass = tiles_of("ESW");
    nh_situation situation = NH_SITUATION;
    nh_passing passing;
    nh_ahead ahead;
    nh_error error;
    nh_choice *choices = calloc(NH_PASSES_MAX, sizeof *choices);
    ck_assert_ptr_nonnull(choices);
    ck_assert_int_eq(
        ask_pass(workspace, &hand, &situation, 3, NULL, choices, NH_PASSES_MAX, &passing, &error),
        NH_ERROR_LIMIT);
    ck_assert_uint_eq(passing.rows, 0);
    ck_assert_str_eq(error.text, "the passes of this hand take too much work");
    ck_assert_int_eq(ask_pass(workspace, &hand, &situation, 3, NULL, choices, 1, &passing, &error),
                     NH_ERROR_LIMIT);
    ck_assert_uint_eq(passing.rows, 0);
    ck_assert_int_eq(
        ask_ahead(workspace, &hand, &situation, &pass, 1, NULL, 1, 0, 1, &ahead, &error),
        NH_ERROR_LIMIT);
    ck_assert_int_eq(
        ask_pass(workspace, &hand, &situation, 0, NULL, choices, NH_PASSES_MAX, &passing, &error),
        NH_OK);
    ck_assert_uint_eq(choices[0].expected, choices[0].away);
    free(choices);
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* ----------------------------------------------------------- hostile --- */

START_TEST(texts_that_hold_many_values) {
    static const char *const values[] = {"0,", "[],", "{},"};
    for (int i = 0; i < 3; i++) {
        struct text text = {0};
        add(&text, "[");
        while (text.length + 4 < NH_LIST_BYTES_MAX)
            add(&text, "%s", values[i]);
        add(&text, "0]");
        assert_read(&text, "must be a JSON object");
    }
    assert_little_memory();
}
END_TEST

START_TEST(a_hundred_thousand_patterns) {
    struct text text;
    open_list(&text, 2);
    repeat(&text, "{'name':'a','groups':[{}]}", 100000);
    close_list(&text);
    assert_read(&text, "array of 1 to 4096 patterns");
    assert_little_memory();
}
END_TEST

START_TEST(a_hundred_thousand_keys) {
    struct text text = {0};
    add(&text, "{'format':1");
    for (int i = 0; i < 100000; i++)
        add(&text, ",'key%d':{'a':[]}", i);
    add(&text, "}");
    assert_read(&text, "unknown key \"key0\"");
    assert_little_memory();
}
END_TEST

START_TEST(nesting_without_end) {
    struct text brackets = {0}, groups;
    for (int i = 0; i < 10000; i++)
        add(&brackets, "[");
    for (int i = 0; i < 10000; i++)
        add(&brackets, "]");
    assert_read(&brackets, "cannot be read here");
    open_list(&groups, 2);
    add(&groups, "{'name':'a','groups':[");
    nest(&groups, 10000);
    add(&groups, "]}");
    close_list(&groups);
    assert_read(&groups, "cannot be read here");
    open_list(&groups, 2);
    add(&groups, "{'name':'a','groups':[");
    nest(&groups, 400);
    add(&groups, "]}");
    close_list(&groups);
    assert_read(&groups, "nested more than 8 deep");
    assert_little_memory();
}
END_TEST

/* The mistakes stand behind a long text, through which each would be looked for
 * anew: they have places only as long as that is quick. */
START_TEST(mistakes_behind_a_long_text) {
    struct text text;
    nh_list *list;
    nh_mistakes *mistakes;
    open_list(&text, 2);
    add(&text, "{'name':'");
    while (text.length < NH_LIST_BYTES_MAX - 10000)
        add(&text, "%100s", "x");
    add(&text, "'}");
    for (unsigned i = 0; i < NH_MISTAKES_MAX; i++)
        add(&text, ",\n{'name':'%u','groups':[{'pair':0}]}", i);
    close_list(&text);
    ck_assert_int_eq(nh_list_read(text.bytes, text.length, NULL, &list, &mistakes), NH_ERROR_LIST);
    ck_assert_uint_eq(nh_mistakes_size(mistakes), NH_MISTAKES_MAX + 1);
    ck_assert_uint_eq(nh_mistakes_at(mistakes, 10)->line, 10);
    ck_assert_uint_eq(nh_mistakes_at(mistakes, NH_MISTAKES_MAX - 1)->line, 0);
    nh_mistakes_free(mistakes);
    free(text.bytes);
    assert_little_memory();
}
END_TEST

/* Each way to give the letters values looks through alternatives that all lead
 * nowhere. */
START_TEST(letters_and_empty_alternatives) {
    struct text text;
    open_list(&text, 14);
    add(&text, "{'name':'a','groups':[");
    for (char letter = 'a'; letter <= 'i'; letter++)
        add(&text, "{'single':'%c','suit':'any'},", letter);
    for (int i = 0; i < 5; i++) {
        add(&text, "%s{'one_of':[{'single':'any'},", i == 0 ? "" : ",");
        repeat(&text, "{'single':['i+90'],'suit':'bam'}", (int)NH_ALTERNATIVES_MAX - 1);
        add(&text, "]}");
    }
    add(&text, "]}");
    close_list(&text);
    assert_read(&text, MORE);
    assert_little_memory();
}
END_TEST

START_TEST(times_and_ranges_that_multiply) {
    static const char *const groups[] = {
        "{'single':['a','b+1','c-1','10-d'],'suit':'any','times':14}",
        ("{'one_of':[{'pung':'any'},{'single':'any','times':3},[{'pair':'any'},{'single':'any'}]],"
         "'times':4},{'pair':'any'}"),
        "{'single':['a','b','c','d','e'],'suit':'any','times':14}",
    };
    for (size_t i = 0; i < sizeof groups / sizeof *groups; i++)
        assert_groups(14, MORE, "%s", groups[i]);
    assert_groups(14, DISTINCT,
                  "{'one_of':[[{'single':'any','times':7}]],'times':2,'distinct':true}");
    assert_little_memory();
}
END_TEST

int main(void) {
    Suite *suite = suite_create("limits");
    ADD_TESTS(suite, "edges", bytes_of_a_list, patterns_of_a_list, variants_of_a_pattern,
              groups_of_an_array, alternatives_of_a_group, nesting_of_alternatives,
              times_of_a_group, tiles_of_a_hand_and_a_target, lengths_of_texts,
              rounds_and_steps_of_passing, mistakes_of_a_report);
    ADD_TESTS(suite, "work", assignments_of_letters, letters_apart, choices_that_are_distinct,
              shares_and_sums, products_of_a_list, work_for_a_list, words_of_a_refusal,
              groups_of_a_refusal, distinct_groups_inside_others, words_of_a_refusal_of_a_list,
              work_for_limits, memory_for_a_pattern_and_a_list, a_pattern_alone_is_not_moved,
              products_of_a_pattern, groups_that_are_not_remembered, work_for_reasons,
              work_for_an_audit, room_for_an_audit, work_for_a_reading, work_for_a_ranking,
              work_for_passes);
    ADD_TESTS(suite, "hostile", texts_that_hold_many_values, a_hundred_thousand_patterns,
              a_hundred_thousand_keys, nesting_without_end, mistakes_behind_a_long_text,
              letters_and_empty_alternatives, times_and_ranges_that_multiply);
    return run_suite(suite);
}
