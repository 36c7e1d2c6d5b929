/* Which tile and which suit a group says, in words. */
#include "words/tile_words.h"

#include <string.h>

/* ------------------------------------------------------- small words --- */

void say_count(int count, struct text *text) {
    static const char *const words[] = {"no",    "one",   "two",  "three", "four",   "five",  "six",
                                        "seven", "eight", "nine", "ten",   "eleven", "twelve"};
    if (count <= 12)
        text_add(text, words[count]);
    else
        text_add_format(text, "%d", count);
}

const char *between(size_t index, size_t count, const char *last) {
    return index == 0 ? "" : index + 1 < count ? ", " : last;
}

static int value_count(unsigned bits) {
    int count = 0;
    for (; bits != 0; bits &= bits - 1)
        count++;
    return count;
}

static int lowest_value(unsigned bits) {
    int at = 0;
    while ((bits >> at & 1u) == 0)
        at++;
    return at;
}

void say_values(unsigned values, bool honours, struct text *text) {
    int count = value_count(values), first = values == 0 ? 0 : lowest_value(values);
    if (!honours && count > 2 && values >> first == (1u << count) - 1u) {
        text_add_format(text, "from %d to %d", first + 1, first + count);
        return;
    }
    size_t said = 0;
    for (int bit = 0; bit < 9; bit++) {
        if ((values >> bit & 1u) == 0)
            continue;
        text_add(text, between(said++, (size_t)count, " or "));
        if (honours)
            text_add(text, nh_kind_name(NH_EAST + bit));
        else
            text_add_format(text, "%d", bit + 1);
    }
}

/* --------------------------------------------------- names of letters --- */

/* Values of the letter for which a rank, and `length` - 1 more, are from 1 to 9. */
static unsigned possible_values(const nh_group_tile *tile, int length) {
    unsigned values = 0;
    for (int value = 1; value <= 9; value++) {
        int rank = tile->sign * value + tile->offset;
        if (rank >= 1 && rank + length - 1 <= 9)
            values |= 1u << (value - 1);
    }
    return values;
}

static void name_number(struct tile_words *words, unsigned letter, const nh_group_tile *tile) {
    struct number_word *number = &words->number[letter];
    if (number->order != 0)
        return;
    number->order = number->honour ? ++words->honours : ++words->numbers;
    number->sign = tile->letter == letter && tile->which == NH_WHICH_LETTER ? tile->sign : 1;
    number->offset = tile->letter == letter ? tile->offset : 0;
}

static void name_tile(struct tile_words *words, const nh_group_tile *tile, int length,
                      bool certain) {
    if (tile->which != NH_WHICH_LETTER && tile->which != NH_WHICH_HONOUR_LETTER)
        return;
    name_number(words, tile->letter, tile);
    if (tile->which == NH_WHICH_HONOUR_LETTER)
        return;
    if (tile->other_sign != 0) {
        name_number(words, tile->other, tile);
        words->by_letter = true;
    } else if (certain) {
        words->number[tile->letter].possible &= possible_values(tile, length);
    }
}

static void name_groups(struct tile_words *words, const nh_groups *groups, bool certain);

/* Whether two ways to name the letters agree. */
static bool same_names(const struct tile_words *a, const struct tile_words *b) {
    for (int letter = 0; letter < LETTERS; letter++) {
        const struct number_word *x = &a->number[letter], *y = &b->number[letter];
        if (x->order != y->order || x->sign != y->sign || x->offset != y->offset)
            return false;
    }
    return true;
}

/* Where one alternative is taken all must name the letters of numbers in one way, or
 * later words would depend on which of them it is. */
static void name_alternatives(struct tile_words *words, const nh_group *group,
                              const nh_group_terms *terms) {
    const struct tile_words before = *words;
    struct tile_words first = before;
    for (size_t i = 0; i < terms->alternatives; i++) {
        struct tile_words alone = before;
        name_groups(&alone, nh_group_alternative(group, i), false);
        name_groups(words, nh_group_alternative(group, i), false);
        words->by_letter |=
            alone.by_letter || (i > 0 && terms->times == 1 && !same_names(&alone, &first));
        first = i == 0 ? alone : first;
    }
}

static void name_groups(struct tile_words *words, const nh_groups *groups, bool certain) {
    for (size_t i = 0; i < nh_groups_size(groups); i++) {
        const nh_group *group = nh_groups_at(groups, i);
        nh_group_terms terms;
        nh_group_tile tile;
        nh_group_read(group, &terms);
        if (terms.suit_use == NH_SUIT_LETTER && words->suit[terms.suit].order == 0)
            words->suit[terms.suit].order = ++words->suits;
        bool single = terms.tiles == 1 && certain;
        for (size_t t = 0; nh_group_tile_at(group, t, &tile); t++)
            name_tile(words, &tile, terms.length > 0 ? terms.length : 1, single);
        name_alternatives(words, group, &terms);
    }
}

static bool kind_in_class(int kind, int class) {
    bool suited = kind < NH_EAST, wind = kind >= NH_EAST && kind <= NH_NORTH;
    bool dragon = kind >= NH_RED && kind <= NH_WHITE;
    bool terminal = suited && (kind % 9 == 0 || kind % 9 == 8);
    switch (class) {
    case NH_CLASS_WIND:
        return wind;
    case NH_CLASS_DRAGON:
        return dragon;
    case NH_CLASS_HONOUR:
        return wind || dragon;
    case NH_CLASS_TERMINAL:
        return terminal;
    case NH_CLASS_ORPHAN:
        return terminal || wind || dragon;
    default:
        return false;
    }
}

static void count_classes(struct tile_words *words, const nh_list *list) {
    for (int kind = 0; kind < NH_JOKER; kind++)
        for (int class = 0; class < NH_CLASSES; class ++)
            words->kinds[class] += nh_list_set(list)->count[kind] > 0 && kind_in_class(kind, class);
}

void tile_words_begin(struct tile_words *words, const nh_list *list, size_t pattern,
                      size_t variant) {
    memset(words, 0, sizeof *words);
    count_classes(words, list);
    for (unsigned letter = 0; letter < LETTERS; letter++) {
        struct number_word *number = &words->number[letter];
        number->values = nh_list_letter(list, pattern, variant, letter, &number->honour);
        number->possible = 0x1FF;
    }
    name_groups(words, nh_list_groups(list, pattern, variant), true);
}

/* ------------------------------------------------------------ numbers --- */

static const char *const ordinals[] = {"", "first", "second", "third", "fourth", "fifth"};

static void say_ordinal(int order, struct text *text) {
    if (order <= 5)
        text_add(text, ordinals[order]);
    else
        text_add_format(text, "%d%s", order, ordinal_ending((size_t)order));
}

/* The values that a letter's name can have, where its range says more than the ranks
 * from 1 to 9 do. */
static unsigned values_of_name(const struct number_word *number) {
    unsigned values = 0;
    if ((number->values & number->possible) == number->possible)
        return 0;
    for (int value = 1; value <= 9; value++) {
        int named = number->sign * value + number->offset;
        if ((number->values & number->possible) >> (value - 1) & 1u && named >= 1 && named <= 9)
            values |= 1u << (named - 1);
    }
    return values;
}

static void say_new_number(const struct number_word *number, struct text *text) {
    if (number->order == 1)
        text_add(text, "one number");
    else if (number->order == 2)
        text_add(text, "another number");
    else {
        text_add(text, "a ");
        say_ordinal(number->order, text);
        text_add(text, " number");
    }
    unsigned values = values_of_name(number);
    if (values == 0)
        return;
    bool range = value_count(values) > 2 &&
                 values >> lowest_value(values) == (1u << value_count(values)) - 1u;
    text_add(text, range ? " " : " (");
    say_values(values, false, text);
    text_add(text, range ? "" : ")");
}

/* A number by one that was named: its sign times it, plus `offset`. */
static void say_known_number(const struct tile_words *words, const struct number_word *number,
                             int sign, int offset, struct text *text) {
    bool only = words->numbers == 1;
    if (sign == 1 && offset == 0) {
        text_add(text, only ? "the same" : "the ");
        if (!only)
            say_ordinal(number->order, text);
        text_add(text, " number");
        return;
    }
    text_add(text, "the number ");
    if (sign == 1)
        text_add_format(text, "%d %s", offset > 0 ? offset : -offset,
                        only ? (offset > 0 ? "higher" : "lower")
                             : (offset > 0 ? "above the " : "below the "));
    else
        text_add_format(text, "that makes %d with %s", offset, only ? "it" : "the ");
    if (!only)
        say_ordinal(number->order, text);
}

/* "n+1", "10-n", "n+m". */
static void say_as_written(const nh_group_tile *tile, struct text *text) {
    char letter = (char)('a' + tile->letter);
    text_add(text, "number ");
    if (tile->sign < 0)
        text_add_format(text, "%d-%c", tile->offset, letter);
    else if (tile->other_sign != 0)
        text_add_format(text, "%c%c%c", letter, tile->other_sign > 0 ? '+' : '-',
                        'a' + tile->other);
    else if (tile->offset != 0)
        text_add_format(text, "%c%+d", letter, tile->offset);
    else
        text_add_format(text, "%c", letter);
}

static const char *honour_word(unsigned values) {
    return (values & 0xFu) == values    ? "wind"
           : (values & 0x70u) == values ? "dragon"
                                        : "wind or dragon";
}

/* The letters of honours that have the same noun as one. */
struct same_noun {
    int order, count; /* its place among them, and how many they are */
    bool other;       /* it must differ from one that was named before it */
};

static struct same_noun same_noun(const struct tile_words *words,
                                  const struct number_word *number) {
    const char *noun = honour_word(number->values);
    struct same_noun same = {0, 0, false};
    for (int letter = 0; letter < LETTERS; letter++) {
        const struct number_word *one = &words->number[letter];
        if (!one->honour || one->order == 0)
            continue;
        bool alike = strcmp(honour_word(one->values), noun) == 0;
        same.count += alike;
        same.order += alike && one->order <= number->order;
        same.other |= one->order < number->order && (alike || (one->values & number->values) != 0);
    }
    return same;
}

static void say_honour(const struct tile_words *words, struct number_word *number,
                       struct text *text) {
    static const unsigned whole[] = {0xF, 0x70, 0x7F};
    const char *noun = honour_word(number->values);
    struct same_noun same = same_noun(words, number);
    if (number->said) {
        text_add(text, same.count == 1 ? "the same" : "the ");
        if (same.count > 1)
            say_ordinal(same.order, text);
        text_add_format(text, " %s", noun);
        return;
    }
    number->said = true;
    if (same.order > 2) {
        text_add(text, "a ");
        say_ordinal(same.order, text);
        text_add_format(text, " %s", noun);
    } else
        text_add_format(text, "%s %s", same.other ? "another" : "one", noun);
    for (size_t i = 0; i < sizeof whole / sizeof *whole; i++)
        if (number->values == whole[i])
            return;
    text_add(text, " (");
    say_values(number->values, true, text);
    text_add(text, ")");
}

int letter_above(const struct tile_words *words, const nh_group_tile *tile) {
    const struct number_word *number = &words->number[tile->letter];
    bool known = tile->which == NH_WHICH_LETTER && number->said && !words->by_letter;
    int sign = tile->sign * number->sign;
    int above = tile->offset - sign * number->offset;
    return known && sign == 1 && above > 0 ? above : 0;
}

void say_numbers_above(const struct tile_words *words, unsigned letter, const int *above,
                       size_t count, struct text *text) {
    text_add(text, "the numbers ");
    for (size_t i = 0; i < count; i++)
        text_add_format(text, "%s%d", between(i, count, " and "), above[i]);
    text_add(text, words->numbers == 1 ? " higher" : " above the ");
    if (words->numbers > 1)
        say_ordinal(words->number[letter].order, text);
}

void say_letter(struct tile_words *words, const nh_group_tile *tile, struct text *text) {
    struct number_word *number = &words->number[tile->letter];
    if (number->honour) {
        say_honour(words, number, text);
        return;
    }
    if (words->by_letter) {
        say_as_written(tile, text);
        return;
    }
    if (!number->said) {
        number->said = true;
        say_new_number(number, text);
        return;
    }
    /* letter = sign * (name - offset) */
    int sign = tile->sign * number->sign;
    say_known_number(words, number, sign, tile->offset - sign * number->offset, text);
}

/* -------------------------------------------------------------- suits --- */

void say_suit(struct tile_words *words, unsigned use, unsigned suit, struct text *text) {
    static const char *const suits[] = {"bams", "craks", "dots"};
    if (use == NH_SUIT_GIVEN) {
        text_add(text, suits[suit]);
        return;
    }
    struct suit_word *word = &words->suit[suit];
    if (!word->said && word->order < 3)
        text_add(text, word->order == 1 ? "one" : "a second");
    else if (words->suits == 1)
        text_add(text, "the same");
    else {
        text_add(text, "the ");
        say_ordinal(word->order, text);
    }
    word->said = true;
    text_add(text, " suit");
}
