/* The rules of play of a list, for people: how tiles are passed, what may be claimed, and
 * what becomes of jokers on the table. */
#include "words/rules_words.h"
#include "io/flow.h"
#include "io/text.h"
#include "words/tile_words.h"

static void paragraph_end(struct flow *flow, struct text *text) {
    flow_words(flow, text->bytes);
    flow_end(flow);
    text_clear(text);
}

/* -------------------------------------------------------------- passing --- */

static void say_rounds(struct text *text, const nh_charleston *rules) {
    text_add_format(text, "Pass %d tile%s ", rules->tiles, plural(rules->tiles));
    for (int round = 0; round < rules->rounds; round++) {
        text_add(text, round == 0 ? "" : "; if all agree, ");
        for (int step = 0; step < rules->steps[round]; step++) {
            text_add(text, between((size_t)step, rules->steps[round], " and "));
            text_add(text, nh_direction_name(rules->direction[round][step]));
        }
    }
    text_add(text, ".");
}

/* "In the last pass of rounds 1 and 2 ..." */
static void say_blind(struct text *text, const nh_charleston *rules) {
    size_t count = 0, said = 0;
    for (int round = 0; round < rules->rounds; round++)
        count += rules->blind >> round & 1u;
    if (count == 0)
        return;
    text_add_format(text, " In the last pass of round%s ", plural(count));
    for (int round = 0; round < rules->rounds; round++)
        if ((rules->blind >> round & 1u) != 0)
            text_add_format(text, "%s%d", between(said++, count, " and "), round + 1);
    text_add(text, " incoming tiles may go on unseen.");
}

/* "Never pass flowers, jokers or EW." */
static void say_never_passed(struct text *text, const nh_list *list) {
    const nh_tiles *set = nh_list_set(list);
    nh_tiles others = {{0}};
    bool kept[NH_KINDS];
    char notation[NH_TILES_TEXT_SIZE];
    for (int kind = 0; kind < NH_KINDS; kind++) {
        kept[kind] = nh_list_charleston(list)->keep.count[kind] > 0 && set->count[kind] > 0;
        others.count[kind] = kind < NH_FLOWER && kept[kind];
    }
    nh_tiles_format(&others, NH_STYLE_LETTERS, notation, sizeof notation);
    const char *const words[] = {kept[NH_FLOWER] ? "flowers" : "", kept[NH_JOKER] ? "jokers" : "",
                                 notation};
    size_t count = 0, said = 0;
    for (int i = 0; i < 3; i++)
        count += words[i][0] != '\0';
    for (int i = 0; i < 3; i++)
        if (words[i][0] != '\0') {
            text_add(text, said == 0 ? " Never pass " : between(said, count, " or "));
            text_add(text, words[i]);
            said++;
        }
    text_add(text, count > 0 ? "." : "");
}

static void say_passing(const nh_list *list) {
    const nh_charleston *rules = nh_list_charleston(list);
    struct flow flow = {.indent = 0};
    struct text text;
    text_clear(&text);
    if (rules->rounds == 0)
        text_add(&text, rules->courtesy > 0 ? "No passes." : "No tiles are passed.");
    else
        say_rounds(&text, rules);
    if (rules->courtesy > 0)
        text_add_format(&text, " Then exchange up to %d with the player across.", rules->courtesy);
    say_blind(&text, rules);
    if (rules->rounds > 0 || rules->courtesy > 0)
        say_never_passed(&text, list);
    paragraph_end(&flow, &text);
}

/* --------------------------------------------------------------- claims --- */

/* Whether a set of `size` alike can be made at all. */
static bool can_be(const nh_list *list, int size) {
    const nh_tiles *set = nh_list_set(list);
    for (int kind = 0; kind < NH_JOKER; kind++)
        if (set->count[kind] > 0 && set->count[kind] + set->count[NH_JOKER] >= size)
            return true;
    return false;
}

static void say_claims(const nh_list *list) {
    const nh_play_rules *rules = nh_list_play(list);
    const struct {
        bool claimed;
        const char *word;
    } sets[] = {{rules->pung, "pung"},
                {rules->kong, "kong"},
                {rules->quint && can_be(list, NH_QUINT), "quint"},
                {rules->sextet && can_be(list, NH_SEXTET), "sextet"},
                {rules->chow && rules->chow_from_any, "chow"},
                {rules->chow && !rules->chow_from_any, "chow (only from your left)"}};
    const size_t all = sizeof sets / sizeof *sets;
    size_t count = 0, said = 0;
    struct flow flow = {.indent = 0};
    struct text text;
    text_clear(&text);
    for (size_t i = 0; i < all; i++)
        count += sets[i].claimed;
    text_add(&text,
             count > 0 ? "Claim a discard to win, or for a " : "Claim a discard only to win");
    for (size_t i = 0; i < all; i++)
        if (sets[i].claimed) {
            text_add(&text, between(said++, count, " or "));
            text_add(&text, sets[i].word);
        }
    text_add(&text, ".");
    if (rules->exchange && nh_list_set(list)->count[NH_JOKER] > 0)
        text_add(&text, " In your turn, take a joker from the table for the tile that it stands "
                        "for.");
    paragraph_end(&flow, &text);
}

void rules_words_out(const nh_list *list) {
    say_passing(list);
    say_claims(list);
}
