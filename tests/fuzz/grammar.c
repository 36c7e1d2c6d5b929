/* Lists out of bytes. See grammar.h. */
#include "grammar.h"

#include <stdarg.h>
#include <stdbool.h>
#include <string.h>

#define TEXT_MAX (1 << 20)
#define NESTING 4
#define GROUPS 20 /* a hand has room for no more */

struct maker {
    struct decisions *decisions;
    const struct grammar_size *size;
    char *text;
    size_t length;
    uint32_t letters; /* ranks that the pattern uses, a to d as bits, and have no range */
    uint32_t honours; /* letters for winds and dragons that it uses: w and v */
};

__attribute__((format(printf, 2, 3))) static void say(struct maker *make, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(make->text + make->length, TEXT_MAX - make->length, format, arguments);
    va_end(arguments);
    MUST(length >= 0 && (size_t)length < TEXT_MAX - make->length);
    make->length += (size_t)length;
}

static int choose(struct maker *make, int choices) {
    return decide(make->decisions, choices);
}

static const char *word_of(struct maker *make, const char *const *words, int count) {
    return words[choose(make, count)];
}

/* ------------------------------------------------------- which tile --- */

static void say_letter(struct maker *make) {
    int letter = choose(make, 4);
    make->letters |= 1u << letter;
    char name = (char)('a' + letter);
    switch (choose(make, 5)) {
    case 0:
        say(make, "\"%c\"", name);
        break;
    case 4: {
        int other = choose(make, 4);
        make->letters |= 1u << other;
        say(make, "\"%c%c%c\"", name, choose(make, 2) == 0 ? '+' : '-', 'a' + other);
        break;
    }
    case 1:
        say(make, "\"%c+%d\"", name, choose(make, 10));
        break;
    case 2:
        say(make, "\"%c-%d\"", name, choose(make, 10));
        break;
    default:
        say(make, "\"%d-%c\"", choose(make, 20), name);
        break;
    }
}

static void say_rank(struct maker *make) {
    if (choose(make, 2) == 0)
        say(make, "%d", 1 + choose(make, 9));
    else
        say_letter(make);
}

static void say_suit(struct maker *make) {
    static const char *const suits[] = {"any", "bam", "crak", "dot", "x", "y", "z", "w"};
    say(make, ",\"suit\":\"%s\"", word_of(make, suits, 8));
}

/* Ranks, with a class among them now and then. */
static void say_ranked(struct maker *make) {
    static const char *const classes[] = {"terminal", "simple", "suited",
                                          "orphan",   "dragon", "any"};
    int count = choose(make, 3) == 0 ? 1 + choose(make, make->size->choices) : 1;
    if (count == 1) {
        say_rank(make);
    } else {
        say(make, "[");
        for (int i = 0; i < count; i++) {
            say(make, i == 0 ? "" : ",");
            if (i > 0 && choose(make, 8) == 7)
                say(make, "\"%s\"", word_of(make, classes, 6));
            else
                say_rank(make);
        }
        say(make, "]");
    }
    say_suit(make);
}

static void say_class(struct maker *make) {
    static const char *const classes[] = {"any", "suited", "simple", "terminal", "orphan"};
    say(make, "\"%s\"", word_of(make, classes, 5));
    if (choose(make, 2) == 1)
        say_suit(make);
}

static void say_honour(struct maker *make) {
    static const char *const words[] = {"honour", "wind",       "dragon", "east",  "south",  "west",
                                        "north",  "red",        "green",  "white", "flower", "seat",
                                        "orphan", "prevailing", "any",    "w",     "v"};
    int count = choose(make, 3) == 0 ? 1 + choose(make, make->size->choices) : 1;
    say(make, "[");
    for (int i = 0; i < count; i++) {
        int word = choose(make, 17);
        if (word >= 15)
            make->honours |= 1u << (word - 15);
        say(make, "%s\"%s\"", i == 0 ? "" : ",", words[word]);
    }
    say(make, "]");
}

/* Where the bytes are used up the rest is of one rank: sets of any tile would make the
 * shortest inputs the slowest lists. */
static void say_tile(struct maker *make, bool runs) {
    bool any = make->decisions->left > 0;
    int way = choose(make, runs ? 4 : 8);
    if (way == 0 && any)
        say_class(make);
    else if (way < 5)
        say_ranked(make);
    else if (way < 7)
        say_honour(make);
    else {
        say(make, "\"dragon\"");
        say_suit(make);
    }
}

/* ------------------------------------------------------------- groups --- */

enum { WORDS = 10 };
static const struct {
    const char *word;
    int tiles; /* 0 where it is to be chosen */
} shapes[WORDS] = {{"set", 3},   {"pair", 2},   {"single", 1}, {"pung", 3}, {"kong", 3},
                   {"quint", 5}, {"sextet", 6}, {"chow", 3},   {"run", 0},  {"one_of", 0}};

static void say_groups(struct maker *make, int tiles, int depth);

static void say_one_of(struct maker *make, int tiles, int depth) {
    int count = 1 + choose(make, make->size->choices);
    say(make, "[");
    for (int i = 0; i < count; i++) {
        say(make, i == 0 ? "" : ",");
        say_groups(make, tiles, depth + 1);
    }
    say(make, "]");
}

/* Takes a group of at most `tiles` tiles; how many it has with its times. A kong
 * counts as three: it may always have a tile more. */
static int say_group(struct maker *make, int tiles, int depth) {
    int shape = choose(make, WORDS);
    int most = tiles < 9 ? tiles : 9;
    int once = shapes[shape].tiles;
    if (once == 0 && tiles >= 2)
        once = 2 + choose(make, most - 1);
    bool too_deep = depth == NESTING && shape == WORDS - 1;
    if (once == 0 || once > tiles || too_deep) {
        shape = tiles >= 3 ? 0 : tiles == 2 ? 1 : 2;
        once = shapes[shape].tiles;
    }
    const char *word = shapes[shape].word;
    say(make, "{\"%s\":", word);
    if (shape == WORDS - 1)
        say_one_of(make, once, depth);
    else
        say_tile(make, strcmp(word, "chow") == 0 || strcmp(word, "run") == 0);
    if (strcmp(word, "run") == 0)
        say(make, ",\"length\":%d", once);
    int times = choose(make, 2) == 0 ? 1 : 1 + choose(make, tiles / once);
    if (times > 1)
        say(make, ",\"times\":%d", times);
    if (choose(make, 4) == 3)
        say(make, ",\"distinct\":true");
    say(make, "}");
    return once * times;
}

/* Groups that come to so many tiles, or one of them a tile short of it. */
static void say_groups(struct maker *make, int tiles, int depth) {
    say(make, "[");
    for (int i = 0; tiles > 0 && i < GROUPS; i++) {
        say(make, i == 0 ? "" : ",");
        tiles -= say_group(make, tiles, depth);
    }
    say(make, "]");
}

/* ----------------------------------------------------------- patterns --- */

static void say_ranks(struct maker *make) {
    if (make->letters == 0 || choose(make, 3) != 2)
        return;
    const char *comma = "";
    say(make, ",\"ranks\":{");
    for (int letter = 0; letter < 4; letter++) {
        if ((make->letters >> letter & 1u) == 0)
            continue;
        int least = 1 + choose(make, 9);
        say(make, "%s\"%c\":[%d,%d]", comma, 'a' + letter, least, least + choose(make, 10 - least));
        comma = ",";
    }
    make->letters = 0;
    say(make, "}");
}

static void say_letters(struct maker *make) {
    static const char *const ranges[] = {"\"honour\"", "\"wind\"", "\"dragon\"",
                                         "[\"east\",\"red\"]", "[\"north\"]"};
    const char *comma = ",\"letters\":{";
    for (int letter = 0; letter < 2; letter++) {
        if ((make->honours >> letter & 1u) == 0)
            continue;
        say(make, "%s\"%c\":%s", comma, "wv"[letter], word_of(make, ranges, 5));
        comma = ",";
    }
    for (int letter = 0; letter < 4; letter++) {
        if ((make->letters >> letter & 1u) == 0 || choose(make, 3) != 2)
            continue;
        say(make, "%s\"%c\":[%d,%d]", comma, 'a' + letter, 1 + choose(make, 9),
            1 + choose(make, 9));
        comma = ",";
    }
    make->letters = make->honours = 0;
    say(make, comma[1] == '\0' ? "}" : "");
}

static void say_class_counts(struct maker *make) {
    static const char *const classes[] = {"terminal", "honour", "simple", "wind",
                                          "dragon",   "orphan", "suited", "any"};
    bool least = choose(make, 2) == 0;
    say(make, "\"%s\":{\"%s\":%d}", least ? "least" : "most", word_of(make, classes, 8),
        choose(make, least ? 6 : 12));
}

static void say_limits(struct maker *make) {
    static const char *const honours[] = {"none", "some", "only"};
    int which = choose(make, 64);
    const char *comma = "";
    if (which < 32)
        return;
    say(make, ",\"limits\":{");
    if ((which & 1) != 0) {
        int least = choose(make, 4);
        say(make, "\"suits\":[%d,%d]", least, least + choose(make, 4 - least));
        comma = ",";
    }
    if ((which & 2) != 0) {
        say(make, "%s\"honours\":\"%s\"", comma, word_of(make, honours, 3));
        comma = ",";
    }
    if ((which & 4) != 0) {
        say(make, "%s\"ranks\":[%d,%d,%d,%d]", comma, 1 + choose(make, 9), 1 + choose(make, 9),
            1 + choose(make, 9), 1 + choose(make, 9));
        comma = ",";
    }
    if ((which & 8) != 0)
        say(make, "%s\"tiles\":\"123456789%c 1%dC ESWNRG\"", comma, "BCD"[choose(make, 3)],
            2 + choose(make, 8));
    if ((which & 8) != 0)
        comma = ",";
    if ((which & 16) != 0) {
        say(make, "%s", comma);
        say_class_counts(make);
    }
    say(make, "}");
}

/* A variant: its groups, or an object with what holds for it alone. */
static void say_variant(struct maker *make, int hand) {
    if (choose(make, 3) != 2) {
        say_groups(make, hand, 0);
        return;
    }
    uint32_t letters = make->letters, honours = make->honours;
    make->letters = make->honours = 0;
    say(make, "{\"groups\":");
    say_groups(make, hand, 0);
    say_ranks(make);
    say_letters(make);
    say_limits(make);
    if (choose(make, 2) == 1)
        say(make, ",\"points\":%d,\"concealed\":true", choose(make, 9));
    say(make, "}");
    make->letters = letters;
    make->honours = honours;
}

static void say_pattern(struct maker *make, int number, int hand) {
    int variants = choose(make, 4) == 3 ? 2 + choose(make, 3) : 1;
    make->letters = make->honours = 0;
    say(make, "{\"name\":\"%d\"", number);
    int more = choose(make, 4);
    if (more == 3)
        say(make, ",\"points\":%d", choose(make, 9));
    if (more == 2)
        say(make, ",\"accept\":[\"within\",\"suit-letter\",\"within\"]");
    say(make, variants == 1 ? ",\"groups\":" : ",\"variants\":[");
    for (int i = 0; i < variants; i++) {
        say(make, i == 0 ? "" : ",");
        if (variants == 1)
            say_groups(make, hand, 0);
        else
            say_variant(make, hand);
    }
    say(make, variants == 1 ? "" : "]");
    say_ranks(make);
    say_letters(make);
    say_limits(make);
    say(make, "}");
}

static void say_set(struct maker *make) {
    int which = choose(make, 16), flowers = choose(make, 9), jokers = choose(make, 32) - 15;
    say(make, ",\"tiles\":{\"flowers\":%d,\"jokers\":%d", flowers, jokers > 0 ? jokers : 0);
    if (which == 1)
        say(make, ",\"winds\":false");
    if (which == 2)
        say(make, ",\"dragons\":false");
    if (which == 3)
        say(make, ",\"suits\":[\"bam\",\"dot\"]");
    if (which == 4)
        say(make, ",\"suits\":[\"crak\"]");
    say(make, "}");
}

static void say_kept(struct maker *make) {
    int kept = make->size->kept > 0 ? choose(make, make->size->kept + 1) : 0;
    if (kept == 0)
        return;
    say(make, ",\"charleston\":{\"keep\":[");
    for (int i = 0; i < kept; i++)
        say(make, "%s\"%s\"", i == 0 ? "" : ",", nh_kind_notation(choose(make, NH_KINDS)));
    say(make, "]}");
}

const char *grammar_list(struct decisions *decisions, const struct grammar_size *size) {
    static char text[TEXT_MAX];
    struct maker make = {decisions, size, text, 0, 0, 0};
    int hand = 2 + choose(&make, size->hand - 1);
    int patterns = 1 + choose(&make, size->patterns);
    say(&make, "{\"format\":1,\"title\":\"t\",\"hand\":%d", hand);
    say_set(&make);
    say_kept(&make);
    say(&make, ",\"patterns\":[");
    for (int i = 0; i < patterns; i++) {
        say(&make, i == 0 ? "" : ",");
        say_pattern(&make, i, hand);
    }
    say(&make, "]}");
    return make.text;
}

/* ---------------------------------------------------------------- hand --- */

static void draw(struct decisions *decisions, nh_tiles *rest, int count, nh_tiles *to) {
    for (int i = 0; i < count && nh_tiles_total(rest) > 0; i++) {
        int kind = decide(decisions, NH_KINDS);
        while (rest->count[kind] == 0)
            kind = (kind + 1) % NH_KINDS;
        rest->count[kind]--;
        to->count[kind]++;
    }
}

void grammar_hand(struct decisions *decisions, const nh_tiles *set, int most, nh_tiles *hand,
                  nh_tiles *seen) {
    nh_tiles rest = *set;
    *hand = *seen = (nh_tiles){{0}};
    draw(decisions, &rest, most - decide(decisions, most), hand);
    draw(decisions, &rest, decide(decisions, 4) == 3 ? decide(decisions, 100) : 0, seen);
}

void grammar_situation(struct decisions *decisions, nh_situation *situation, int *draws) {
    *situation = (nh_situation)NH_SITUATION;
    *draws = NH_DRAWS_DEFAULT;
    if (decide(decisions, 2) == 1)
        *draws = decide(decisions, NH_DRAWS_MAX + 1);
    if (decide(decisions, 2) == 1)
        situation->prevailing = (nh_wind)decide(decisions, 5);
    if (decide(decisions, 2) == 1)
        situation->seat = (nh_wind)decide(decisions, 5);
}
