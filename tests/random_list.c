/*
 * Random lists: groups of every shape are strung together until they fill a
 * hand, and patterns that come to nothing or to too much are thrown away. See
 * random_list.h.
 *
 * Every random number is drawn in a statement of its own: C leaves open in which
 * order the arguments of a call are worked out, and lists must not depend on it.
 */
#include "random_list.h"
#include "reference.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* -------------------------------------------------------------- numbers --- */

uint64_t random_seed(uint64_t otherwise) {
    const char *seed = getenv("NEARHAND_SEED");
    return seed != NULL && *seed != 0 ? strtoull(seed, NULL, 0) : otherwise;
}

int random_tries(int usual) {
    const char *share = getenv("NEARHAND_TRIES");
    const double tries = share != NULL && *share != 0 ? usual / 100.0 * atof(share) : usual;
    return tries > 1 ? (int)tries : 1;
}

/* The constants are those of the published generator splitmix64 (Steele, Lea
 * and Flood, "Fast splittable pseudorandom number generators", 2014), from
 * memory; any other mixing would serve. */
uint64_t random_next(random_source *source) {
    uint64_t mixed = source->state += UINT64_C(0x9e3779b97f4a7c15);
    mixed = (mixed ^ mixed >> 30) * UINT64_C(0xbf58476d1ce4e5b9);
    mixed = (mixed ^ mixed >> 27) * UINT64_C(0x94d049bb133111eb);
    return mixed ^ mixed >> 31;
}

int random_below(random_source *source, int limit) {
    return (int)(random_next(source) % (uint64_t)limit);
}

bool random_percent(random_source *source, int percent) {
    return random_below(source, 100) < percent;
}

/* ----------------------------------------------------------------- text --- */

typedef struct text {
    char *data;
    size_t length;
    size_t room;
} text;

__attribute__((format(printf, 2, 3))) static void say(text *to, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    char piece[256];
    const int length = vsnprintf(piece, sizeof piece, format, arguments);
    va_end(arguments);
    assert(length >= 0 && (size_t)length < sizeof piece);
    if (to->length + (size_t)length + 1 > to->room) {
        to->room = (to->room + sizeof piece) * 2;
        to->data = realloc(to->data, to->room);
        assert(to->data != NULL);
    }
    memcpy(to->data + to->length, piece, (size_t)length + 1);
    to->length += (size_t)length;
}

/* ------------------------------------------------------------ one tile --- */

/* A pattern in the making. */
typedef struct maker {
    random_source *source;
    text out;
    bool jokers;
    bool flowers;
    int rank_letters; /* letters that this variant may use */
    int suit_letters;
    int honour_letters;
    bool ranks_used[3];
    bool honours_used[2];
    bool limited;          /* limits are a must */
    bool variant;          /* these are the limits of a variant */
    int least[8], most[8]; /* tiles of each class that the limits of variants ask for, allow */
    bool old;              /* the grammar of version 0.1 alone: no other number is drawn */
} maker;

static const char rank_letters[3] = {'n', 'm', 'k'};
static const char suit_letters[3] = {'x', 'y', 'z'};
static const char honour_letters[2] = {'u', 'v'};
static const char *const suit_names[3] = {"bam", "crak", "dot"};
static const char *const honour_names[7] = {"east", "south", "west", "north",
                                            "red",  "green", "white"};

static int below(maker *make, int limit) {
    return random_below(make->source, limit);
}

static bool percent(maker *make, int chance) {
    return random_percent(make->source, chance);
}

/* Whether to use what 0.1 did not have. */
static bool newly(maker *make, int chance) {
    return !make->old && percent(make, chance);
}

static void say_suit(maker *make) {
    const int way = below(make, 100);
    if (way < 55 && make->suit_letters > 0) {
        say(&make->out, ",\"suit\":\"%c\"", suit_letters[below(make, make->suit_letters)]);
    } else if (way < 80) {
        say(&make->out, ",\"suit\":\"%s\"", suit_names[below(make, 3)]);
    } else {
        say(&make->out, ",\"suit\":\"any\"");
    }
}

static void say_variable(maker *make) {
    const int letter = below(make, make->rank_letters);
    make->ranks_used[letter] = true;
    const char name = rank_letters[letter];
    if (make->rank_letters > 1 && newly(make, 25)) {
        const int other = (letter + 1 + below(make, make->rank_letters - 1)) % make->rank_letters;
        make->ranks_used[other] = true;
        say(&make->out, "\"%c%c%c\"", name, percent(make, 60) ? '+' : '-', rank_letters[other]);
        return;
    }
    const int way = below(make, 10);
    if (way < 5) {
        say(&make->out, "\"%c\"", name);
    } else if (way < 7) {
        say(&make->out, "\"%c+%d\"", name, 1 + below(make, 4));
    } else if (way < 9) {
        say(&make->out, "\"%c-%d\"", name, 1 + below(make, 4));
    } else {
        say(&make->out, "\"%d-%c\"", percent(make, 50) ? 10 : 5 + below(make, 9), name);
    }
}

static void say_rank(maker *make) {
    if (make->rank_letters > 0 && percent(make, 50)) {
        say_variable(make);
    } else {
        say(&make->out, "%d", 1 + below(make, 9));
    }
}

/* A rank with its suit, or an array of ranks. */
static void say_ranked(maker *make, const char *shape) {
    say(&make->out, "\"%s\":", shape);
    if (percent(make, 30)) {
        const int first = 1 + below(make, 3);
        const int step = 1 + below(make, 3);
        say(&make->out, "[%d,%d", first, first + step);
        if (percent(make, 50)) {
            say(&make->out, ",%d", first + 2 * step);
        }
        if (make->rank_letters > 0 && percent(make, 20)) {
            say(&make->out, ",");
            say_variable(make);
        }
        if (percent(make, 10)) {
            say(&make->out, ",\"%s\"", percent(make, 50) ? "dragon" : "terminal");
        }
        say(&make->out, "]");
    } else {
        say_rank(make);
    }
    say_suit(make);
}

static void say_honour_letter(maker *make, const char *shape) {
    const int letter = below(make, make->honour_letters);
    make->honours_used[letter] = true;
    say(&make->out, "\"%s\":\"%c\"", shape, honour_letters[letter]);
}

static void say_honour(maker *make, const char *shape) {
    static const char *const mixed[8] = {"east", "white",  "seat",   "prevailing",
                                         "wind", "orphan", "dragon", "honour"};
    const int first = below(make, 7);
    if (make->flowers && percent(make, 40)) {
        say(&make->out, "\"%s\":\"flower\"", shape);
    } else if (percent(make, 40)) {
        say(&make->out, "\"%s\":[\"%s\",\"%s\"]", shape, honour_names[first],
            make->flowers && percent(make, 40) ? "flower" : honour_names[(first + 2) % 7]);
    } else if (percent(make, 25)) {
        say(&make->out, "\"%s\":[\"%s\",\"%s\"]", shape, mixed[first],
            mixed[first + 1 + below(make, 7 - first)]);
    } else {
        say(&make->out, "\"%s\":\"%s\"", shape, honour_names[first]);
    }
}

/* A class of suited tiles or dragons goes with a suit, any class without. */
static void say_class(maker *make, const char *shape, bool suited) {
    static const char *const with_suit[6] = {"terminal", "orphan", "simple",
                                             "suited",   "any",    "dragon"};
    static const char *const without[8] = {"terminal", "orphan", "simple", "suited",
                                           "any",      "dragon", "wind",   "honour"};
    if (suited) {
        say(&make->out, "\"%s\":\"%s\"", shape, with_suit[below(make, 5)]);
    } else if (percent(make, 60)) {
        say(&make->out, "\"%s\":\"%s\"", shape, with_suit[below(make, 6)]);
    } else {
        say(&make->out, "\"%s\":\"%s\"", shape, without[below(make, 8)]);
        return;
    }
    if (percent(make, 85)) {
        say_suit(make);
    }
}

static void say_which(maker *make, const char *shape) {
    if (make->honour_letters > 0 && newly(make, 30)) {
        say_honour_letter(make, shape);
        return;
    }
    const int way = below(make, 100);
    if (way < 62) {
        say_ranked(make, shape);
    } else if (way < 77) {
        say_honour(make, shape);
    } else if (way < 94) {
        say_class(make, shape, false);
    } else {
        say(&make->out, "\"%s\":\"%s\"", shape, percent(make, 50) ? "prevailing" : "seat");
    }
}

/* --------------------------------------------------------------- groups --- */

static void say_groups(maker *make, int size, int nesting);

static void say_one_of(maker *make, int size, int nesting) {
    const int alternatives = 2 + below(make, 2);
    say(&make->out, "\"one_of\":[");
    for (int i = 0; i < alternatives; i++) {
        say(&make->out, "%s", i ? "," : "");
        say_groups(make, size, nesting - 1);
    }
    say(&make->out, "]");
}

/* The same six tiles in two ways, which differ in where jokers may stand. */
static void say_two_ways(maker *make) {
    const char *suit = suit_names[below(make, 3)];
    const int a = 1 + below(make, 5);
    const int b = a + 1 + below(make, 4);
    say(&make->out, "\"one_of\":[");
    for (int way = 0; way < 2; way++) {
        const int alike = way ? b : a;
        const int apart = way ? a : b;
        say(&make->out, "%s[{\"pung\":%d,\"suit\":\"%s\"}", way ? "," : "", alike, suit);
        say(&make->out, ",{\"pair\":%d,\"suit\":\"%s\"}", apart, suit);
        say(&make->out, ",{\"single\":%d,\"suit\":\"%s\"}]", apart, suit);
    }
    say(&make->out, "]");
}

static void say_run(maker *make, int length) {
    const bool chow = length == 3 && percent(make, 70);
    if (percent(make, 25)) {
        say_class(make, chow ? "chow" : "run", true);
    } else {
        say_ranked(make, chow ? "chow" : "run");
    }
    if (!chow) {
        say(&make->out, ",\"length\":%d", length);
    }
}

static void say_set(maker *make) {
    if (percent(make, 50)) {
        say_class(make, "set", false);
    } else {
        say_which(make, "set");
    }
}

/* The shape of a group for `size` tiles of a hand. A kong may take the place
 * of three of them, for a tile is drawn to replace its fourth. */
static void say_shape(maker *make, int size, int nesting) {
    static const char *const alikes[6] = {"single", "pair", "pung", "kong", "quint", "sextet"};
    const bool five_can_be = make->jokers || make->flowers;
    if (nesting > 0 && percent(make, 15)) {
        say_one_of(make, size, nesting);
    } else if (size == 6 && make->jokers && percent(make, 40)) {
        say_two_ways(make);
    } else if (size == 3 && percent(make, 25)) {
        say_set(make);
    } else if (size == 3 && percent(make, 20)) {
        say_which(make, "kong");
    } else if (size > 6 || (size > 4 && !five_can_be) || (size > 1 && percent(make, 25))) {
        say_run(make, size);
    } else {
        say_which(make, alikes[size - 1]);
    }
}

/* One group for `size` tiles, taken several times when the size allows it. */
static void say_group(maker *make, int size, int nesting) {
    int times = 1;
    if (percent(make, 30) || size > 9) {
        times = 1 + below(make, size);
        while (size % times != 0 || size / times > 9) {
            times++;
        }
    }
    say(&make->out, "{");
    say_shape(make, size / times, nesting);
    if (times > 1) {
        say(&make->out, ",\"times\":%d%s", times,
            percent(make, 50)   ? ",\"distinct\":true"
            : percent(make, 20) ? ",\"distinct\":false"
                                : "");
    }
    say(&make->out, "}");
}

/* An array of groups that fill `size` tiles; nested, it may be a group alone. */
static void say_groups(maker *make, int size, int nesting) {
    if (nesting < 2 && percent(make, 60)) {
        say_group(make, size, nesting);
        return;
    }
    say(&make->out, "[");
    while (size > 0) {
        const int most = size < 6 ? size : percent(make, 10) ? size : 6;
        const int part = 1 + below(make, most);
        say_group(make, part, nesting);
        size -= part;
        say(&make->out, "%s", size > 0 ? "," : "");
    }
    say(&make->out, "]");
}

/* ------------------------------------------------------------- patterns --- */

static void say_ranks(maker *make) {
    bool first = true;
    for (int letter = 0; letter < 3; letter++) {
        if (make->ranks_used[letter] && percent(make, 40)) {
            make->ranks_used[letter] = false;
            const int least = 1 + below(make, 5);
            say(&make->out, "%s\"%c\":[%d,%d]", first ? ",\"ranks\":{" : ",", rank_letters[letter],
                least, least + below(make, 10 - least));
            first = false;
        }
    }
    say(&make->out, "%s", first ? "" : "}");
}

/* Ranges of the letters that have none yet: each honour letter must have one. */
static void say_letters(maker *make) {
    static const char *const classes[3] = {"\"wind\"", "\"dragon\"", "\"honour\""};
    const char *before = ",\"letters\":{";
    for (int letter = 0; letter < 3; letter++) {
        if (make->ranks_used[letter] && newly(make, 40)) {
            const int least = 1 + below(make, 5);
            say(&make->out, "%s\"%c\":[%d,%d,%d]", before, rank_letters[letter], least,
                least + 1 + below(make, 2), least + 4);
            before = ",";
        }
    }
    for (int letter = 0; letter < 2; letter++) {
        if (!make->honours_used[letter]) {
            continue;
        }
        say(&make->out, "%s\"%c\":", before, honour_letters[letter]);
        if (percent(make, 60)) {
            say(&make->out, "%s", classes[below(make, 3)]);
        } else {
            const int honour = below(make, 7);
            say(&make->out, "[\"%s\",\"%s\"]", honour_names[honour],
                honour_names[(honour + 1 + below(make, 6)) % 7]);
        }
        before = ",";
    }
    say(&make->out, "%s", before[1] == 0 ? "}" : "");
}

/* A number of tiles of a class: what a pattern asks for, its variants allow, and the other
 * way round. */
static int class_count(maker *make, bool least, int class, int tiles) {
    if (make->variant && least)
        make->least[class] = tiles > make->least[class] ? tiles : make->least[class];
    else if (make->variant)
        make->most[class] = tiles < make->most[class] ? tiles : make->most[class];
    else if (least)
        tiles = tiles < make->most[class] ? tiles : make->most[class];
    else
        tiles = tiles > make->least[class] ? tiles : make->least[class];
    return tiles;
}

static void say_class_counts(maker *make) {
    static const char *const classes[8] = {"wind",   "dragon", "honour", "terminal",
                                           "orphan", "simple", "suited", "any"};
    const bool least = percent(make, 50);
    const int tiles = below(make, least ? 5 : 4), class = below(make, 4);
    say(&make->out, "\"%s\":{\"%s\":%d", least ? "least" : "most", classes[class],
        class_count(make, least, class, tiles));
    if (percent(make, 30)) {
        const int more = least ? below(make, 6) : 4 + below(make, 12);
        const int other = 4 + below(make, 4);
        say(&make->out, ",\"%s\":%d", classes[other], class_count(make, least, other, more));
    }
    say(&make->out, "}");
}

static void say_limited_tiles(maker *make) {
    say(&make->out, "\"tiles\":\"");
    for (int suit = 0; suit < 3; suit++) {
        bool any = false;
        for (int rank = 1; rank <= 9; rank++) {
            if (percent(make, 70)) {
                say(&make->out, "%d", rank);
                any = true;
            }
        }
        say(&make->out, "%.*s", any ? 2 : 0, suit == 0 ? "B " : suit == 1 ? "C " : "D ");
    }
    const bool flowers = make->flowers && percent(make, 70);
    say(&make->out, "ESWN %s%s", percent(make, 50) ? "R G Wh" : "G", flowers ? " F\"" : "\"");
}

static void say_limits(maker *make) {
    static const char *const honours[3] = {"none", "some", "only"};
    say(&make->out, ",\"limits\":{");
    if (newly(make, 35)) {
        say_class_counts(make);
        say(&make->out, "}");
        return;
    }
    switch (below(make, 5)) {
    case 0:
        say(&make->out, "\"suits\":%d", below(make, 4));
        break;
    case 1: {
        const int most = 1 + below(make, 3), least = below(make, 2);
        say(&make->out, "\"suits\":[%d,%d]", least, most);
        break;
    }
    case 2:
        say(&make->out, "\"honours\":\"%s\"", honours[below(make, 3)]);
        break;
    case 3:
        say(&make->out, "\"ranks\":[1,2,%d,6,7,8,9]", 3 + below(make, 3));
        break;
    default:
        say_limited_tiles(make);
    }
    say(&make->out, "}");
}

/* A variant: its groups, or an object with what holds for it alone. */
static void say_variant(maker *make, int hand) {
    make->rank_letters = below(make, 4);
    make->suit_letters = below(make, 4);
    make->honour_letters = make->old ? 0 : below(make, 3);
    if (!newly(make, 40)) {
        say_groups(make, hand, 2);
        return;
    }
    maker own = *make;
    own.variant = true;
    memset(own.ranks_used, 0, sizeof own.ranks_used);
    memset(own.honours_used, 0, sizeof own.honours_used);
    say(&own.out, "{\"groups\":");
    say_groups(&own, hand, 2);
    say_ranks(&own);
    say_letters(&own);
    if (percent(&own, 40)) {
        say_limits(&own);
    }
    if (percent(&own, 40)) {
        const bool concealed = percent(&own, 50);
        say(&own.out, ",\"points\":%d,\"concealed\":%s", 5 * below(&own, 6),
            concealed ? "true" : "false");
    }
    say(&own.out, "}");
    make->out = own.out;
    memcpy(make->least, own.least, sizeof make->least);
    memcpy(make->most, own.most, sizeof make->most);
}

static void say_pattern(maker *make, int number, int hand) {
    const int variants = percent(make, 20) ? 2 + below(make, 2) : 1;
    memset(make->ranks_used, 0, sizeof make->ranks_used);
    memset(make->honours_used, 0, sizeof make->honours_used);
    for (int i = 0; i < 8; i++) {
        make->least[i] = 0;
        make->most[i] = NH_TARGET_MAX;
    }
    say(&make->out, "{\"name\":\"Pattern %d\",\"%s\":", number,
        variants > 1 ? "variants" : "groups");
    if (variants > 1) {
        say(&make->out, "[");
        for (int i = 0; i < variants; i++) {
            say(&make->out, "%s", i ? "," : "");
            say_variant(make, hand);
        }
        say(&make->out, "]");
    } else {
        make->rank_letters = below(make, 4);
        make->suit_letters = below(make, 4);
        make->honour_letters = make->old ? 0 : below(make, 3);
        say_groups(make, hand, 2);
    }
    say_ranks(make);
    if (!make->old) {
        say_letters(make);
    }
    if (make->limited || percent(make, 30)) {
        say_limits(make);
    }
    if (percent(make, 70)) {
        say(&make->out, ",\"points\":%d", 5 * below(make, 6));
    }
    say(&make->out, "}");
}

/* ---------------------------------------------------------------- lists --- */

static void say_set_of_tiles(maker *make) {
    static const char *const suits[5] = {"\"bam\"", "\"crak\",\"dot\"", "\"bam\",\"dot\"",
                                         "\"bam\",\"crak\"", "\"dot\""};
    const int flowers = percent(make, 50) ? 0 : 1 + below(make, 8);
    const int jokers = percent(make, 40) ? 0 : 1 + below(make, 16);
    make->flowers = flowers > 0;
    make->jokers = jokers > 0;
    say(&make->out, "\"tiles\":{\"flowers\":%d,\"jokers\":%d", flowers, jokers);
    if (percent(make, 25)) {
        say(&make->out, ",\"suits\":[%s]", suits[below(make, 5)]);
    }
    if (percent(make, 25)) {
        const bool dragons = percent(make, 50), winds = percent(make, 50);
        say(&make->out, ",\"winds\":%s,\"dragons\":%s", winds ? "true" : "false",
            dragons ? "true" : "false");
    }
    say(&make->out, "},");
}

/* Whether the reference can write the one pattern out and finds a target. */
static bool is_good(const char *json) {
    ref_list *list = reference_read(json);
    ref_targets targets;
    const bool written =
        reference_expand(list, 0, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN, RANDOM_SUMS_MAX, &targets);
    const bool good = written && targets.count > 0;
    if (written) {
        reference_release(&targets);
    }
    reference_free(list);
    return good;
}

/* Hands are small more often than not. */
static int random_hand_size(maker *make, int most) {
    const int size = 2 + below(make, percent(make, 60) ? 8 : 17);
    return size < most ? size : most;
}

/* Adds the pattern that stands after `head` bytes of `from`, a whole list. */
static void add_pattern(text *list, const text *from, size_t head, bool first) {
    say(list, "%s", first ? "" : ",\n");
    for (size_t i = head; i + strlen("]}") < from->length; i++) {
        say(list, "%c", from->data[i]);
    }
}

/* One pattern in five has the groups of the one before it, and limits, so that
 * it often lies within the other: the same numbers give the same groups. */
static char *make_list(random_source *source, int patterns, int hand_most, bool old) {
    maker list = {.source = source, .old = old};
    const int hand = random_hand_size(&list, hand_most);
    say(&list.out, "{\"format\":1,\"title\":\"Random list\",\"hand\":%d,", hand);
    say_set_of_tiles(&list);
    say(&list.out, "\"patterns\":[\n");
    const size_t head = list.out.length;
    random_source last = *source;
    bool limited = false;
    for (int i = 0; i < patterns;) {
        random_source numbers = {random_next(source)};
        maker one = list;
        one.limited = limited;
        one.source = limited ? &last : &numbers;
        const random_source start = *one.source;
        one.out = (text){NULL, 0, 0};
        say(&one.out, "%.*s", (int)head, list.out.data);
        say_pattern(&one, i + 1, hand);
        say(&one.out, "]}");
        const bool good = is_good(one.out.data);
        if (good) {
            add_pattern(&list.out, &one.out, head, i == 0);
            last = start;
            i++;
        }
        limited = good && percent(&list, 20);
        free(one.out.data);
    }
    say(&list.out, "\n]}\n");
    return list.out.data;
}

char *random_list(random_source *source, int patterns, int hand_most) {
    return make_list(source, patterns, hand_most, false);
}

char *random_list_0_1(random_source *source, int patterns, int hand_most) {
    return make_list(source, patterns, hand_most, true);
}

/* ---------------------------------------------------------------- hands --- */

nh_tiles random_draw(random_source *source, nh_tiles *pool, int count) {
    nh_tiles drawn = {{0}};
    int left = nh_tiles_total(pool);
    for (; count > 0 && left > 0; count--, left--) {
        int place = random_below(source, left);
        int kind = 0;
        while (place >= pool->count[kind]) {
            place -= pool->count[kind++];
        }
        pool->count[kind]--;
        drawn.count[kind]++;
    }
    return drawn;
}

static void move(nh_tiles *from, nh_tiles *to, int kind) {
    from->count[kind]--;
    to->count[kind]++;
}

nh_tiles random_near(random_source *source, const nh_tiles *set, const nh_tiles *target,
                     const nh_tiles *jokerable, int size, int strangers) {
    nh_tiles pool = *set;
    nh_tiles hand = {{0}};
    nh_tiles wanted = *target;
    const int joke = random_below(source, 3) * 20;
    nh_tiles tiles = random_draw(source, &wanted, size - strangers);
    for (int kind = 0; kind < NH_JOKER; kind++) {
        for (int i = 0; i < tiles.count[kind]; i++) {
            const bool joker = i < jokerable->count[kind] && random_percent(source, joke);
            if (joker && pool.count[NH_JOKER] > 0) {
                move(&pool, &hand, NH_JOKER);
            } else if (pool.count[kind] > 0) {
                move(&pool, &hand, kind);
            }
        }
    }
    const nh_tiles others = random_draw(source, &pool, size - nh_tiles_total(&hand));
    for (int kind = 0; kind < NH_KINDS; kind++) {
        hand.count[kind] = (uint8_t)(hand.count[kind] + others.count[kind]);
    }
    return hand;
}
