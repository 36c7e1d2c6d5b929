/* Groups in words. Groups that follow one another and differ only in their suit, or
 * only in their tile, are said together. */
#include "words/group_words.h"

#include <string.h>

/* A group that is taken once or several times, and those said together with it. */
struct phrase {
    const nh_groups *groups;
    size_t first, count;
    nh_group_terms terms; /* of the first */
};

static const nh_group *phrase_group(const struct phrase *phrase, size_t index) {
    return nh_groups_at(phrase->groups, phrase->first + index);
}

static const char *shape_word(unsigned shape) {
    static const char *const words[] = {"",      "single tile", "pair", "pung", "kong",
                                        "quint", "sextet",      "chow", "run",  "set"};
    return words[shape];
}

static bool is_row(const nh_group_terms *terms) {
    return terms->shape == NH_CHOW || terms->shape == NH_RUN;
}

/* Hands a text that grows long over to the output. */
static void phrase_room(const struct tile_words *words, struct text *text) {
    if (words->flow == NULL || text->length < TEXT_SIZE / 2)
        return;
    flow_words(words->flow, text->bytes);
    text_clear(text);
}

/* ------------------------------------------------------ said together --- */

static bool same_tiles(const nh_group *a, const nh_group *b) {
    nh_group_tile x, y;
    for (size_t i = 0; nh_group_tile_at(a, i, &x); i++)
        if (!nh_group_tile_at(b, i, &y) || memcmp(&x, &y, sizeof x) != 0)
            return false;
    return true;
}

/* Whether both are the same shape, taken once. */
static bool same_shape(const nh_group_terms *a, const nh_group_terms *b) {
    return a->shape == b->shape && a->shape != NH_GROUP_ONE_OF && a->length == b->length &&
           a->times == 1 && b->times == 1 && a->suit_use == b->suit_use && a->tiles == b->tiles;
}

static bool suit_is_new(const struct phrase *phrase, unsigned suit) {
    for (size_t i = 0; i < phrase->count; i++) {
        nh_group_terms terms;
        nh_group_read(phrase_group(phrase, i), &terms);
        if (terms.suit == suit)
            return false;
    }
    return true;
}

/* A tile that can be said in a row of several: one rank, letter or name. */
static bool is_one_tile(const nh_group *group) {
    nh_group_tile tile, more;
    return nh_group_tile_at(group, 0, &tile) && !nh_group_tile_at(group, 1, &more) &&
           tile.which != NH_WHICH_CLASS;
}

static bool in_other_suit(const struct phrase *phrase, const nh_group *next,
                          const nh_group_terms *terms) {
    return (terms->suit_use == NH_SUIT_GIVEN || terms->suit_use == NH_SUIT_LETTER) &&
           suit_is_new(phrase, terms->suit) && same_tiles(phrase_group(phrase, 0), next);
}

/* Winds, dragons, flowers, or no such tile. */
static int family_of(const nh_group *group) {
    nh_group_tile tile = {.which = NH_WHICH_RANK};
    nh_group_tile_at(group, 0, &tile);
    bool named = tile.which == NH_WHICH_KIND;
    return !named ? 0 : tile.value <= NH_NORTH ? 1 : tile.value <= NH_WHITE ? 2 : 3;
}

static bool tile_is_new(const struct phrase *phrase, const nh_group *next) {
    for (size_t i = 0; i < phrase->count; i++)
        if (same_tiles(phrase_group(phrase, i), next))
            return false;
    return true;
}

/* Whether a tile is said by its letter, or as the wind of the round or seat. */
static bool is_named(const nh_group *group) {
    nh_group_tile tile = {.which = NH_WHICH_RANK};
    nh_group_tile_at(group, 0, &tile);
    return tile.which == NH_WHICH_LETTER || tile.which == NH_WHICH_HONOUR_LETTER ||
           tile.which == NH_WHICH_PREVAILING || tile.which == NH_WHICH_SEAT;
}

static bool of_other_tile(const struct phrase *phrase, const nh_group *next,
                          const nh_group_terms *terms) {
    const nh_group *first = phrase_group(phrase, 0);
    return terms->suit_use != NH_SUIT_ANY && terms->suit == phrase->terms.suit &&
           is_one_tile(first) && is_one_tile(next) && family_of(first) == family_of(next) &&
           (terms->shape != NH_SINGLE || is_named(first) == is_named(next)) &&
           tile_is_new(phrase, next);
}

/* The groups from `first` on that are said together. */
static struct phrase phrase_from(const nh_groups *groups, size_t first) {
    struct phrase phrase = {groups, first, 1, {0}};
    bool (*joins)(const struct phrase *, const nh_group *, const nh_group_terms *) = NULL;
    nh_group_read(nh_groups_at(groups, first), &phrase.terms);
    for (; first + phrase.count < nh_groups_size(groups); phrase.count++) {
        const nh_group *next = nh_groups_at(groups, first + phrase.count);
        nh_group_terms terms;
        nh_group_read(next, &terms);
        if (!same_shape(&phrase.terms, &terms))
            break;
        if (joins == NULL)
            joins = in_other_suit(&phrase, next, &terms) ? in_other_suit : of_other_tile;
        if (!joins(&phrase, next, &terms))
            break;
    }
    return phrase;
}

static bool differs_in_suit(const struct phrase *phrase) {
    nh_group_terms last;
    nh_group_read(phrase_group(phrase, phrase->count - 1), &last);
    return phrase->count > 1 && last.suit != phrase->terms.suit;
}

/* --------------------------------------------------------- which tile --- */

static void say_rank(int rank, bool several, struct text *text) {
    say_count(rank, text);
    if (several)
        text_add(text, rank == 6 ? "es" : "s");
}

static void say_class(unsigned class, bool several, struct text *text) {
    static const char *const one[] = {"wind",
                                      "dragon",
                                      "wind or dragon",
                                      "one or nine",
                                      "one, nine, wind or dragon",
                                      "tile from two to eight",
                                      "suited tile",
                                      "tile"};
    static const char *const more[] = {"winds",
                                       "dragons",
                                       "winds or dragons",
                                       "ones or nines",
                                       "ones, nines, winds or dragons",
                                       "twos to eights",
                                       "suited tiles",
                                       "tiles"};
    text_add(text, several ? more[class] : one[class]);
}

static void say_kind(unsigned kind, bool several, struct text *text) {
    text_add(text, nh_kind_name((int)kind));
    text_add(text, several ? "s" : "");
}

/* One tile that a group names. `several` tiles are alike, as in a pung. */
static void say_tile(struct tile_words *words, const nh_group_terms *terms,
                     const nh_group_tile *tile, bool several, struct text *text) {
    switch (tile->which) {
    case NH_WHICH_RANK:
        if (is_row(terms))
            text_add_format(text, "%d", tile->offset);
        else
            say_rank(tile->offset, several, text);
        break;
    case NH_WHICH_KIND:
        say_kind(tile->value, several, text);
        break;
    case NH_WHICH_CLASS:
        if (is_row(terms))
            text_add(text, tile->value == NH_CLASS_SIMPLE   ? "any number from 2 to 8"
                           : tile->value >= NH_CLASS_SUITED ? "any number"
                                                            : "1 or 9");
        else if (tile->value == NH_CLASS_DRAGON && terms->suit_use != NH_SUIT_NONE &&
                 terms->suit_use != NH_SUIT_ANY)
            text_add(text, "its dragon");
        else
            say_class(tile->value, several, text);
        break;
    case NH_WHICH_PREVAILING:
        text_add(text, "the prevailing wind");
        break;
    case NH_WHICH_SEAT:
        text_add(text, "the seat wind");
        break;
    default:
        say_letter(words, tile, text);
    }
}

/* The tiles of a group, one of which it is of. */
static void say_tiles(struct tile_words *words, const nh_group *group, bool several,
                      const char *last, struct text *text) {
    nh_group_terms terms;
    nh_group_tile tile;
    nh_group_read(group, &terms);
    for (size_t i = 0; nh_group_tile_at(group, i, &tile); i++) {
        text_add(text, between(i, terms.tiles, last));
        say_tile(words, &terms, &tile, several, text);
    }
}

/* The one tile of a group that is said together with others. */
static nh_group_tile tile_of(const struct phrase *phrase, size_t index) {
    nh_group_tile tile = {.which = NH_WHICH_RANK};
    nh_group_tile_at(phrase_group(phrase, index), 0, &tile);
    return tile;
}

/* How many numbers from `index` on are above the same one, and by how much. */
static size_t numbers_above(const struct tile_words *words, const struct phrase *phrase,
                            size_t index, int above[NH_GROUPS_MAX]) {
    nh_group_tile first = tile_of(phrase, index);
    size_t count = 0;
    for (; index + count < phrase->count; count++) {
        nh_group_tile tile = tile_of(phrase, index + count);
        above[count] = letter_above(words, &tile);
        if (above[count] == 0 || tile.letter != first.letter)
            break;
    }
    return count;
}

/* "east", where the next tile is a wind as well. */
static bool say_adjective(const struct phrase *phrase, size_t index, struct text *text) {
    nh_group_tile tile = tile_of(phrase, index);
    if (index + 1 >= phrase->count || tile.which != NH_WHICH_KIND || tile.value >= NH_FLOWER)
        return false;
    const char *name = nh_kind_name(tile.value);
    text_add_bytes(text, name, strcspn(name, " "));
    return true;
}

/* The tiles of groups that are said together. */
static void say_several_tiles(struct tile_words *words, const struct phrase *phrase, bool several,
                              struct text *text) {
    for (size_t i = 0; i < phrase->count;) {
        int above[NH_GROUPS_MAX];
        size_t count = numbers_above(words, phrase, i, above);
        count = count > 1 ? count : 1;
        text_add(text, i == 0 ? "" : i + count < phrase->count ? ", " : " and ");
        if (count > 1)
            say_numbers_above(words, tile_of(phrase, i).letter, above, count, text);
        else if (!say_adjective(phrase, i, text))
            say_tiles(words, phrase_group(phrase, i), several, " or ", text);
        i += count;
    }
}

static bool is_fixed_row(const struct phrase *phrase) {
    return is_row(&phrase->terms) && phrase->terms.tiles == 1 &&
           tile_of(phrase, 0).which == NH_WHICH_RANK &&
           (phrase->count == 1 || differs_in_suit(phrase));
}

/* The tiles of a phrase, once where all of it has the same. */
static void say_phrase_tiles(struct tile_words *words, const struct phrase *phrase, bool several,
                             struct text *text) {
    if (phrase->count > 1 && !differs_in_suit(phrase)) {
        say_several_tiles(words, phrase, several, text);
        return;
    }
    say_tiles(words, phrase_group(phrase, 0), several, " or ", text);
    if (is_fixed_row(phrase))
        text_add_format(text, " to %d", tile_of(phrase, 0).offset + phrase->terms.length - 1);
}

/* The class that a group is of, if it names that alone; else -1. */
static int only_class(const struct phrase *phrase) {
    nh_group_tile tile = tile_of(phrase, 0);
    return phrase->terms.tiles == 1 && tile.which == NH_WHICH_CLASS ? tile.value : -1;
}

static bool has_suit(const struct phrase *phrase) {
    return phrase->terms.suit_use == NH_SUIT_GIVEN || phrase->terms.suit_use == NH_SUIT_LETTER;
}

/* Whether the tile goes without saying: any tile, or any of a suit that is said. */
static bool is_any_tile(const struct phrase *phrase) {
    int class = only_class(phrase);
    return class == NH_CLASS_ANY ||
           (class == NH_CLASS_SUITED && (has_suit(phrase) || is_row(&phrase->terms)));
}

/* --------------------------------------------------------------- suits --- */

/* The suits of a phrase, by whether they were said before. */
struct suits_said {
    size_t said, unsaid;
    bool first; /* they are the first, in their order */
};

static struct suits_said suits_said(const struct tile_words *words, const struct phrase *phrase) {
    struct suits_said suits = {0, 0, true};
    for (size_t i = 0; i < phrase->count; i++) {
        nh_group_terms terms;
        nh_group_read(phrase_group(phrase, i), &terms);
        const struct suit_word *suit = &words->suit[terms.suit];
        suits.said += terms.suit_use == NH_SUIT_LETTER && suit->said;
        suits.unsaid += terms.suit_use == NH_SUIT_LETTER && !suit->said;
        suits.first = suits.first && suit->order == (int)i + 1;
    }
    return suits;
}

/* A word for all suits of a phrase together, or NULL. */
static const char *word_for_suits(const struct tile_words *words, const struct phrase *phrase) {
    struct suits_said suits = suits_said(words, phrase);
    if (suits.unsaid == phrase->count && suits.first)
        return phrase->count == 2 ? "two suits" : "three suits";
    if (suits.unsaid == phrase->count && phrase->count == 2 && words->suits == 3)
        return "the other two suits";
    if (suits.said == phrase->count && (int)phrase->count == words->suits)
        return phrase->count == 2 ? "both suits" : "all three suits";
    return NULL;
}

static void say_several_suits(struct tile_words *words, const struct phrase *phrase,
                              struct text *text) {
    const char *together = word_for_suits(words, phrase);
    text_add(text, together != NULL ? together : "");
    for (size_t i = 0; i < phrase->count; i++) {
        nh_group_terms terms;
        nh_group_read(phrase_group(phrase, i), &terms);
        if (together != NULL) {
            words->suit[terms.suit].said = true;
            continue;
        }
        text_add(text, between(i, phrase->count, " and "));
        say_suit(words, terms.suit_use, terms.suit, text);
    }
}

/* One number, each time another tile: so each in another suit. */
static bool is_in_other_suits(const struct phrase *phrase) {
    nh_group_tile tile = tile_of(phrase, 0);
    return phrase->terms.distinct && phrase->terms.times > 1 && phrase->terms.tiles == 1 &&
           phrase->terms.suit_use == NH_SUIT_ANY &&
           (tile.which == NH_WHICH_RANK || tile.which == NH_WHICH_LETTER);
}

static void say_in_suits(struct tile_words *words, const struct phrase *phrase, struct text *text) {
    if (is_in_other_suits(phrase)) {
        text_add(text, " in ");
        say_count(phrase->terms.times, text);
        text_add(text, " suits");
    } else if (phrase->terms.suit_use == NH_SUIT_ANY) {
        text_add(text, phrase->terms.times > 1 ? ", each in any suit" : " in any suit");
    } else if (has_suit(phrase)) {
        text_add(text, " in ");
        if (differs_in_suit(phrase))
            say_several_suits(words, phrase, text);
        else
            say_suit(words, phrase->terms.suit_use, phrase->terms.suit, text);
    }
}

/* -------------------------------------------------------------- phrases --- */

static void say_article(const char *word, struct text *text) {
    text_add(text, strchr("aeiou", word[0]) != NULL && strncmp(word, "one", 3) != 0 ? "an " : "a ");
    text_add(text, word);
}

/* "a pung", "three different pungs", "pungs". */
static void say_shape(const struct phrase *phrase, struct text *text) {
    const nh_group_terms *terms = &phrase->terms;
    const char *word = shape_word(terms->shape);
    size_t count = phrase->count * terms->times;
    if (count == 1) {
        if (is_any_tile(phrase) && !is_row(terms) && terms->shape != NH_GROUP_SET)
            text_add_format(text, "any %s", word);
        else
            say_article(word, text);
        return;
    }
    if (phrase->count == 1 || differs_in_suit(phrase)) {
        say_count((int)count, text);
        bool different = terms->distinct && terms->times > 1 && !is_in_other_suits(phrase);
        text_add(text, different ? " different " : " ");
    }
    text_add_format(text, "%ss", word);
}

/* The length of a run, and where a row begins. */
static void say_row(struct tile_words *words, const struct phrase *phrase, struct text *text) {
    say_shape(phrase, text);
    if (phrase->terms.shape == NH_RUN && !is_fixed_row(phrase)) {
        text_add(text, " of ");
        say_count(phrase->terms.length, text);
    }
    if (!is_any_tile(phrase)) {
        text_add(text, " from ");
        say_phrase_tiles(words, phrase, false, text);
    }
    say_in_suits(words, phrase, text);
}

/* The dragon of a suit: "a pung of one suit's dragon". */
static bool is_suit_dragon(const struct phrase *phrase) {
    return only_class(phrase) == NH_CLASS_DRAGON && has_suit(phrase);
}

static void say_suit_dragon(struct tile_words *words, const struct phrase *phrase,
                            struct text *text) {
    bool single = phrase->terms.shape == NH_SINGLE, several = phrase->count > 1;
    if (!single && several)
        text_add_format(text, "%ss of ", shape_word(phrase->terms.shape));
    else if (!single || phrase->terms.times > 1) {
        say_shape(phrase, text);
        text_add(text, " of ");
    }
    text_add(text, several ? "the dragons of " : "the dragon of ");
    if (differs_in_suit(phrase))
        say_several_suits(words, phrase, text);
    else
        say_suit(words, phrase->terms.suit_use, phrase->terms.suit, text);
}

/* Whether a group is taken as often as there are tiles for it, and all differ. */
static bool is_one_of_each(const struct tile_words *words, const struct phrase *phrase) {
    int class = only_class(phrase);
    bool fixed = phrase->terms.suit_use == NH_SUIT_NONE || has_suit(phrase);
    int size = class < 0 ? phrase->terms.tiles : has_suit(phrase) ? 0 : words->kinds[class];
    return phrase->terms.distinct && phrase->terms.times > 1 && fixed &&
           phrase->terms.times == size && !is_row(&phrase->terms) &&
           phrase->terms.shape != NH_GROUP_SET;
}

static void say_one_of_each(struct tile_words *words, const struct phrase *phrase,
                            struct text *text) {
    static const char *const each[] = {"each wind", "each dragon", "each wind and dragon",
                                       "each one and nine", "each one, nine, wind and dragon"};
    int class = only_class(phrase);
    bool single = phrase->terms.shape == NH_SINGLE;
    if (single)
        text_add(text, class < 0 ? "one each of " : "one of ");
    else
        text_add_format(text, class < 0 ? "%ss of " : "a %s of ", shape_word(phrase->terms.shape));
    if (class < 0)
        say_tiles(words, phrase_group(phrase, 0), true, " and ", text);
    else
        text_add(text, each[class]);
    say_in_suits(words, phrase, text);
}

/* One tile each: "a one and a nine", "an east and a south wind". */
static void say_each_single(struct tile_words *words, const struct phrase *phrase,
                            struct text *text) {
    for (size_t i = 0; i < phrase->count; i++) {
        struct text tile;
        text_clear(&tile);
        if (!say_adjective(phrase, i, &tile))
            say_tiles(words, phrase_group(phrase, i), false, " or ", &tile);
        text_add(text, between(i, phrase->count, " and "));
        say_article(tile.bytes, text);
    }
    say_in_suits(words, phrase, text);
}

/* Single tiles: "a wind", "three different ones or nines". */
static void say_singles(struct tile_words *words, const struct phrase *phrase, struct text *text) {
    const nh_group_terms *terms = &phrase->terms;
    nh_group_tile tile = tile_of(phrase, 0);
    size_t count = phrase->count * terms->times;
    bool named = is_named(phrase_group(phrase, 0));
    struct text tiles;
    text_clear(&tiles);
    if (count > 1 && (phrase->count == 1 || differs_in_suit(phrase))) {
        say_count((int)count, text);
        bool different = terms->distinct && terms->times > 1 && !is_in_other_suits(phrase);
        text_add(text, different ? " different " : " ");
    }
    if (named && !(tile.which >= NH_WHICH_PREVAILING && count == 1))
        text_add(text, count == 1 ? "a single tile of " : "single tiles of ");
    say_phrase_tiles(words, phrase, count > 1, &tiles);
    if (count == 1 && !named && is_any_tile(phrase))
        text_add(text, "any tile");
    else if (count == 1 && !named)
        say_article(tiles.bytes, text);
    else
        text_add(text, tiles.bytes);
    say_in_suits(words, phrase, text);
}

static void say_alike(struct tile_words *words, const struct phrase *phrase, struct text *text) {
    say_shape(phrase, text);
    if (!is_any_tile(phrase)) {
        text_add(text, " of ");
        say_phrase_tiles(words, phrase, true, text);
    }
    say_in_suits(words, phrase, text);
}

/* --------------------------------------------------------- alternatives --- */

/* Both alternatives are one group each, and can be said in a breath. */
static bool is_either(const nh_group *group, const nh_group_terms *terms) {
    if (terms->times > 1 || terms->alternatives != 2)
        return false;
    for (size_t i = 0; i < 2; i++) {
        const nh_groups *alternative = nh_group_alternative(group, i);
        nh_group_terms inner;
        nh_group_read(nh_groups_at(alternative, 0), &inner);
        if (nh_groups_size(alternative) > 1 || inner.shape == NH_GROUP_ONE_OF)
            return false;
    }
    return true;
}

/* The alternatives of another group are said with the others where it stands alone. */
static const nh_group *group_alone(const nh_groups *groups) {
    const nh_group *group = nh_groups_at(groups, 0);
    nh_group_terms terms;
    nh_group_read(group, &terms);
    bool alone = nh_groups_size(groups) == 1 && terms.shape == NH_GROUP_ONE_OF && terms.times == 1;
    return alone ? group : NULL;
}

/* `before`: what was said before, where only one of the alternatives is taken; or NULL. */
static void say_list_of(struct tile_words *words, const struct tile_words *before,
                        const nh_group *group, const char **gap, const char *next,
                        struct text *text) {
    for (size_t i = 0; nh_group_alternative(group, i) != NULL; i++) {
        const nh_groups *alternative = nh_group_alternative(group, i);
        const nh_group *inner = group_alone(alternative);
        if (inner != NULL) {
            say_list_of(words, before, inner, gap, next, text);
            continue;
        }
        text_add(text, *gap);
        phrase_room(words, text);
        *gap = next;
        if (before != NULL)
            *words = *before;
        say_alternative(words, alternative, text);
    }
}

static void say_one_of(struct tile_words *words, const struct phrase *phrase, struct text *text) {
    const struct tile_words before = *words;
    const nh_group *group = phrase_group(phrase, 0);
    const char *gap = "";
    bool either = is_either(group, &phrase->terms);
    if (either) {
        text_add(text, "either ");
    } else {
        say_count(phrase->terms.times, text);
        text_add(text, " of these");
        text_add(text,
                 phrase->terms.distinct && phrase->terms.times > 1 ? ", all different (" : " (");
    }
    say_list_of(words, phrase->terms.times == 1 ? &before : NULL, group, &gap,
                either ? " or " : "; ", text);
    text_add(text, either ? "" : ")");
}

/* --------------------------------------------------------------- groups --- */

static void say_phrase(struct tile_words *words, const struct phrase *phrase, struct text *text) {
    if (phrase->terms.shape == NH_GROUP_ONE_OF)
        say_one_of(words, phrase, text);
    else if (is_row(&phrase->terms))
        say_row(words, phrase, text);
    else if (is_suit_dragon(phrase))
        say_suit_dragon(words, phrase, text);
    else if (is_one_of_each(words, phrase))
        say_one_of_each(words, phrase, text);
    else if (phrase->terms.shape == NH_SINGLE && phrase->count > 1 && !differs_in_suit(phrase) &&
             !is_named(phrase_group(phrase, 0)))
        say_each_single(words, phrase, text);
    else if (phrase->terms.shape == NH_SINGLE)
        say_singles(words, phrase, text);
    else
        say_alike(words, phrase, text);
}

void say_groups(struct tile_words *words, const nh_groups *groups, struct text *text) {
    for (size_t i = 0; i < nh_groups_size(groups);) {
        struct phrase phrase = phrase_from(groups, i);
        text_add(text, i == 0 ? "" : ", ");
        phrase_room(words, text);
        say_phrase(words, &phrase, text);
        i += phrase.count;
    }
}

void say_alternative(struct tile_words *words, const nh_groups *groups, struct text *text) {
    size_t phrases = 0, said = 0;
    for (size_t i = 0; i < nh_groups_size(groups); phrases++)
        i += phrase_from(groups, i).count;
    for (size_t i = 0; i < nh_groups_size(groups); said++) {
        struct phrase phrase = phrase_from(groups, i);
        text_add(text, between(said, phrases, " and "));
        phrase_room(words, text);
        say_phrase(words, &phrase, text);
        i += phrase.count;
    }
}
