/* A variant of a pattern in words. */
#include "words/pattern_words.h"
#include "numbers/double_text.h"
#include "words/group_words.h"

#include <string.h>

/* What is asked about a variant. */
struct variant {
    const nh_list *list;
    size_t pattern, number;
    const nh_groups *groups;
    struct tile_words words;
    unsigned shapes; /* that occur, as bits */
    int least, most; /* tiles of a hand */
};

/* -------------------------------------------------- shapes and sizes --- */

static int size_of_shape(const nh_group_terms *terms) {
    if (terms->shape <= NH_SEXTET)
        return terms->shape;
    return terms->shape == NH_GROUP_SET ? 3 : terms->length;
}

static void measure_groups(const nh_groups *groups, unsigned *shapes, int *least, int *most);

static void measure_group(const nh_group *group, unsigned *shapes, int *least, int *most) {
    nh_group_terms terms;
    int smallest = 0, largest = 0;
    nh_group_read(group, &terms);
    *shapes |= 1u << terms.shape;
    if (terms.shape != NH_GROUP_ONE_OF)
        smallest = largest = size_of_shape(&terms);
    for (size_t i = 0; i < terms.alternatives; i++) {
        int low = 0, high = 0;
        measure_groups(nh_group_alternative(group, i), shapes, &low, &high);
        smallest = i == 0 || low < smallest ? low : smallest;
        largest = high > largest ? high : largest;
    }
    *least += smallest * terms.times;
    *most += largest * terms.times;
}

/* Adds the shapes of the groups, and the fewest and most tiles that they have. */
static void measure_groups(const nh_groups *groups, unsigned *shapes, int *least, int *most) {
    for (size_t i = 0; i < nh_groups_size(groups); i++)
        measure_group(nh_groups_at(groups, i), shapes, least, most);
}

/* ------------------------------------------------------------ sentences --- */

/* Ends a sentence that was begun with text. */
static void sentence_out(struct text *text, struct flow *flow) {
    text_add(text, ".");
    flow_words(flow, text->bytes);
    text_clear(text);
}

static void say_letters(const struct variant *variant, struct flow *flow) {
    const struct tile_words *words = &variant->words;
    struct text text;
    size_t said = 0;
    text_clear(&text);
    if (!words->by_letter)
        return;
    for (int letter = 0; letter < LETTERS; letter++)
        if (words->number[letter].order > 0 && !words->number[letter].honour)
            text_add_format(&text, "%s%c", between(said++, (size_t)words->numbers, " and "),
                            'a' + letter);
    text_add(&text, words->numbers == 1 ? " is one number" : " are different numbers");
    for (int letter = 0; letter < LETTERS; letter++) {
        const struct number_word *number = &words->number[letter];
        if (number->order == 0 || number->honour || number->values == 0x1FF)
            continue;
        text_add_format(&text, ", %c ", 'a' + letter);
        say_values(number->values, false, &text);
    }
    sentence_out(&text, flow);
}

static void say_suits_limit(const nh_limits *limits, struct flow *flow) {
    struct text text;
    text_clear(&text);
    if (limits->suits_least == 0 && limits->suits_most == 3)
        return;
    if (limits->suits_most == 0)
        text_add(&text, "No suited tiles");
    else {
        text_add(&text, limits->suits_least == limits->suits_most ? "In exactly "
                        : limits->suits_least == 0                ? "In at most "
                        : limits->suits_most == 3                 ? "In at least "
                                                                  : "In one or ");
        int count = limits->suits_least == 0 || limits->suits_most < 3 ? limits->suits_most
                                                                       : limits->suits_least;
        say_count(count, &text);
        text_add(&text, count == 1 ? " suit" : " suits");
    }
    sentence_out(&text, flow);
}

static void say_honours_limit(const nh_limits *limits, struct flow *flow) {
    static const char *const words[] = {"", "No winds or dragons.", "At least one wind or dragon.",
                                        "No suited tiles, and at least one wind or dragon."};
    if (limits->honours != NH_HONOURS_FREE)
        flow_words(flow, words[limits->honours]);
}

static void say_ranks_limit(const nh_limits *limits, struct flow *flow) {
    struct text text;
    unsigned ranks = 0;
    for (int i = 0; i < 9; i++)
        ranks |= limits->ranks[i] ? 1u << i : 0;
    if (ranks == 0x1FF)
        return;
    text_clear(&text);
    text_add(&text, "Suited tiles are ");
    say_values(ranks, false, &text);
    text_add(&text, " only");
    sentence_out(&text, flow);
}

static void say_kinds_limit(const nh_limits *limits, struct flow *flow) {
    char tiles[NH_TILES_TEXT_SIZE];
    nh_tiles kinds = {{0}};
    bool all = true;
    struct text text;
    for (int kind = 0; kind < NH_JOKER; kind++) {
        kinds.count[kind] = limits->kinds[kind];
        all = all && limits->kinds[kind];
    }
    if (all)
        return;
    nh_tiles_format(&kinds, NH_STYLE_LETTERS, tiles, sizeof tiles);
    text_clear(&text);
    text_add_format(&text, "Made of %s alone", tiles);
    sentence_out(&text, flow);
}

static void say_class_limit(const nh_limits *limits, int class, struct flow *flow) {
    static const char *const words[] = {"winds",
                                        "dragons",
                                        "winds or dragons",
                                        "ones or nines",
                                        "ones, nines, winds or dragons",
                                        "twos to eights",
                                        "suited tiles",
                                        "tiles other than flowers"};
    int least = limits->least[class], most = limits->most[class];
    struct text text;
    text_clear(&text);
    if (least == 0 && most == NH_TARGET_MAX)
        return;
    if (most == 0)
        text_add_format(&text, "No %s", words[class]);
    else if (least == most)
        text_add_format(&text, "Exactly %d tiles are %s", least, words[class]);
    else if (most == NH_TARGET_MAX)
        text_add_format(&text, "At least %d tiles are %s", least, words[class]);
    else if (least == 0)
        text_add_format(&text, "At most %d tiles are %s", most, words[class]);
    else
        text_add_format(&text, "%d to %d tiles are %s", least, most, words[class]);
    sentence_out(&text, flow);
}

static void say_limits(const struct variant *variant, struct flow *flow) {
    nh_limits limits;
    if (!nh_list_limits(variant->list, variant->pattern, variant->number, &limits))
        return;
    say_suits_limit(&limits, flow);
    say_honours_limit(&limits, flow);
    say_ranks_limit(&limits, flow);
    say_kinds_limit(&limits, flow);
    for (int class = 0; class < NH_CLASSES; class ++)
        say_class_limit(&limits, class, flow);
}

/* Where jokers may not stand, of the shapes that occur. */
static void say_jokers(const struct variant *variant, struct flow *flow) {
    static const struct {
        unsigned shapes;
        const char *words;
    } closed[] = {{1u << NH_SINGLE, "single tiles"},
                  {1u << NH_PAIR, "pairs"},
                  {1u << NH_CHOW | 1u << NH_GROUP_SET, "chows"},
                  {1u << NH_RUN, "runs"}};
    const unsigned open =
        1u << NH_PUNG | 1u << NH_KONG | 1u << NH_QUINT | 1u << NH_SEXTET | 1u << NH_GROUP_SET;
    struct text text;
    size_t count = 0, said = 0;
    if (nh_list_set(variant->list)->count[NH_JOKER] == 0)
        return;
    for (size_t i = 0; i < 4; i++)
        count += (variant->shapes & closed[i].shapes) != 0;
    if ((variant->shapes & open) == 0) {
        flow_words(flow, "No jokers.");
        return;
    }
    if (count == 0)
        return;
    text_clear(&text);
    text_add(&text, "No jokers in ");
    for (size_t i = 0; i < 4; i++)
        if ((variant->shapes & closed[i].shapes) != 0) {
            text_add(&text, between(said++, count, " or "));
            text_add(&text, closed[i].words);
        }
    sentence_out(&text, flow);
}

static void say_size(const struct variant *variant, struct flow *flow) {
    struct text text;
    if (variant->most <= nh_list_hand_size(variant->list))
        return;
    text_clear(&text);
    if (variant->least < variant->most)
        text_add_format(&text, "%d to ", variant->least);
    text_add_format(&text, "%d tiles: each kong draws one more", variant->most);
    sentence_out(&text, flow);
}

/* Points and concealment of a variant, where the pattern's are not the same. */
static void say_terms(const struct variant *variant, struct flow *flow) {
    const nh_pattern *whole = nh_list_pattern(variant->list, variant->pattern);
    const nh_pattern *own = nh_list_variant(variant->list, variant->pattern, variant->number);
    bool alone = nh_list_variant(variant->list, variant->pattern, 1) == NULL;
    char points[DOUBLE_TEXT_SIZE];
    struct text text;
    if (alone)
        return;
    if (own->has_points && own->points != whole->points) {
        double_text(own->points, points);
        text_clear(&text);
        text_add_format(&text, "%s point%s", points, strcmp(points, "1") == 0 ? "" : "s");
        sentence_out(&text, flow);
    }
    if (own->concealed && !whole->concealed)
        flow_words(flow, "Concealed.");
    if (own->note == NULL || (whole->note != NULL && strcmp(own->note, whole->note) == 0))
        return;
    text_clear(&text);
    text_add_format(&text, "(%s)", own->note);
    flow_words(flow, text.bytes);
}

/* What a set is, once for all variants. */
static void say_sets(const struct variant *variant, struct flow *flow) {
    const unsigned set = 1u << NH_GROUP_SET;
    unsigned earlier = 0;
    int least = 0, most = 0;
    for (size_t i = 0; i < variant->number; i++)
        measure_groups(nh_list_groups(variant->list, variant->pattern, i), &earlier, &least, &most);
    if ((variant->shapes & set) != 0 && (earlier & set) == 0)
        flow_words(flow, "A set is a pung or a chow.");
}

void pattern_words_out(const nh_list *list, size_t pattern, size_t variant, struct flow *flow) {
    struct variant said = {.list = list,
                           .pattern = pattern,
                           .number = variant,
                           .groups = nh_list_groups(list, pattern, variant)};
    struct text text;
    tile_words_begin(&said.words, list, pattern, variant);
    measure_groups(said.groups, &said.shapes, &said.least, &said.most);
    said.words.flow = flow;
    text_clear(&text);
    say_groups(&said.words, said.groups, &text);
    if (text.bytes[0] >= 'a' && text.bytes[0] <= 'z')
        text.bytes[0] = (char)(text.bytes[0] - 'a' + 'A');
    sentence_out(&text, flow);
    say_letters(&said, flow);
    say_limits(&said, flow);
    say_size(&said, flow);
    say_jokers(&said, flow);
    say_sets(&said, flow);
    say_terms(&said, flow);
}
